import type { Rule } from '../../core/rule.ts';
import batteryHazard from './battery-hazard.ts';
import brightSourceHazard from './bright-source-hazard.ts';
import circuitOverloaded from './circuit-overloaded.ts';
import darkRoomHazard from './dark-room-hazard.ts';
import flammableNearIgnition from './flammable-near-ignition.ts';
import flashesGeneral from './flashes-general.ts';
import flashesOnSet from './flashes-on-set.ts';
import flashesRed from './flashes-red.ts';
import heatTooNear from './heat-too-near.ts';
import laserHazard from './laser-hazard.ts';
import liquidNearMains from './liquid-near-mains.ts';
import masterFlashes from './master-flashes.ts';
import openFlame from './open-flame.ts';
import overheadWithoutBond from './overhead-without-bond.ts';
import reelLeftWound from './reel-left-wound.ts';
import supportOverloaded from './support-overloaded.ts';
import turntableHazard from './turntable-hazard.ts';

export const careRules: readonly Rule[] = [
  flashesGeneral,
  flashesRed,
  flashesOnSet,
  circuitOverloaded,
  reelLeftWound,
  heatTooNear,
  flammableNearIgnition,
  masterFlashes,
  openFlame,
  liquidNearMains,
  turntableHazard,
  overheadWithoutBond,
  supportOverloaded,
  darkRoomHazard,
  batteryHazard,
  laserHazard,
  brightSourceHazard,
];
