import type { Rule } from '../../core/rule.ts';
import licenceDoesNotCover from './licence-does-not-cover.ts';
import licenceExpired from './licence-expired.ts';
import licenceMissing from './licence-missing.ts';
import releaseMissing from './release-missing.ts';

export const rightsRules: readonly Rule[] = [licenceMissing, licenceExpired, licenceDoesNotCover, releaseMissing];
