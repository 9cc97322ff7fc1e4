import type { Rule } from '../../core/rule.ts';
import backdropToneOff from './backdrop-tone-off.ts';
import backdropUneven from './backdrop-uneven.ts';
import colouredLightClips from './coloured-light-clips.ts';
import exposureJumpsAtCut from './exposure-jumps-at-cut.ts';
import exposureLeansOneWay from './exposure-leans-one-way.ts';
import exposureOff from './exposure-off.ts';
import isoOffBase from './iso-off-base.ts';
import lampRatioOff from './lamp-ratio-off.ts';
import lightUnevenAcrossProduct from './light-uneven-across-product.ts';
import polariserWorksAgainstShot from './polariser-works-against-shot.ts';
import screenToneOff from './screen-tone-off.ts';
import settingLeftAutomatic from './setting-left-automatic.ts';

export const exposureRules: readonly Rule[] = [
  exposureOff,
  exposureJumpsAtCut,
  exposureLeansOneWay,
  settingLeftAutomatic,
  isoOffBase,
  lightUnevenAcrossProduct,
  lampRatioOff,
  backdropToneOff,
  backdropUneven,
  screenToneOff,
  colouredLightClips,
  polariserWorksAgainstShot,
];
