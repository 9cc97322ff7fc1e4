/** How high letters on the product come out in each deliverable. */
import { angleBetweenDeg, directionOf, lengthOf, subtract, type Vec3 } from '../../calc/geometry.ts';
import type { Deliverable, Facing, Film, Part, Shot } from '../film.ts';
import { lookingWay } from './face-seen.ts';
import type { Degrees, Share } from '../units.ts';
import { pxPerMmAt } from './framing.ts';
import { cameraPose, subjectPlace } from './optics.ts';
import { type Showing, showingsOf } from './showings.ts';

export interface LettersAtBest {
  readonly shot: Shot;
  readonly pixels: number;
}

/** The shot that shows the part's letters largest in a deliverable; undefined where none shows it, or one can't be computed. */
export function lettersAtBest(film: Film, part: Part, deliverable: Deliverable): LettersAtBest | undefined {
  let best: LettersAtBest | undefined;
  for (const shot of film.shots.values()) {
    for (const read of lettersReadIn(shot, part, film)) {
      const pixels = lettersPxIn(film, shot, read, deliverable);
      if (pixels === 'unknown') return undefined;
      if (pixels !== undefined && pixels > (best?.pixels ?? -1)) best = { shot, pixels };
    }
  }
  return best;
}

/**
 * The parts as which a shot lets the letters of one be read: itself, where the shot shows it or looks at a part around it, and
 * a part that lies within it and has letters no higher: a page on a screen is read in a shot of the page.
 */
function lettersReadIn({ shows, subject }: Shot, part: Part, { product }: Film): Part[] {
  const shown = shows.flatMap(({ value }) => product.parts.get(value) ?? []);
  const around = product.parts.get(subject.name);
  const isShown = shown.some(({ name }) => name === part.name) || (around !== undefined && liesWithin(part, around));
  const inner = shown.filter((one) => {
    return one !== part && one.letters && one.letters.value <= part.letters!.value && liesWithin(one, part);
  });
  return isShown ? [part, ...inner] : inner;
}

/**
 * Is there a shot in which its letters are to be read? One that shows it; but fine print on a part that has letters of its own,
 * such as a maker's mark on a name plate, is read in a shot of it alone, or where the brief asks for it.
 */
export function areToBeRead(part: Part, { product, brief, shots }: Film): boolean {
  const isFine = [...product.parts.values()].some(
    (outer) => outer !== part && outer.letters && outer.letters.value >= part.letters!.value && liesWithin(part, outer),
  );
  const isAsked = brief?.mustShow.some(({ value }) => value === part.name);
  return [...shots.values()].some(({ subject, shows }) => {
    return isFine && !isAsked ? subject.name === part.name : shows.some(({ value }) => value === part.name);
  });
}

/** Does a part lie on the same face as another, within its outline? Both are taken to have the same middle line. */
function liesWithin(inner: Part, outer: Part): boolean {
  const [small, large] = [inner.size?.value, outer.size?.value];
  if (!small || !large || inner.heightMm === undefined || outer.heightMm === undefined) return false;
  if (!inner.faces || inner.faces !== outer.faces || small.widthMm > large.widthMm) return false;
  return Math.abs(inner.heightMm - outer.heightMm) + small.heightMm / 2 <= large.heightMm / 2;
}

/** Their height in pixels where a shot shows them largest in a deliverable; undefined where it does not show them. */
export function lettersPxIn(
  film: Film,
  shot: Shot,
  part: Part,
  deliverable: Deliverable,
): number | 'unknown' | undefined {
  let most: number | undefined;
  for (const showing of showingsOf(shot, film)) {
    // A shot that the cut leaves out shows nothing to anybody.
    if (!showing.deliverables.includes(deliverable) || (film.cut.length > 0 && !showing.piece)) continue;
    const pixels = lettersPx(showing, part, deliverable);
    if (pixels === undefined) return 'unknown';
    if (pixels > (most ?? -1)) most = pixels;
  }
  return most;
}

/** Letters on a front that is turned or seen from above are foreshortened; the best moment counts. */
function lettersPx({ shot, views, turns }: Showing, part: Part, deliverable: Deliverable): number | undefined {
  let most: number | undefined;
  for (const view of views) {
    const pose = cameraPose(shot, view.actionMoment);
    const pxPerMm = pxPerMmAt(view, deliverable);
    if (!pose || pxPerMm === undefined) continue;
    const toCamera = subtract(pose.at, subjectPlace(shot));
    for (const turn of turns) {
      const facing = part.faces ? facingAs(part.faces, turn, toCamera) : facingAtBest(shot, part, turn, toCamera);
      most = Math.max(most ?? 0, part.letters!.value * pxPerMm * facing);
    }
  }
  return most;
}

/** How much of their height the camera sees of letters that look where the part is said to: 1 face on, 0 from behind. */
function facingAs(faces: Facing, turn: Degrees, toCamera: Vec3): Share {
  return Math.max(0, cosine(toCamera, lookingWay(faces, turn)));
}

function facingAtBest(shot: Shot, part: Part, turn: Degrees, toCamera: Vec3): Share {
  // A part that has a shot of its own is shown as it reads best, lying flat or not.
  const upright = shot.subject.name === part.name ? 1 : cosine(toCamera, directionOf(turn));
  // Two sides do not say whether it stands or lies: it counts as the camera sees it best.
  const lying = part.size?.value.depthMm === undefined ? toCamera.y / lengthOf(toCamera) : 0;
  return Math.max(upright, lying);
}

function cosine(a: Vec3, b: Vec3): number {
  return Math.cos((angleBetweenDeg(a, b) * Math.PI) / 180);
}
