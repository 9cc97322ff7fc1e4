import type { Rule } from '../../core/rule.ts';
import batteryRunsOut from './battery-runs-out.ts';
import cardsTooSmall from './cards-too-small.ts';
import changedSinceAgreed from './changed-since-agreed.ts';
import dayTooLong from './day-too-long.ts';
import daylightGone from './daylight-gone.ts';
import daysOutOfOrder from './days-out-of-order.ts';
import dueBeforeShoot from './due-before-shoot.ts';
import filmedTooEarly from './filmed-too-early.ts';
import gearDoesNotFit from './gear-does-not-fit.ts';
import gearUsedTwice from './gear-used-twice.ts';
import productLeavesTooEarly from './product-leaves-too-early.ts';
import setUpOrderWasteful from './set-up-order-wasteful.ts';
import settingNotInKit from './setting-not-in-kit.ts';
import takesUseUpStock from './takes-use-up-stock.ts';

export const logisticsRules: readonly Rule[] = [
  settingNotInKit,
  gearUsedTwice,
  gearDoesNotFit,
  setUpOrderWasteful,
  cardsTooSmall,
  batteryRunsOut,
  dayTooLong,
  productLeavesTooEarly,
  dueBeforeShoot,
  changedSinceAgreed,
  daylightGone,
  daysOutOfOrder,
  filmedTooEarly,
  takesUseUpStock,
];
