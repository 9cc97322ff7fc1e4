import type { Rule } from '../../core/rule.ts';

export const movementRules: readonly Rule[] = [];
