import type { Rule } from '../../core/rule.ts';
import codecLevelExceeded from './codec-level-exceeded.ts';
import keptSoundNotRecorded from './kept-sound-not-recorded.ts';
import loudnessOffTarget from './loudness-off-target.ts';
import machineNoiseInTake from './machine-noise-in-take.ts';
import speedShiftsPitch from './speed-shifts-pitch.ts';
import truePeakTooHigh from './true-peak-too-high.ts';

export const deliveryRules: readonly Rule[] = [
  loudnessOffTarget,
  truePeakTooHigh,
  speedShiftsPitch,
  keptSoundNotRecorded,
  machineNoiseInTake,
  codecLevelExceeded,
];
