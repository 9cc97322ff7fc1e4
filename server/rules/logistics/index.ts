import type { Rule } from '../../core/rule.ts';

export const logisticsRules: readonly Rule[] = [];
