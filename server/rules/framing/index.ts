import type { Rule } from '../../core/rule.ts';

export const framingRules: readonly Rule[] = [];
