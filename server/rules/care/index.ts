import type { Rule } from '../../core/rule.ts';
import circuitOverloaded from './circuit-overloaded.ts';
import flammableNearIgnition from './flammable-near-ignition.ts';
import flashesGeneral from './flashes-general.ts';
import flashesRed from './flashes-red.ts';
import glassOnTurntable from './glass-on-turntable.ts';
import heatTooNear from './heat-too-near.ts';
import liquidNearMains from './liquid-near-mains.ts';
import reelLeftWound from './reel-left-wound.ts';

export const careRules: readonly Rule[] = [
  flashesGeneral,
  flashesRed,
  circuitOverloaded,
  reelLeftWound,
  heatTooNear,
  flammableNearIgnition,
  liquidNearMains,
  glassOnTurntable,
];
