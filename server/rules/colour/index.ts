import type { Rule } from '../../core/rule.ts';

export const colourRules: readonly Rule[] = [];
