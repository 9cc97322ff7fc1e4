import type { Rule } from '../../core/rule.ts';

export const cutRules: readonly Rule[] = [];
