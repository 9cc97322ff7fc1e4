import { isWall, type Past } from '../../core/derived/past-backdrop.ts';
import { isOutdoors } from '../../core/derived/daylight.ts';
import { deg } from '../../calc/geometry.ts';
import { poseInSet } from '../../core/derived/optics.ts';
import { showingsOf } from '../../core/derived/showings.ts';
import type { Range } from '../../core/document/node.ts';
import type { Film, Shot } from '../../core/film.ts';
import { defineRule } from '../../core/rule.ts';
import type { Degrees, Share } from '../../core/units.ts';
import { angleText, lengthText, listText, percentText } from '../../core/say.ts';
import { deliverablesText } from '../framing/framing-text.ts';
import { tableBehind } from './table-behind.ts';
import { lower, nearer, zoomIn } from './backdrop-fixes.ts';
import { frontWay, isFrontFault, showsBeforeFront } from './front-edge.ts';
import { by, type Passes, passes, pastOf } from './past-edges.ts';

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
        // A thing that is small in its room shows the room.
        const explainedBy = ['small-in-frame'] as const;
        report({
          message: 'backdrop',
          data: { ...data, ...size, advice },
          at,
          excess,
          cause,
          severity,
          explainedBy,
          fixes,
        });
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

/** Up to here what is seen before the front edge is a dark strip at the foot of the picture, for the sheet (common practice, no source). */
const littleStrips = 1.5;

function littleOf(of: 'front' | 'surface', shot: Shot, film: Film, strip: Share): 'sheet' | undefined {
  return of === 'front' && !showsBeforeFront(shot, film, littleStrips * strip) ? 'sheet' : undefined;
}

function waysOf(of: 'front' | 'surface', shot: Shot, film: Film) {
  return of === 'front' ? frontWay(shot, film) : { way: '', fixes: () => zoomIn(shot, film) };
}

/** The worst of one kind, where it is no fault that is meant or told already. */
function toldOf(seen: readonly Passes[], of: Past['of'] | 'front', shot: Shot, film: Film): Passes | undefined {
  const worst = worstOf(seen, of);
  if (!worst || of === 'backdrop') return worst;
  // A backdrop that hangs where the camera looks is seen past the surface, too.
  const isAway = of === 'surface' && worstOf(seen, 'backdrop')?.width === 0;
  return isAway || isSurfaceMeant(worst, shot, film) ? undefined : worst;
}

/** What reaches farthest past an edge; undefined where nothing does. */
function worstOf(seen: readonly Passes[], of: Past['of'] | 'front'): Passes | undefined {
  const worst = seen.reduce<Passes | undefined>((most, one) => (by(one, of) > by(most, of) ? one : most), undefined);
  return by(worst, of) > 0 ? worst : undefined;
}

function isSurfaceMeant(worst: Passes, shot: Shot, film: Film): boolean {
  // Outdoors what is seen past a crate or a bench is the place.
  return turnsOnPlate(shot) || (!shot.backdrop && isOutdoors(shot, film)) || isBareOnPurpose(worst, shot, film);
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

/** A slit is a note, and what a wall goes on with: down to the floor it does by itself, and over it where nobody said how high it begins. */
function severityOf(worst: Passes, { backdrop, room }: Shot, slit: Share): 'info' | 'sheet' | undefined {
  if (isLost(room, backdrop) || (isWall(backdrop) && isOfWallItself(worst, backdrop))) return 'sheet';
  if (isWall(backdrop)) return 'info';
  return pastOf(worst, 'backdrop').every((past) => past.byMm < slit * acrossOf(worst, past)) ? 'info' : undefined;
}

function isOfWallItself(worst: Passes, backdrop: Shot['backdrop']): boolean {
  const edges = new Set(pastOf(worst, 'backdrop').map(({ edge }) => edge));
  if (edges.size > 1) return false;
  const highMm = backdrop?.size?.value.heightMm ?? 0;
  return edges.has('bottom') || (edges.has('top') && !backdrop?.bottom && worst.height <= highMm);
}

/** Where a black backdrop ends in a dark room there is more of the dark. */
function isLost(room: Shot['room'], backdrop: Shot['backdrop']): boolean {
  return backdrop?.tone?.value === 'black' && room?.light?.value === 0;
}

/** How wide, or high, the picture is there. */
function acrossOf({ width, height }: Passes, { edge }: Past): number {
  return edge === 'left' || edge === 'right' ? width : height;
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
