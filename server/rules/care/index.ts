import type { Rule } from '../../core/rule.ts';

export const careRules: readonly Rule[] = [];
