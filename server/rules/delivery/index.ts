import type { Rule } from '../../core/rule.ts';

export const deliveryRules: readonly Rule[] = [];
