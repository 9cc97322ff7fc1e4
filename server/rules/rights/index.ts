import type { Rule } from '../../core/rule.ts';
import licenceMissing from './licence-missing.ts';

export const rightsRules: readonly Rule[] = [licenceMissing];
