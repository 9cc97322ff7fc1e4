import type { Rule } from '../../core/rule.ts';
import edgesEmpty from './edges-empty.ts';
import heightBeyondDistance from './height-beyond-distance.ts';
import labelTooSmallToRead from './label-too-small-to-read.ts';
import labelUnderButtons from './label-under-buttons.ts';
import lettersMirrored from './letters-mirrored.ts';
import mountedUpsideDown from './mounted-upside-down.ts';
import productOutsideCrop from './product-outside-crop.ts';
import productOverhangsSurface from './product-overhangs-surface.ts';
import productSmallInFrame from './product-small-in-frame.ts';
import shownPartOutside from './shown-part-outside.ts';
import zoomOutrunsRaster from './zoom-outruns-raster.ts';

export const framingRules: readonly Rule[] = [
  zoomOutrunsRaster,
  edgesEmpty,
  productOutsideCrop,
  shownPartOutside,
  productSmallInFrame,
  labelTooSmallToRead,
  labelUnderButtons,
  mountedUpsideDown,
  lettersMirrored,
  productOverhangsSurface,
  heightBeyondDistance,
];
