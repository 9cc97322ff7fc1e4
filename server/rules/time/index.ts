import type { Rule } from '../../core/rule.ts';
import mainsLightFlickers from './mains-light-flickers.ts';
import regionHasTwoMains from './region-has-two-mains.ts';
import shutterOffHalfFrame from './shutter-off-half-frame.ts';

export const timeRules: readonly Rule[] = [shutterOffHalfFrame, mainsLightFlickers, regionHasTwoMains];
