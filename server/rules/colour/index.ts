import type { Rule } from '../../core/rule.ts';
import colourChainBroken from './colour-chain-broken.ts';
import toneStepsTooCoarse from './tone-steps-too-coarse.ts';
import whiteBalanceOffLamp from './white-balance-off-lamp.ts';

export const colourRules: readonly Rule[] = [whiteBalanceOffLamp, toneStepsTooCoarse, colourChainBroken];
