import type { Rule } from '../../core/rule.ts';
import mainsLightFlickers from './mains-light-flickers.ts';
import rateForeignToRegion from './rate-foreign-to-region.ts';
import ratesDoNotConform from './rates-do-not-conform.ts';
import regionHasTwoMains from './region-has-two-mains.ts';
import shutterOffHalfFrame from './shutter-off-half-frame.ts';

export const timeRules: readonly Rule[] = [
  shutterOffHalfFrame,
  mainsLightFlickers,
  rateForeignToRegion,
  ratesDoNotConform,
  regionHasTwoMains,
];
