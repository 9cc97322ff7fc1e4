/** What brings the edges of a backdrop out of the picture: let down, nearer, or a zoom. */
import { floorMm, type Hung, hungBackdrop, isWall } from '../../core/derived/past-backdrop.ts';
import { showingsOf, trial, tryShot } from '../../core/derived/showings.ts';
import type { Film, Shot } from '../../core/film.ts';
import { type FixIdea, set } from '../../core/rule.ts';
import type { Mm } from '../../core/units.ts';
import { listText, num, quoted } from '../../core/say.ts';
import { byDeliverable, ceil2, zoomText } from '../framing/framing-text.ts';
import { by, clear, isClear, passes } from './past-edges.ts';

/** Nobody hangs a backdrop farther off than this, nor zooms in more, so nothing beyond is tried. */
export const farthestMm = 10_000;

const mostZoom = 4;

/** The same backdrop let down as far as the gap below it asks, where its top then still covers the picture. */
export function lower(shot: Shot, film: Film): FixIdea[] {
  const { backdrop } = shot;
  const hung = hungBackdrop(shot, film);
  const lowestMm = floorMm(shot);
  if (!hung || hung.bottomMm <= lowestMm) return [];
  if (isWall(backdrop)) return downToFloor(shot, film, hung);
  for (let cm = Math.ceil(hung.bottomMm / 10) - 1; cm * 10 >= lowestMm; cm--) {
    const tried = tryShot(shot, { backdrop: { ...backdrop!, bottom: trial(cm * 10) } });
    if (!clear(tried, film, 1.02)) continue;
    const title = `Hang the bottom of the backdrop at ${cm} cm (the gap below it is covered)`;
    return [hangAlike(title, shot, film, { key: 'bottom', cm })];
  }
  return [];
}

/**
 * What hangs before several shots is moved for all of them, where none of the others then sees more past it. Set-ups may
 * have it elsewhere: else it is moved for the one shot.
 */
function hangAlike(
  title: string,
  shot: Shot,
  film: Film,
  { key, cm }: { readonly key: 'bottom' | 'behind'; readonly cm: number },
): FixIdea {
  const { size, behind } = shot.backdrop!;
  const others = [...film.shots.values()].filter(
    ({ backdrop }) =>
      backdrop &&
      backdrop !== shot.backdrop &&
      backdrop.size?.start === size?.start &&
      backdrop.behind?.start === behind?.start,
  );
  const isNoWorse = (one: Shot) =>
    reachPast(tryShot(one, { backdrop: { ...one.backdrop!, [key]: trial(cm * 10) } }), film) <= reachPast(one, film);
  const all = others.every(isNoWorse) ? [shot, ...others] : [shot];
  return set(title, ...all.map((one) => [one.backdrop!, key, `${num(cm, 0)} cm`] as const));
}

/** How far a shot sees past the backdrop. */
function reachPast(shot: Shot, film: Film): Mm {
  const seen = showingsOf(shot, film).flatMap((showing) => passes(showing, film) ?? []);
  return Math.max(0, ...seen.map((one) => by(one, 'backdrop')));
}

/** A wall that was measured from the table up, its top where it is. */
function downToFloor(shot: Shot, film: Film, hung: Hung): FixIdea[] {
  const { backdrop, surface } = shot;
  if (!surface?.height) return [];
  const bottom = floorMm(shot);
  const size = { ...backdrop!.size!.value, heightMm: hung.topMm - bottom };
  const tried = tryShot(shot, { backdrop: { ...backdrop!, bottom: trial(bottom), size: trial(size) } });
  if (!clear(tried, film, 1)) return [];
  const wide = `${num(size.widthMm / 10)} x ${num(size.heightMm / 10)} cm`;
  return [
    set(
      `Say that it goes down to the floor (bottom ${num(bottom / 10)} cm, ${wide})`,
      [backdrop!, 'bottom', `${num(bottom / 10)} cm`],
      [backdrop!, 'size', wide],
    ),
  ];
}

/** The farthest that the backdrop may hang and still fill the picture, with 5 % to spare. */
export function nearer(shot: Shot, film: Film): FixIdea[] {
  const { backdrop, subject } = shot;
  const now = backdrop!.behind!.value;
  const least = Math.max(subject.box?.depthMm ?? 0, film.product.size?.value.depthMm ?? 0) / 2 + 100;
  for (let mm = Math.floor((Math.min(now, farthestMm) - 1) / 10) * 10; mm >= least; mm -= mm > 1000 ? 50 : 10) {
    const tried = tryShot(shot, { backdrop: { ...backdrop!, behind: trial(mm) } });
    if (!clear(tried, film, 1.05)) continue;
    const text = `${num(mm / 10, 0)} cm`;
    const title = isWall(backdrop) ? `Move the product to ${text} before it` : `Hang the backdrop ${text} behind`;
    const whole = `${title} (it fills the picture, and is less blurred)`;
    return [hangAlike(whole, shot, film, { key: 'behind', cm: mm / 10 })];
  }
  return [];
}

/** The least zoom of the pieces that leaves the edge outside, where the recording has the pixels. */
export function zoomIn(shot: Shot, film: Film): FixIdea[] {
  if (shot.pieces.length === 0) return [];
  const spare = Math.min(...showingsOf(shot, film).flatMap(({ views }) => views.map((view) => view.scale)));
  for (let k = 1.02; k <= Math.min(spare, mostZoom); k += 0.02) {
    if (!clear(shot, film, 1.02 / k)) continue;
    return zoomedBy(k, shot, film);
  }
  return [];
}

/** Each piece for the deliverables that see past an edge; those that don't stay as they are. */
function zoomedBy(k: number, shot: Shot, film: Film): FixIdea[] {
  const showings = showingsOf(shot, film);
  const seeing = showings.filter((one) => !isClear(one, film, 1));
  const names = new Set(seeing.flatMap(({ deliverables }) => deliverables.map(({ name }) => name)));
  const isAll = showings.every(({ deliverables }) => deliverables.some(({ name }) => names.has(name)));
  const changes = shot.pieces.flatMap((piece) => {
    const ends = { from: ceil2(piece.zoom.from * k), to: ceil2(piece.zoom.to * k) };
    if (isAll) return [[piece, 'zoom', zoomText(ends)] as const];
    const by = (name: string) => num(ceil2((piece.zoomBy.get(name)?.value ?? 1) * k), 2);
    return [...names].map((name) => [byDeliverable(piece, 'zoom-by'), name, by(name)] as const);
  });
  const where = isAll ? 'the edit' : listText([...names].map(quoted));
  return [set(`Zoom in ${num(k, 2)} times in ${where} (the edge is outside, the product larger)`, ...changes)];
}
