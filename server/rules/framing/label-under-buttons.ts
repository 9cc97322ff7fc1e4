import { addScaled, fromCamera, lengthOf, subtract, type Vec3 } from '../../calc/geometry.ts';
import { lookingWay } from '../../core/derived/face-seen.ts';
import { productPlace } from '../../core/derived/optics.ts';
import { type Look, looksOf, showingsOf } from '../../core/derived/showings.ts';
import type { Deliverable, Film, Part, Shot } from '../../core/film.ts';
import { defineRule } from '../../core/rule.ts';
import { percentText, quoted } from '../../core/say.ts';
import type { Share } from '../../core/units.ts';

export default defineRule({
  id: 'label-under-buttons',
  family: 'framing',
  summary: 'Letters on the product lie under the buttons of the player in all that a deliverable shows of them.',
  severity: 'warning',
  sources: ['perspective'],
  messages: {
    under:
      'The letters of {part} lie {from} from the {edge} edge of {deliverable}, in {shot}, where the player covers {covered} with its own buttons and words. Film them higher or lower in the picture, as the subject of a shot, or repeat the words as a title.',
  },
  film(film, { report }) {
    for (const part of film.product.parts.values()) {
      if (!part.letters) continue;
      for (const deliverable of film.deliverables.values()) {
        const best = leastCovered(film, part, deliverable);
        if (!best || best.depth <= 0) continue;
        report({
          message: 'under',
          data: {
            part: quoted(part.name),
            from: percentText(best.from),
            edge: best.edge === 'top' ? 'upper' : 'lower',
            deliverable: quoted(deliverable.name),
            shot: best.shot.name,
            covered: percentText(deliverable.keepClear[best.edge]),
          },
          at: part.letters,
          excess: best.depth,
          cause: part.letters,
          shot: best.shot,
        });
      }
    }
  },
});

interface Covered {
  readonly shot: Shot;
  readonly edge: 'top' | 'bottom';
  /** From that edge to the middle of the letters, as a share of the picture's height. */
  readonly from: Share;
  /** How far that is inside what the player covers; 0 or less: it is free. */
  readonly depth: Share;
}

/** Where they are covered least of all that shows them; undefined where nothing is covered, or nothing shows them. */
function leastCovered(film: Film, part: Part, deliverable: Deliverable): Covered | undefined {
  const { top, bottom } = deliverable.keepClear;
  if (top <= 0 && bottom <= 0) return undefined;
  let least: Covered | undefined;
  for (const shot of film.shots.values()) {
    if (!shot.shows.some((shown) => shown.value === part.name)) continue;
    const showings = showingsOf(shot, film).filter((one) => one.piece && one.deliverables.includes(deliverable));
    for (const look of looksOf(showings)) {
      const up = heightIn(look, film, part);
      if (up === undefined) continue;
      const [below, above] = [bottom - up, top - (1 - up)];
      const one: Covered =
        below > above
          ? { shot, edge: 'bottom', from: up, depth: below }
          : { shot, edge: 'top', from: 1 - up, depth: above };
      if (!least || one.depth < least.depth) least = one;
    }
  }
  return least;
}

/** How high in the picture their middle lies: 0 at its lower edge, 1 at its upper one; undefined outside it. */
function heightIn({ showing: { shot }, view, pose, turn }: Look, film: Film, part: Part): Share | undefined {
  if (!view.edges) return undefined;
  const { up, along } = fromCamera(pose, faceOf(shot, film, part, { turn, lens: pose.at }));
  if (along <= 0) return undefined;
  const { bottom, top } = view.edges;
  const share = (up / along - bottom) / (top - bottom);
  return share >= 0 && share <= 1 ? share : undefined;
}

/** The middle of the part's face: how far to the side it sits on the product is not known, and does not count here. */
function faceOf(shot: Shot, { product }: Film, part: Part, { turn, lens }: { turn: number; lens: Vec3 }): Vec3 {
  const middle = productPlace(shot);
  const place = { ...middle, y: part.heightMm ?? middle.y };
  if (part.faces === 'up') return place;
  const isSide = part.faces === 'left' || part.faces === 'right';
  const reach = (isSide ? product.size?.value.widthMm : product.size?.value.depthMm) ?? 0;
  const toward = { ...subtract(lens, place), y: 0 };
  const [outward, length] = part.faces ? [lookingWay(part.faces, turn), 1] : [toward, lengthOf(toward) || 1];
  return addScaled(place, outward, reach / 2 / length);
}
