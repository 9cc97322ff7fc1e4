import type { Rule } from '../../core/rule.ts';

export const rightsRules: readonly Rule[] = [];
