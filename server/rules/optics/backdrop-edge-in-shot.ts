import {
  floorMm,
  gridRays,
  type Hung,
  hungBackdrop,
  isWall,
  type Past,
  pastEdge,
} from '../../core/derived/past-backdrop.ts';
import { isOutdoors } from '../../core/derived/daylight.ts';
import { deg, fromCamera } from '../../calc/geometry.ts';
import { poseInSet } from '../../core/derived/optics.ts';
import { picturesOf, type Showing, showingsOf, still, trial, tryShot } from '../../core/derived/showings.ts';
import { surfaceCorners, surfaceOutline } from '../../core/derived/surface-outline.ts';
import type { Range } from '../../core/document/node.ts';
import { once } from '../../core/memo.ts';
import type { Film, Shot } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import type { Degrees, Mm, Share } from '../../core/units.ts';
import { angleText, lengthText, listText, num, percentText, quoted } from '../../core/say.ts';
import { byDeliverable, ceil2, deliverablesText, zoomText } from '../framing/framing-text.ts';
import { tableBehind } from './table-behind.ts';
import { by, clear, isClear, outlineOf, type Passes, passes, pastOf } from './past-edges.ts';

export default defineRule({
  id: 'backdrop-edge-in-shot',
  family: 'optics',
  summary: 'The camera sees past an edge of the backdrop or of the surface.',
  severity: 'warning',
  sources: ['similar triangles'],
  limits: {
    slit: {
      quantity: 'share',
      default: '1.5 %',
      meaning: 'What takes less of the picture past the backdrop is a note.',
    },
    strip: {
      quantity: 'share',
      default: '4 %',
      meaning: 'How much of the picture may show what lies before the front edge of the surface, or below a wall.',
    },
    'on-show': {
      quantity: 'share',
      default: '75 %',
      meaning: 'Up to so much of its width a table takes that is shown as a table, both its ends in the picture.',
    },
  },
  messages: {
    backdrop:
      '{shot}: in {deliverables}, the picture reaches past the {edges} of the backdrop, by up to {by}: {behind} behind the product it takes {width} x {height}. {advice}.',
    away: '{shot}: from {angle}, the picture of {deliverables} reaches past the {edges} of the backdrop, which hangs opposite 0°: nothing is behind the product there. Hang it where the camera looks.',
    front:
      '{shot}: in {deliverables}, the picture reaches over the front edge of the surface, which ends {by} too near to the product for it. {way}.',
    open: '{shot}: in {deliverables}, the picture reaches past the {edges} of the surface, and nothing is said of what is there. Look at it through the camera, or say what stands behind.',
    table:
      '{shot}: in {deliverables}, the surface ends {back} behind the product, and behind it {share} of the picture’s height is the table, {low} lower, before the backdrop begins. Look from lower, use a larger one, or let the backdrop come forward over the table.',
    surface:
      '{shot}: in {deliverables}, the picture reaches past the {edges} of the surface, by up to {by}, and nothing hangs behind it there. Use a larger one, or zoom in.',
  },
  shot(shot, { film, limits, report }) {
    const table = tableReport(shot, film, limits.strip);
    if (table) report(table);
    const seen = showingsOf(shot, film).flatMap((showing) => passes(showing, film) ?? []);
    if (seen.every(({ past }) => past.length === 0)) return;
    for (const of of ['backdrop', 'front', 'surface'] as const) {
      const worst = toldOf(seen, of, shot, film);
      if (!worst) continue;
      if (of === 'front' && !isFrontFault(shot, film, limits)) continue;
      const excess = by(worst, of);
      const data = {
        shot: shot.name,
        deliverables: deliverablesText({
          deliverables: seen.flatMap((one) => (by(one, of) > 0 ? one.showing.deliverables : [])),
        }),
        edges: edgesText(pastOf(worst, of)),
        by: byText(excess),
      };
      if (of !== 'backdrop') {
        const { way, fixes } = waysOf(of, shot, film);
        const { message, at, cause, severity } = underOrOpen(shot, of);
        const little = littleOf(of, shot, film, limits.strip);
        report({ message, data: { ...data, way }, at, excess, cause, severity: little ?? severity, fixes });
      } else if (worst.width === 0) {
        const angle = angleText(shot.camera.angle?.value.from ?? 0);
        report({ message: 'away', data: { ...data, angle }, at: shot.camera.angle ?? shot, excess });
      } else {
        const { behind } = shot.backdrop!;
        const size = { behind: behind!.text, width: lengthText(worst.width), height: lengthText(worst.height) };
        const isLow = pastOf(worst, of).every((past) => past.edge === 'bottom');
        if (isOtherWall(worst) || (isLow && isHardlyBelow(worst, shot, limits.strip))) continue;
        const advice = adviceFor(shot, isLow);
        const at = (isLow ? shot.backdrop!.bottom : undefined) ?? behind!;
        const fixes = () => [...lower(shot, film), ...nearer(shot, film), ...zoomIn(shot, film)];
        const cause = causeOf(shot, at, isLow);
        const severity = severityOf(worst, shot, limits.slit);
        report({ message: 'backdrop', data: { ...data, ...size, advice }, at, excess, cause, severity, fixes });
      }
    }
  },
});

/** Where no backdrop is written nobody knows what is behind, and a board may well show its front edge: both are notes. */
function underOrOpen({ backdrop, surface }: Shot, of: 'front' | 'surface') {
  const at = surface!.size!;
  const message = of === 'surface' && !backdrop ? 'open' : of;
  const severity = message === 'surface' ? undefined : 'info';
  return { message, at, cause: { start: at.start, end: at.end, as: of }, severity } as const;
}

/** Up to here what is seen before the front edge is a dark strip at the foot of the picture: a hint (common practice, no source). */
const littleStrips = 1.5;

function littleOf(of: 'front' | 'surface', shot: Shot, film: Film, strip: Share): 'hint' | undefined {
  return of === 'front' && !showsBeforeFront(shot, film, littleStrips * strip) ? 'hint' : undefined;
}

function waysOf(of: 'front' | 'surface', shot: Shot, film: Film) {
  return of === 'front' ? frontWay(shot, film) : { way: '', fixes: () => zoomIn(shot, film) };
}

/** Farther back than this it is no place for a product: hands, lamps and what hangs behind it want the rest (common practice, no source). */
const farthestBack: Share = 0.75;

/** The cures that there are, as words and as fixes; what is seen there can be covered anyhow. */
function frontWay(shot: Shot, film: Film): { way: string; fixes: FixIdea[] } {
  const [moved, up, zoomed] = [movedBack(shot, film), higher(shot, film), zoomIn(shot, film)];
  const fixes = [...moved.fixes, ...up, ...zoomed];
  if (moved.way) return { way: moved.way, fixes };
  const ways = [...(up.length > 0 ? ['look down from higher up'] : []), ...(zoomed.length > 0 ? ['zoom in'] : [])];
  const way = listText([...(isLoose(shot) ? ['use a deeper one'] : []), ...ways, 'cover what is seen there'], 'or');
  return { way: way[0]!.toUpperCase() + way.slice(1), fixes };
}

/** Back goes what has so much of the surface behind it, before the backdrop: as far as all shots on it ask, as it stands in one place. */
function movedBack(shot: Shot, film: Film): { way?: string; fixes: FixIdea[] } {
  const outline = surfaceOutline(shot);
  if (!outline) return { fixes: [] };
  const { byMm } = surfacesOf(film).get(shot.surface!.size!.start)!;
  const cm = Math.ceil((byMm - outline.frontMm) / 10 - 1e-6);
  const deepMm = Math.min(outline.backMm, shot.backdrop?.behind?.value ?? Infinity) - outline.frontMm;
  const leastMm = (film.product.size?.value.depthMm ?? 0) / 2;
  if (cm * 10 > farthestBack * deepMm || deepMm - cm * 10 < leastMm) return { fixes: [] };
  const title = `Stand the product ${cm} cm behind the front edge (it is out of the picture)`;
  return {
    way: `Stand the product with its middle ${cm} cm behind that edge`,
    fixes: [set(title, [shot.surface!, 'front', `${cm} cm`])],
  };
}

/** A board that lies on a table can be another one; a bench, a table or a stone can't. */
function isLoose({ surface }: Shot): boolean {
  return surface!.aboveTableMm > 0 || surface!.thickness !== undefined;
}

/** Looking down by so much more, it is much the same view (common practice, no source). */
const steeperDeg: Degrees = 10;

/** The least height from which the picture ends on the surface. */
function higher(shot: Shot, film: Film): FixIdea[] {
  const { height, distance } = shot.camera;
  if (!height || !distance || height.value.from !== height.value.to) return [];
  const mostMm = height.value.from + Math.min(distance.value.from, farthestMm) * Math.sin(steeperDeg / deg);
  for (let cm = Math.ceil(height.value.from / 10) + 1; cm * 10 <= mostMm; cm++) {
    if (!clear(tryShot(shot, { camera: { height: still(cm * 10) } }), film, 1.02)) continue;
    return [set(`Set height to ${cm} cm (it looks down on the surface)`, [shot.camera, 'height', `${cm} cm`])];
  }
  return [];
}

/** What reaches farthest past an edge; undefined where nothing does. */
/** The worst of one kind, where it is no fault that is meant or told already. */
function toldOf(seen: readonly Passes[], of: Past['of'] | 'front', shot: Shot, film: Film): Passes | undefined {
  const worst = worstOf(seen, of);
  if (!worst || of === 'backdrop') return worst;
  // A backdrop that hangs where the camera looks is seen past the surface, too.
  const isAway = of === 'surface' && worstOf(seen, 'backdrop')?.width === 0;
  return isAway || isSurfaceMeant(worst, shot, film) ? undefined : worst;
}

function worstOf(seen: readonly Passes[], of: Past['of'] | 'front'): Passes | undefined {
  const worst = seen.reduce<Passes | undefined>((most, one) => (by(one, of) > by(most, of) ? one : most), undefined);
  return by(worst, of) > 0 ? worst : undefined;
}

function isSurfaceMeant(worst: Passes, shot: Shot, film: Film): boolean {
  // Outdoors what is seen past a crate or a bench is the place.
  return turnsOnPlate(shot) || (!shot.backdrop && isOutdoors(shot)) || isBareOnPurpose(worst, shot, film);
}

/** What others have behind them, and this one has not, is thought of. */
function isBareOnPurpose(worst: Passes, shot: Shot, { shots }: Film): boolean {
  const isRoomSeen = !shot.backdrop && (by(worst, 'surface') === Infinity || saysNone(shot));
  return isRoomSeen && [...shots.values()].some(({ backdrop }) => backdrop);
}

/** `backdrop: none` in a shot or its set-up: somebody has thought of what is behind. */
function saysNone({ fields, setUp }: Shot): boolean {
  return [fields, setUp?.fields].some((one) => one?.text('backdrop')?.value === 'none');
}

/** The plate of a turntable is as large as it is, and the product stands in its middle. */
function turnsOnPlate({ turn, surface }: Shot): boolean {
  return turn !== undefined && /\b(?:disc|turntable|plate)\b/i.test(surface?.material?.value ?? '');
}

/** One that is larger or hangs nearer mends all that is seen past it; a wall measured from the table up is another matter. */
function causeOf({ backdrop }: Shot, at: Range, isLow: boolean) {
  const { start, end } = backdrop?.size ?? at;
  return { start, end, as: isLow && isWall(backdrop) ? 'low' : 'wide' };
}

/** A wall can't be hung: it goes on, or one comes nearer to it. */
function adviceFor({ backdrop }: Shot, isLow: boolean): string {
  if (!isWall(backdrop)) return isLow ? 'Hang it lower' : 'Hang it nearer, or use a larger one';
  return isLow
    ? 'Where it goes on down to the floor, say so with `bottom`; else zoom in'
    : 'Look at what is there, move the product nearer to it, or zoom in';
}

/** Seen from aside, a wall ends at the next one, of which a plan can say nothing. */
function isOtherWall({ showing: { shot, views } }: Passes): boolean {
  return isWall(shot.backdrop) && views.some(({ actionMoment }) => asideDeg(shot, actionMoment) > squareDeg);
}

function asideDeg(shot: Shot, moment: number): Degrees {
  const { x, z } = poseInSet(shot, moment)?.forward ?? { x: 0, z: 1 };
  return Math.atan2(Math.abs(x), z) * deg;
}

/** Up to here a camera looks at what is behind the product, and not at what is beside that. */
const squareDeg: Degrees = 20;

function tableReport(shot: Shot, film: Film, strip: Share) {
  const found = asideDeg(shot, 0) > squareDeg ? undefined : tableBehind(shot, film, strip);
  if (!found) return undefined;
  const at = shot.surface!.size!;
  const data = {
    shot: shot.name,
    deliverables: deliverablesText(found),
    back: lengthText(found.backMm),
    share: percentText(found.share),
    low: lengthText(shot.surface!.aboveTableMm),
  };
  const cause = { start: at.start, end: at.end, as: 'table' };
  return { message: 'table', data, at, excess: found.share, cause, severity: 'info' } as const;
}

/** A wall goes on down, and a number that is a little short changes nothing on the set. */
function isHardlyBelow(worst: Passes, { backdrop }: Shot, strip: Share): boolean {
  return isWall(backdrop) && by(worst, 'backdrop') < strip * worst.height;
}

/** A slit is a note, and what a wall goes on with. */
function severityOf(worst: Passes, { backdrop, room }: Shot, slit: Share): 'info' | undefined {
  if (isWall(backdrop) || isLost(room, backdrop)) return 'info';
  return pastOf(worst, 'backdrop').every((past) => past.byMm < slit * acrossOf(worst, past)) ? 'info' : undefined;
}

/** Where a black backdrop ends in a dark room there is more of the dark. */
function isLost(room: Shot['room'], backdrop: Shot['backdrop']): boolean {
  return backdrop?.tone?.value === 'black' && room?.light?.value === 0;
}

/** How wide, or high, the picture is there. */
function acrossOf({ width, height }: Passes, { edge }: Past): number {
  return edge === 'left' || edge === 'right' ? width : height;
}

/** Is more of it seen than a strip, and the table not shown as a table, here or in another shot? */
function isFrontFault(
  shot: Shot,
  film: Film,
  { strip, 'on-show': onShow }: Record<'strip' | 'on-show', Share>,
): boolean {
  // Under the sky what the product stands on is part of the place, edge and all.
  if (isOutdoors(shot)) return false;
  const isFarSeen = isFrontSeen(shot, film, 1 - 2 * strip) && showsBeforeFront(shot, film, strip / 2);
  return isFarSeen && surfacesOf(film).get(shot.surface!.size!.start)!.shownShare > onShow;
}

/** A surface by where its size is written, over all shots on it. */
interface OnSurface {
  /** By how far its front edge is too near; 0 where that is not seen. */
  readonly byMm: Mm;
  /** The least of the width of a picture that it takes with both its ends in it; `Infinity` where there is none. */
  readonly shownShare: Share;
}

const surfacesOf = once((film: Film): ReadonlyMap<number, OnSurface> => {
  const all = new Map<number, OnSurface>();
  for (const shot of film.shots.values()) {
    const at = shot.surface?.size?.start;
    if (at === undefined) continue;
    const { byMm, shownShare } = all.get(at) ?? { byMm: 0, shownShare: Infinity };
    const showings = showingsOf(shot, film);
    const reaches = showings.map((one) => by(passes(one, film), 'front'));
    all.set(at, {
      byMm: Math.max(byMm, ...reaches),
      shownShare: Math.min(shownShare, ...showings.map(shareShown)),
    });
  }
  return all;
});

/** So many places are looked at across the picture and in its height. */
const [columns, rows] = [8, 25];

/** Does any picture show more than a share of what lies before the front edge? Of one that runs aslant it is a corner. */
function showsBeforeFront(shot: Shot, film: Film, share: Share): boolean {
  const hung = hungBackdrop(shot, film);
  return picturesOf(showingsOf(shot, film)).some(({ pose, view: { edges } }) => {
    let before = 0;
    for (const ray of edges ? gridRays(pose, edges, columns, rows) : []) {
      if (isPastFront(pastEdge(pose, ray, shot, hung, false))) before++;
      if (before / (columns * rows) > share) return true;
    }
    return false;
  });
}

function isPastFront(past: Past | undefined): boolean {
  return past?.of === 'surface' && past.edge === 'front';
}

/** Would the front edge be seen in the inner part of the picture too? */
function isFrontSeen(shot: Shot, film: Film, part: number): boolean {
  const hung = hungBackdrop(shot, film);
  return showingsOf(shot, film).some(({ views }) =>
    views.some((view) => {
      const outline = outlineOf(shot, view, hung, part);
      return outline?.rays.some((ray) => isPastFront(pastEdge(outline.pose, ray, shot, hung, outline.steep)));
    }),
  );
}

/**
 * How much of the picture's width a table or a stool takes of which both ends are well inside: it is shown as what it is, front edge
 * and all. `Infinity` where it is not.
 */
function shareShown(showing: Showing): Share {
  const outline = surfaceOutline(showing.shot);
  const corners = outline ? surfaceCorners(outline) : [];
  const shares = picturesOf([showing]).map(({ view: { edges }, pose }) => {
    const [left, right] = corners.slice(0, 2).map((corner) => fromCamera(pose, corner));
    if (!edges || !left || !right || Math.min(left.along, right.along) <= 0) return Infinity;
    const ends = [left, right].map((one) => one.right / one.along).sort((a, b) => a - b) as [number, number];
    const isInside = ends[0] > edges.left && ends[1] < edges.right;
    return isInside ? (ends[1] - ends[0]) / (edges.right - edges.left) : Infinity;
  });
  return Math.max(0, ...shares);
}

/** Looking along the backdrop, or zoomed out to nothing, the picture goes on without end. */
function byText(mm: number): string {
  return mm > 1e5 ? 'more than 100 m' : lengthText(mm);
}

function edgesText(past: readonly Past[]): string {
  // From above, the front edge is one like the others.
  const names = [...new Set(past.map(({ edge }) => (edge === 'near' ? 'front' : edge)))];
  return `${listText(names)} ${names.length > 1 ? 'edges' : 'edge'}`;
}

/** Nobody hangs a backdrop farther off than this, nor zooms in more, so nothing beyond is tried. */
const farthestMm = 10_000;
const mostZoom = 4;

/** The same backdrop let down as far as the gap below it asks, where its top then still covers the picture. */
function lower(shot: Shot, film: Film): FixIdea[] {
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
function nearer(shot: Shot, film: Film): FixIdea[] {
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
function zoomIn(shot: Shot, film: Film): FixIdea[] {
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
