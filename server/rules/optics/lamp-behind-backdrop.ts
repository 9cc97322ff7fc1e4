import { angleBetweenDeg, subtract, type Vec3 } from '../../calc/geometry.ts';
import { distanceGain } from '../../calc/light.ts';
import { type Hung, hungBackdrop, letsLightThrough, hides } from '../../core/derived/past-backdrop.ts';
import { dims, lampPosition } from '../../core/derived/light.ts';
import { lampFace } from '../../core/derived/lamp-face.ts';
import { productPlace } from '../../core/derived/optics.ts';
import { still } from '../../core/derived/showings.ts';
import type { Range } from '../../core/document/node.ts';
import type { Film, LampPlace, Shot } from '../../core/film.ts';
import type { Degrees, Mm, Share } from '../../core/units.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { lengthText, listText, percentText, quoted } from '../../core/say.ts';
import { hasRoomAt, nearest } from './lamp-clearance.ts';
import { sideText } from './side-text.ts';
import { standSeen } from './stand-seen.ts';
import { isWindow, lampSize } from '../../core/derived/lamp-size.ts';

export default defineRule({
  id: 'lamp-behind-backdrop',
  family: 'optics',
  summary: 'A lamp that should light the product stands behind the backdrop.',
  severity: 'warning',
  sources: ['geometry'],
  messages: {
    hidden:
      '{shot}: {lamp} stands {behind} behind the backdrop, which hides {what} from it: it lights nothing that is seen. {way}.',
    board:
      '{shot}: the backdrop hides {board} from {lamp}, whose light it gives back: it gives none. Stand it where {lamp} reaches it, or hang the backdrop elsewhere.',
  },
  shot(shot, { film, report }) {
    const hung = hungBackdrop(shot, film);
    if (!hung || letsLightThrough(shot.backdrop)) return;
    const hidden = new Map(shot.lit.flatMap((lamp) => hiddenAt(lamp, shot, hung) ?? []));
    const dark = shot.lit.filter((lamp) => !hidden.has(lamp) && isInShadow(lamp, shot, hung));
    for (const [lamp, at] of hidden) {
      const boards = dark.filter(({ bounces }) => bounces === lamp).map(({ name }) => quoted(name));
      const data = {
        shot: shot.name,
        lamp: quoted(lamp.name),
        behind: lengthText(at.z - hung.behindMm),
        what: listText(['the product', ...boards]),
        way: wayText(lamp),
      };
      report({
        message: 'hidden',
        data,
        at: ownPlace(lamp),
        fixes: () => [...fixes(shot, film, lamp, hung), ...forward(shot, film, lamp, hung)],
      });
    }
    for (const board of dark) {
      if (hidden.has(board.bounces!)) continue;
      const data = { shot: shot.name, lamp: quoted(board.bounces!.name), board: quoted(board.name) };
      report({ message: 'board', data, at: ownPlace(board) });
    }
  },
});

/** A lamp and where it stands when the backdrop hides the product from it; undefined where it never does. */
function hiddenAt(lamp: LampPlace, shot: Shot, hung: Hung): [[LampPlace, Vec3]] | undefined {
  if (lamp.aim === 'backdrop' || lamp.role?.value === 'backdrop') return undefined;
  const middle = productPlace(shot);
  const moments = lamp.changes ? [0, 0.5, 1] : [0];
  const at = moments
    .flatMap((moment) => lampPosition(lamp, middle, moment) ?? [])
    .find((place) => hides(hung, place, middle));
  return at && [[lamp, at]];
}

/** Does the light that a board would give back not reach it? */
function isInShadow(board: LampPlace, shot: Shot, hung: Hung): boolean {
  const middle = productPlace(shot);
  const at = lampPosition(board, middle, 0);
  const source = board.bounces && lampPosition(board.bounces, middle, 0);
  return at !== undefined && source !== undefined && hides(hung, source, at);
}

/** What it says of its place itself; what it takes over of another is right there. */
function ownPlace(lamp: LampPlace): Range {
  const [own] = lamp.fields.written;
  const isOwn = ({ start, end }: Range) => own !== undefined && start >= own.start && end <= own.end;
  return [lamp.distance, lamp.angle].find((one) => one && isOwn(one)) ?? lamp;
}

function wayText(lamp: LampPlace): string {
  if (isWindow(lamp)) return 'Turn the set, or hang the backdrop elsewhere';
  const clearance = lamp.lamp?.clearance;
  const clear = clearance ? `, and no nearer to it than ${clearance.text}` : '';
  return `Bring it in front of the backdrop${clear}, or hang that farther behind`;
}

function isHot({ lamp }: LampPlace): boolean {
  const kind = lamp?.kind?.value;
  return lamp?.clearance !== undefined || kind === 'filament' || kind === 'flame';
}

/** Is all of it in front of the backdrop, with room for what holds it? */
function isBefore({ behindMm }: Hung, shot: Shot, lamp: LampPlace): boolean {
  const at = lampPosition(lamp, productPlace(shot), 0);
  return at !== undefined && lampFace(lamp, at, shot, 0).every(({ z }) => z <= behindMm - 50);
}

/** The least turn, at its distance, that brings it before the backdrop: its light stays as bright, and comes less from behind. */
function forward(shot: Shot, film: Film, lamp: LampPlace, hung: Hung): FixIdea[] {
  const { angle } = lamp;
  if (lamp.changes || !angle || isHot(lamp) || isWindow(lamp)) return [];
  for (const step of turnsDeg.flatMap((by) => [-by, by])) {
    const now = (((angle.value.from + step) % 360) + 360) % 360;
    const moved = { ...lamp, angle: { ...angle, value: { from: now, to: now } } };
    if (!isBefore(hung, shot, moved) || (nearest(shot, film, moved, { all: true })?.clearDeg ?? 1) < 0) continue;
    if (standSeen(shot, film, moved)) continue;
    const text = sideText(angle, now);
    return [set(`Set angle of ${quoted(lamp.name)} to ${text} (in front of the backdrop)`, [lamp, 'angle', text])];
  }
  return [];
}

/** Farther round, or higher up, it is no light from behind any more (common practice, no source). */
const mostTurnDeg: Degrees = 30;
const turnsDeg: readonly Degrees[] = [5, 10, 15, 20, 25, mostTurnDeg];

/** To a hundredth, and of little to a thousandth, which is a twentieth of a stop at 3 %. */
function roundLevel(level: Share): Share {
  const steps = level < 0.1 ? 1000 : 100;
  return Math.round(level * steps) / steps;
}

/** No lamp of a table stands farther off, so nothing beyond is tried. */
const farthestMm = 10_000;

/** As far away as it can stand in front of the backdrop, all of it 5 cm from it; how near a hot one may stand, only its owner decides. */
function fixes(shot: Shot, film: Film, lamp: LampPlace, hung: Hung): FixIdea[] {
  if (lamp.changes || !lamp.distance || isHot(lamp) || isWindow(lamp)) return [];
  const middle = productPlace(shot);
  const way = (place: LampPlace) => subtract(lampPosition(place, middle, 0) ?? middle, middle);
  const reaches = (mm: Mm) => {
    const moved = { ...lamp, distance: still(mm) };
    // At its height it comes the more from above, the nearer it is.
    return isBefore(hung, shot, moved) && angleBetweenDeg(way(lamp), way(moved)) <= mostTurnDeg;
  };
  for (let mm = Math.floor(Math.min(lamp.distance.value.from, farthestMm) / 10) * 10; mm >= 200; mm -= 10) {
    if (!reaches(mm) || !hasRoomAt(film, lamp, mm)) continue;
    const text = lengthText(mm);
    const size = lampSize(lamp);
    const brighter = distanceGain(size, mm / 1000) / distanceGain(size, lamp.distance.value.from / 1000);
    const level = roundLevel((lamp.level?.value.from ?? 1) / brighter);
    const title = `Set distance of ${quoted(lamp.name)} to ${text}`;
    if (lamp.measured || !dims(lamp) || level < (lamp.lamp?.level?.value.from ?? 0.05))
      return [set(`${title} (in front of the backdrop, and brighter)`, [lamp, 'distance', text])];
    return [
      set(
        `${title} and its level to ${percentText(level, 1)} (in front of the backdrop, as bright as it was meant)`,
        [lamp, 'distance', text],
        [lamp, 'level', percentText(level, 1)],
      ),
    ];
  }
  return [];
}
