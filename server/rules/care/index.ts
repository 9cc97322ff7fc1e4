import type { Rule } from '../../core/rule.ts';
import flashesGeneral from './flashes-general.ts';
import flashesRed from './flashes-red.ts';

export const careRules: readonly Rule[] = [flashesGeneral, flashesRed];
