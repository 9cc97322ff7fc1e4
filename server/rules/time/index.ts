import type { Rule } from '../../core/rule.ts';
import mainsLightFlickers from './mains-light-flickers.ts';
import pulsedLightBands from './pulsed-light-bands.ts';
import rateForeignToRegion from './rate-foreign-to-region.ts';
import ratesDoNotConform from './rates-do-not-conform.ts';
import regionHasTwoMains from './region-has-two-mains.ts';
import screenOutOfStep from './screen-out-of-step.ts';
import shutterOffHalfFrame from './shutter-off-half-frame.ts';
import slowMotionLacksFrames from './slow-motion-lacks-frames.ts';

export const timeRules: readonly Rule[] = [
  shutterOffHalfFrame,
  mainsLightFlickers,
  pulsedLightBands,
  screenOutOfStep,
  rateForeignToRegion,
  slowMotionLacksFrames,
  ratesDoNotConform,
  regionHasTwoMains,
];
