import type { Rule } from '../../core/rule.ts';

export const opticsRules: readonly Rule[] = [];
