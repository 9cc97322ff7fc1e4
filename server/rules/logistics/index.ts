import type { Rule } from '../../core/rule.ts';
import gearDoesNotFit from './gear-does-not-fit.ts';
import gearUsedTwice from './gear-used-twice.ts';
import settingNotInKit from './setting-not-in-kit.ts';

export const logisticsRules: readonly Rule[] = [settingNotInKit, gearUsedTwice, gearDoesNotFit];
