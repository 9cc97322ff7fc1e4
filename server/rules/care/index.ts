import type { Rule } from '../../core/rule.ts';
import circuitOverloaded from './circuit-overloaded.ts';
import flashesGeneral from './flashes-general.ts';
import flashesRed from './flashes-red.ts';
import reelLeftWound from './reel-left-wound.ts';

export const careRules: readonly Rule[] = [flashesGeneral, flashesRed, circuitOverloaded, reelLeftWound];
