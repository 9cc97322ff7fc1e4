/** Parts of a product: on the face where they are, or standing out of it, with their letters as strokes. */
import { luminance } from '../../../calc/colour.ts';
import { addScaled } from '../../../calc/geometry.ts';
import type { Film, Part, Shot } from '../../film.ts';
import type { Box, Mm } from '../../units.ts';
import { cutOutOr } from './cut-out.ts';
import { type Body, bodyAreas, type Exposure, type FaceName, facesOfBody, patchArea } from './body.ts';
import { partMaterial } from './materials.ts';
import { grey, scaled } from './rgb.ts';
import type { LitArea } from './scene.ts';
import { cornersOf, type LitSet, type Panel } from './set.ts';

export interface Whole {
  readonly product: Body;
  /** The photograph that is seen of it. */
  readonly picture: string | undefined;
}

export function partAreas(
  set: LitSet,
  film: Film,
  shot: Shot,
  { product, picture }: Whole,
  exposure: Exposure,
): LitArea[] {
  const material = partMaterial(film);
  const parts = [...film.product.parts.values()].filter((part) => part.size);
  // What is filmed comes last: nothing stands before it.
  const isSubject = (part: Part) => (part.name === shot.subject.name ? 1 : 0);
  return parts
    .sort((a, b) => isSubject(a) - isSubject(b))
    .flatMap((part) => {
      const { body, side } = bodyOf(part, { ...product, material });
      const stands = isSubject(part) || !liesWithin(part.size!.value, product.box) || isAbove(body, product);
      const areas =
        body && stands
          ? standing(set, film, part, { body, side }, exposure)
          : onFace(set, film, part, { ...product, material }, exposure);
      // A photograph of the whole shows its parts.
      const isShown = picture !== undefined && !part.picture && liesWithin(part.size!.value, product.box);
      return isShown ? areas.map((area) => ({ ...area, unless: picture })) : areas;
    });
}

/** The part as a thing of its own: what lies higher than the product stands on it. A flat one is none. */
function bodyOf(part: Part, product: Body): { body?: Body; side: FaceName } {
  const box = part.size!.value;
  const side = part.faces ?? 'front';
  if (!box.depthMm) return { side };
  const y = part.heightMm ?? product.middle.y;
  const body: Body = { ...product, kind: 'part', middle: { ...product.middle, y }, box, isRound: false };
  const over = y + box.heightMm / 2 - topOf(product);
  if (over <= 0.5 || !liesWithin(box, product.box)) return { body, side };
  const out = { ...box, heightMm: Math.min(box.heightMm, over) };
  const middle = { ...product.middle, y: topOf(product) + out.heightMm / 2 };
  return { body: { ...body, box: out, middle }, side: 'up' };
}

function isAbove(body: Body | undefined, product: Body): boolean {
  return body !== undefined && body.middle.y > topOf(product);
}

function topOf({ middle, box }: Body): Mm {
  return middle.y + box.heightMm / 2;
}

function liesWithin(box: Box, whole: Box): boolean {
  return box.widthMm <= whole.widthMm && (box.depthMm ?? 0) <= (whole.depthMm ?? Infinity);
}

interface Standing {
  readonly body: Body;
  readonly side: FaceName;
}

function standing(
  set: LitSet,
  film: Film,
  part: Part,
  { body, side }: Standing,
  exposure: Exposure,
): readonly LitArea[] {
  const face = facesOfBody(body).get(side)!;
  const plain = [...bodyAreas(set, body, exposure), ...lettersOn(set, part, lifted(face), body, exposure)];
  const on = { kind: 'part', picture: part.picture?.value, face, body, stands: true } as const;
  return cutOutOr(set, film, on, exposure, plain);
}

/** A part that lies in or on its product shows on the face that it belongs to. */
function onFace(set: LitSet, film: Film, part: Part, product: Body, exposure: Exposure): readonly LitArea[] {
  const box = part.size!.value;
  const face = facesOfBody(product).get(part.faces ?? 'front')!;
  const isTop = part.faces === 'up';
  const rise = isTop ? 0 : (part.heightMm ?? product.middle.y) - product.middle.y;
  const flat = lifted(face);
  const patch: Panel = {
    ...flat,
    middle: addScaled(flat.middle, face.up, rise),
    halfAcrossMm: Math.min(face.halfAcrossMm, box.widthMm / 2),
    halfUpMm: Math.min(face.halfUpMm, (isTop ? (box.depthMm ?? box.heightMm) : box.heightMm) / 2),
  };
  const within = set.camera.outline(cornersOf(face));
  const plain = [
    ...patchArea(set, 'part', { patch, within, body: product }, exposure),
    ...lettersOn(set, part, patch, product, exposure),
  ];
  const on = { kind: 'part', picture: part.picture?.value, face: patch, body: product, stands: false } as const;
  return cutOutOr(set, film, on, exposure, plain);
}

/** A hair before its face. */
function lifted(face: Panel): Panel {
  return { ...face, middle: addScaled(face.middle, face.normal, 0.1) };
}

const mostStrokes = 14;

/** A line of strokes as high as its letters: nobody knows the words, but one sees whether they can be read. */
function lettersOn(set: LitSet, part: Part, patch: Panel, body: Body, exposure: Exposure): LitArea[] {
  const high = part.letters?.value;
  if (!high || high > 2 * patch.halfUpMm) return [];
  const [wide, gap] = [high * 0.45, high * 0.3];
  const count = Math.min(mostStrokes, Math.floor((patch.halfAcrossMm * 1.7 + gap) / (wide + gap)));
  const within = set.camera.outline(cornersOf(patch));
  const { diffuse } = patch.material;
  const ink = luminance(diffuse) > 0.2 ? scaled(diffuse, 0.12) : grey(0.75);
  const stroke: Panel = {
    ...patch,
    halfAcrossMm: wide / 2,
    halfUpMm: high / 2,
    material: { ...patch.material, diffuse: ink },
  };
  return Array.from({ length: Math.max(0, count) }, (_, index) => {
    const aside = (index - (count - 1) / 2) * (wide + gap);
    const placed = { ...stroke, middle: addScaled(patch.middle, patch.across, aside) };
    return patchArea(set, 'letters', { patch: placed, within, body }, exposure);
  }).flat();
}
