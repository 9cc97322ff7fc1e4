import type { Rule } from '../../core/rule.ts';
import backdropEdgeInShot from './backdrop-edge-in-shot.ts';
import backdropEdgeMirrored from './backdrop-edge-mirrored.ts';
import backdropInProduct from './backdrop-in-product.ts';
import backdropTooSharp from './backdrop-too-sharp.ts';
import cameraMirrored from './camera-mirrored.ts';
import depthOfFieldShort from './depth-of-field-short.ts';
import diffractionSoft from './diffraction-soft.ts';
import doubledReflection from './doubled-reflection.ts';
import focusLeavesProduct from './focus-leaves-product.ts';
import lampBehindBackdrop from './lamp-behind-backdrop.ts';
import lampInSurface from './lamp-in-surface.ts';
import lampInShot from './lamp-in-shot.ts';
import lampMirrored from './lamp-mirrored.ts';
import nearerThanLensFocuses from './nearer-than-lens-focuses.ts';
import productWithoutDepth from './product-without-depth.ts';
import screenMoire from './screen-moire.ts';
import stabiliserOnLockedCamera from './stabiliser-on-locked-camera.ts';
import tooNearForShape from './too-near-for-shape.ts';
import twoInOnePlace from './two-in-one-place.ts';
import weaveMoire from './weave-moire.ts';

export const opticsRules: readonly Rule[] = [
  depthOfFieldShort,
  nearerThanLensFocuses,
  focusLeavesProduct,
  backdropTooSharp,
  screenMoire,
  diffractionSoft,
  backdropEdgeInShot,
  backdropInProduct,
  tooNearForShape,
  stabiliserOnLockedCamera,
  lampInShot,
  lampInSurface,
  lampBehindBackdrop,
  cameraMirrored,
  lampMirrored,
  backdropEdgeMirrored,
  doubledReflection,
  productWithoutDepth,
  twoInOnePlace,
  weaveMoire,
];
