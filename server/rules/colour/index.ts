import type { Rule } from '../../core/rule.ts';
import colourChainBroken from './colour-chain-broken.ts';
import colourRenderingPoor from './colour-rendering-poor.ts';
import daylightDrifts from './daylight-drifts.ts';
import lampTintOff from './lamp-tint-off.ts';
import mixedLight from './mixed-light.ts';
import toneStepsTooCoarse from './tone-steps-too-coarse.ts';
import whiteBalanceOffLamp from './white-balance-off-lamp.ts';

export const colourRules: readonly Rule[] = [
  whiteBalanceOffLamp,
  mixedLight,
  lampTintOff,
  colourRenderingPoor,
  toneStepsTooCoarse,
  colourChainBroken,
  daylightDrifts,
];
