import type { Rule } from '../../core/rule.ts';
import bitrateStarved from './bitrate-starved.ts';
import codecLevelExceeded from './codec-level-exceeded.ts';
import dropFrameMisused from './drop-frame-misused.ts';
import fileTooBig from './file-too-big.ts';
import formatUnplayable from './format-unplayable.ts';
import keepClearLeavesNothing from './keep-clear-leaves-nothing.ts';
import keptSoundNotRecorded from './kept-sound-not-recorded.ts';
import loudnessOffTarget from './loudness-off-target.ts';
import machineNoiseInTake from './machine-noise-in-take.ts';
import oddDimensions from './odd-dimensions.ts';
import previewUnusable from './preview-unusable.ts';
import speedShiftsPitch from './speed-shifts-pitch.ts';
import truePeakTooHigh from './true-peak-too-high.ts';

export const deliveryRules: readonly Rule[] = [
  loudnessOffTarget,
  truePeakTooHigh,
  speedShiftsPitch,
  keptSoundNotRecorded,
  machineNoiseInTake,
  codecLevelExceeded,
  bitrateStarved,
  fileTooBig,
  formatUnplayable,
  dropFrameMisused,
  oddDimensions,
  keepClearLeavesNothing,
  previewUnusable,
];
