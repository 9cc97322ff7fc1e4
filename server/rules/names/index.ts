import type { Rule } from '../../core/rule.ts';

export const namesRules: readonly Rule[] = [];
