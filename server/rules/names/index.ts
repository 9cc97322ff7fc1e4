import type { Rule } from '../../core/rule.ts';
import fileNotThere from './file-not-there.ts';
import gearToChoose from './gear-to-choose.ts';
import goesInACircle from './goes-in-a-circle.ts';
import goesTheLongWay from './goes-the-long-way.ts';
import lampMovesOnStand from './lamp-moves-on-stand.ts';
import nameNotDefined from './name-not-defined.ts';
import nameNothingShows from './name-nothing-shows.ts';
import neverUsed from './never-used.ts';
import turnSaidTwice from './turn-said-twice.ts';

export const namesRules: readonly Rule[] = [
  nameNotDefined,
  gearToChoose,
  goesInACircle,
  goesTheLongWay,
  lampMovesOnStand,
  turnSaidTwice,
  nameNothingShows,
  neverUsed,
  fileNotThere,
];
