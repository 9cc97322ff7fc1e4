import type { Rule } from '../../core/rule.ts';
import clipNotFound from './clip-not-found.ts';
import clipNotWhole from './clip-not-whole.ts';
import clipUsedTwice from './clip-used-twice.ts';
import framesRepeat from './frames-repeat.ts';
import lampGivesOtherwise from './lamp-gives-otherwise.ts';
import lightPulses from './light-pulses.ts';
import masterCodecOff from './master-codec-off.ts';
import masterCutsMoved from './master-cuts-moved.ts';
import masterEndsEmpty from './master-ends-empty.ts';
import masterHasBars from './master-has-bars.ts';
import masterIndexAtEnd from './master-index-at-end.ts';
import masterLoudnessOff from './master-loudness-off.ts';
import masterPictureOff from './master-picture-off.ts';
import masterSoundOff from './master-sound-off.ts';
import masterTooLarge from './master-too-large.ts';
import mustShowNotShot from './must-show-not-shot.ts';
import nameNotInSpec from './name-not-in-spec.ts';
import noGoodTake from './no-good-take.ts';
import noSoundRecorded from './no-sound-recorded.ts';
import notDecoded from './not-decoded.ts';
import pictureClipped from './picture-clipped.ts';
import pieceNotInCut from './piece-not-in-cut.ts';
import recordedAnotherDay from './recorded-another-day.ts';
import recordedCodecOff from './recorded-codec-off.ts';
import recordedColourOff from './recorded-colour-off.ts';
import recordedInterlaced from './recorded-interlaced.ts';
import recordedRateOff from './recorded-rate-off.ts';
import recordedRateVaries from './recorded-rate-varies.ts';
import recordedTooSmall from './recorded-too-small.ts';
import recordedTurned from './recorded-turned.ts';
import recordingsOverlap from './recordings-overlap.ts';
import soundApartOff from './sound-apart-off.ts';
import stillToBeShot from './still-to-be-shot.ts';
import takeSoundSpoilt from './take-sound-spoilt.ts';
import takeTooShort from './take-too-short.ts';
import takesDoNotMatch from './takes-do-not-match.ts';
import timeOutsidePart from './time-outside-part.ts';
import twoBestTakes from './two-best-takes.ts';

export const takesRules: readonly Rule[] = [
  clipNotFound,
  clipNotWhole,
  clipUsedTwice,
  framesRepeat,
  lampGivesOtherwise,
  lightPulses,
  masterCodecOff,
  masterCutsMoved,
  masterEndsEmpty,
  masterHasBars,
  masterIndexAtEnd,
  masterLoudnessOff,
  masterPictureOff,
  masterSoundOff,
  masterTooLarge,
  mustShowNotShot,
  nameNotInSpec,
  noGoodTake,
  noSoundRecorded,
  notDecoded,
  pictureClipped,
  pieceNotInCut,
  recordedAnotherDay,
  recordedCodecOff,
  recordedColourOff,
  recordedInterlaced,
  recordedRateOff,
  recordedRateVaries,
  recordedTooSmall,
  recordedTurned,
  recordingsOverlap,
  soundApartOff,
  stillToBeShot,
  takeSoundSpoilt,
  takeTooShort,
  takesDoNotMatch,
  timeOutsidePart,
  twoBestTakes,
];
