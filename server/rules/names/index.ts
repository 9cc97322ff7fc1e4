import type { Rule } from '../../core/rule.ts';
import nameNotDefined from './name-not-defined.ts';

export const namesRules: readonly Rule[] = [nameNotDefined];
