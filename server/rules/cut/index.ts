import type { Rule } from '../../core/rule.ts';
import actionCutShort from './action-cut-short.ts';
import cutJars from './cut-jars.ts';
import cutOffBeat from './cut-off-beat.ts';
import fadeOverrunsShot from './fade-overruns-shot.ts';
import lengthOff from './length-off.ts';
import musicNotAsHeard from './music-not-as-heard.ts';
import musicTooShort from './music-too-short.ts';
import mustNotShowSeen from './must-not-show-seen.ts';
import mustShowMissing from './must-show-missing.ts';
import pullStopsShort from './pull-stops-short.ts';
import recordingTooShort from './recording-too-short.ts';
import soundDrownsMusic from './sound-drowns-music.ts';
import soundOutlastsFilm from './sound-outlasts-film.ts';
import titleLowContrast from './title-low-contrast.ts';
import titleOutsideSafeArea from './title-outside-safe-area.ts';
import titleOverProduct from './title-over-product.ts';
import titleTimeClash from './title-time-clash.ts';
import titleTooBrief from './title-too-brief.ts';
import titleTooSmall from './title-too-small.ts';
import voiceTooFast from './voice-too-fast.ts';
import voicesOverlap from './voices-overlap.ts';
import voiceUnderMusic from './voice-under-music.ts';

export const cutRules: readonly Rule[] = [
  musicNotAsHeard,
  cutOffBeat,
  lengthOff,
  pullStopsShort,
  actionCutShort,
  recordingTooShort,
  fadeOverrunsShot,
  mustShowMissing,
  mustNotShowSeen,
  titleTooBrief,
  titleLowContrast,
  titleTooSmall,
  titleOutsideSafeArea,
  titleOverProduct,
  titleTimeClash,
  musicTooShort,
  soundOutlastsFilm,
  soundDrownsMusic,
  cutJars,
  voiceUnderMusic,
  voiceTooFast,
  voicesOverlap,
];
