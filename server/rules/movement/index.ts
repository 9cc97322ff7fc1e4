import type { Rule } from '../../core/rule.ts';
import actionTooFast from './action-too-fast.ts';
import moveBeyondKit from './move-beyond-kit.ts';
import moveJudders from './move-judders.ts';
import movingDetailSmears from './moving-detail-smears.ts';
import splashNotFrozen from './splash-not-frozen.ts';
import turnMissesAngle from './turn-misses-angle.ts';

export const movementRules: readonly Rule[] = [
  movingDetailSmears,
  moveJudders,
  turnMissesAngle,
  moveBeyondKit,
  splashNotFrozen,
  actionTooFast,
];
