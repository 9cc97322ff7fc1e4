import { addScaled, fromCamera, lengthOf, subtract, type Vec3 } from '../../calc/geometry.ts';
import { lookingWay } from '../../core/derived/face-seen.ts';
import { productPlace, subjectPlace } from '../../core/derived/optics.ts';
import { placesOf } from '../../core/derived/part-seen.ts';
import { type Look, looksOf, showingsOf } from '../../core/derived/showings.ts';
import type { Deliverable, Film, Part, Shot } from '../../core/film.ts';
import { defineRule } from '../../core/rule.ts';
import { percentText, quoted } from '../../core/say.ts';
import type { Share } from '../../core/units.ts';

export default defineRule({
  id: 'label-under-buttons',
  family: 'framing',
  summary:
    'Letters on the product, or a part that must be shown, lie under the buttons of the player in all that a deliverable shows of them.',
  severity: 'warning',
  sources: ['perspective'],
  messages: {
    under:
      'The letters of {part} lie {from} from the {edge} edge of {deliverable}, in {shot}, where the player covers {covered} with its own buttons and words. Film them higher or lower in the picture, as the subject of a shot, or repeat the words as a title.',
    part: '{part} must be shown, and its middle lies at most {from} from the {edge} edge of {deliverable}, in {shot}, where the player covers {covered} with its own buttons and words. Film it higher or lower in the picture, or as the subject of a shot.',
  },
  film(film, { report }) {
    for (const part of film.product.parts.values()) {
      const wanted = film.brief?.mustShow.find(({ value }) => value === part.name);
      // Where a part lies counts as said only of one whose height is.
      const at = part.letters ?? (part.heightMm === undefined ? undefined : wanted);
      if (!at) continue;
      for (const deliverable of film.deliverables.values()) {
        if (!part.letters && deliverable.needNotShow.some(({ value }) => value === part.name)) continue;
        const best = leastCovered(film, part, deliverable);
        if (!best || best.depth <= 0) continue;
        report({
          message: part.letters ? 'under' : 'part',
          ...(!part.letters && { severity: 'info' as const }),
          data: {
            part: quoted(part.name),
            from: percentText(best.from),
            edge: best.edge === 'top' ? 'upper' : 'lower',
            deliverable: quoted(deliverable.name),
            shot: best.shot.name,
            covered: percentText(deliverable.keepClear[best.edge]),
          },
          at,
          excess: best.depth,
          cause: at,
          shot: best.shot,
        });
      }
    }
  },
});

interface Covered {
  readonly shot: Shot;
  readonly edge: 'top' | 'bottom';
  /** From that edge to the middle of the letters or the part, as a share of the picture's height. */
  readonly from: Share;
  /** How far that is inside what the player covers; 0 or less: it is free. */
  readonly depth: Share;
}

/** Where they are covered least of all that shows them; undefined where nothing is covered, or nothing shows them. */
function leastCovered(film: Film, part: Part, deliverable: Deliverable): Covered | undefined {
  const { top, bottom } = deliverable.keepClear;
  if (top <= 0 && bottom <= 0) return undefined;
  const covered = [...film.shots.values()]
    .filter((shot) => shot.shows.some((shown) => shown.value === part.name))
    .flatMap((shot) =>
      heightsIn(shot, film, part, deliverable).map((up): Covered => {
        const [below, above] = [bottom - up, top - (1 - up)];
        return below > above
          ? { shot, edge: 'bottom', from: up, depth: below }
          : { shot, edge: 'top', from: 1 - up, depth: above };
      }),
    );
  return covered.reduce<Covered | undefined>(
    (least, one) => (least && least.depth <= one.depth ? least : one),
    undefined,
  );
}

/** How high in the picture its middle may lie whenever a deliverable shows the shot. */
function heightsIn(shot: Shot, film: Film, part: Part, deliverable: Deliverable): Share[] {
  const showings = showingsOf(shot, film).filter((one) => one.piece && one.deliverables.includes(deliverable));
  return looksOf(showings).flatMap((look) =>
    middlesOf(look, film, part).flatMap((place) => heightIn(look, place) ?? []),
  );
}

/** What the camera aims at is there; letters are on a face, and a part of which no face is said may be anywhere in the product. */
function middlesOf(look: Look, film: Film, part: Part): Vec3[] {
  const { showing, pose, turn } = look;
  if (showing.shot.subject.name === part.name) return [subjectPlace(showing.shot)];
  if (part.letters || part.faces) return [faceOf(showing.shot, film, part, { turn, lens: pose.at })];
  return placesOf(part, film, look).map((place) => ({ ...place, y: part.heightMm! }));
}

/** How high in the picture a place lies: 0 at its lower edge, 1 at its upper one; undefined outside it. */
function heightIn({ view, pose }: Look, place: Vec3): Share | undefined {
  if (!view.edges) return undefined;
  const { up, along } = fromCamera(pose, place);
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
