import type { Rule } from '../../core/rule.ts';

export const exposureRules: readonly Rule[] = [];
