import type { Rule } from '../../core/rule.ts';
import gearDoesNotFit from './gear-does-not-fit.ts';
import gearUsedTwice from './gear-used-twice.ts';
import setUpOrderWasteful from './set-up-order-wasteful.ts';
import settingNotInKit from './setting-not-in-kit.ts';

export const logisticsRules: readonly Rule[] = [settingNotInKit, gearUsedTwice, gearDoesNotFit, setUpOrderWasteful];
