import { addScaled, dot, lengthOf, subtract, type Vec3 } from '../../calc/geometry.ts';
import { distanceGain, fallOffStops, type LampSize } from '../../calc/light.ts';
import { dims, type FaceLight, faceLight, lampPosition, type LampLight } from '../../core/derived/light.ts';
import { cameraPose, productPlace, subjectPlace, subjectSeen, tiltDeg } from '../../core/derived/optics.ts';
import { looksAtSomebody } from '../../core/derived/people.ts';
import type { LampPlace, Shot } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { lengthText, percentText, quoted, stopsText } from '../../core/say.ts';
import type { Lux, Mm, Stops } from '../../core/units.ts';
import { hasRoomAt } from '../optics/lamp-clearance.ts';
import { isWindow, lampSize } from '../../core/derived/lamp-size.ts';

/** A lamp with less of the light than this shapes nothing. */
const counts = 0.25;

export default defineRule({
  id: 'light-uneven-across-product',
  family: 'exposure',
  summary: 'The main lamp is so near that one side of the product is much brighter than the other.',
  severity: 'info',
  sources: [
    'inverse square law; configuration factor of a parallel rectangle (Siegel and Howell)',
    'one stop from edge to edge, from 0.95 on: common practice, no source',
  ],
  limits: {
    allow: {
      quantity: 'stops',
      default: '0.75 stops',
      meaning: 'How much brighter the near end, top or bottom, may be.',
    },
    side: { quantity: 'stops', default: '0.95 stops', meaning: 'The same of a side: light from there models.' },
    window: {
      quantity: 'stops',
      default: '1.5 stops',
      meaning: 'The same at a window, which nobody moves, and whose light is known to fall off.',
    },
  },
  messages: {
    uneven:
      '{shot}: {lamp} at {distance} is so near that, all light together, {near} of {subject} gets {stops} more than {far}, {across} farther from it. {way}',
  },
  shot(shot, { film, limits, report }) {
    // Light on somebody is brighter on the face than on the shoes.
    // Nothing of flying drops or steam has a side that must be as bright as the other.
    if (looksAtSomebody(shot, film) || shot.sharp === 'none') return;
    const light = faceLight(shot, 0);
    const [worst] = light.lamps.flatMap((one) => unevenBy(shot, light, one) ?? []).sort((a, b) => b.stops - a.stops);
    // From the side it models; from top to bottom it looks uneven.
    if (!worst) return;
    const { one, acrossMm, upright } = worst;
    const { lamp } = one;
    if (worst.stops <= (isWindow(lamp) ? limits.window : upright ? limits.allow : limits.side) + 1e-6) return;
    const size = lampSize(lamp);
    // A part is nearer to the lamp, or farther from it, than what the tape is held to.
    const evenMm = wholeCm(lamp.distance!.value.from + evenDistance(size, acrossMm) - worst.awayMm);
    const inRoom = evenMm <= farthestMm;
    report({
      message: 'uneven',
      data: {
        shot: shot.name,
        lamp: quoted(lamp.name),
        distance: lamp.distance!.text,
        subject: shot.subject.name === 'product' ? 'the product' : quoted(shot.subject.name),
        near: worst.near,
        far: upright ? 'its other end' : worst.near === 'one side' ? 'the other' : 'the opposite one',
        stops: stopsText(worst.stops),
        across: lengthText(wholeCm(worst.fartherMm)),
        way: isWindow(lamp)
          ? windowText
          : inRoom
            ? `At ${lengthText(evenMm)} its own light differs by half a stop.`
            : wayText(upright),
      },
      at: lamp.distance!,
      excess: worst.stops,
      cause: lamp,
      fixes: () => (inRoom && !isWindow(lamp) && hasRoomAt(film, lamp, evenMm) ? farther(one, size, evenMm) : []),
      explainedBy: ['uneven-light', 'low-key'],
    });
  },
});

/** No living room is longer from a lamp to what it lights. */
const farthestMm: Mm = 4000;

const windowText = 'Turn the product to it, move it away from it, or fill the dark side.';

function wayText(upright: boolean): string {
  return upright
    ? 'Bring it level with the middle, or fill the dark end.'
    : 'Bring it more to the front, or fill the dark side.';
}

interface Uneven {
  readonly one: LampLight;
  readonly stops: Stops;
  readonly acrossMm: Mm;
  readonly awayMm: Mm;
  /** Is it from top to bottom rather than from side to side? */
  readonly upright: boolean;
  readonly near: 'the top' | 'the bottom' | 'one side' | 'the near corner';
  /** How much farther from the lamp the far end is. */
  readonly fartherMm: Mm;
}

/**
 * What the near end of the subject gets more than the far end, along the line to one lamp: its own light falls off, and
 * that of all others and of the room fills, more or less at either end.
 */
function unevenBy(shot: Shot, light: FaceLight, one: LampLight): Uneven | undefined {
  const { lamp, share } = one;
  const role = lamp.role?.value;
  if ((role && role !== 'key' && role !== 'fill') || share < counts || lamp.changes || !lamp.distance) return undefined;
  const middle = subjectPlace(shot);
  const pose = cameraPose(shot, 0);
  const seen = subjectSeen(shot, shot.handlesS, shot.handlesS);
  const way = wayTo(shot, lamp);
  if (!way || !pose || !seen) return undefined;
  const awayMm = lengthOf(way);
  const right = dot(way, pose.right) / awayMm;
  const up = dot(way, pose.up) / awayMm;
  const [across, along] = [seen.widthMm * Math.abs(right), seen.heightMm * Math.abs(up)];
  // From the middle to the end of what is seen that is nearest to the lamp.
  const sides = addScaled(middle, pose.right, (Math.sign(right) * seen.widthMm) / 2);
  const half = subtract(addScaled(sides, pose.up, (Math.sign(up) * seen.heightMm) / 2), middle);
  // A lamp of the scene, or of the product itself, lights what is beside it, and is there to do so.
  const lamps = light.lamps.filter((other) => other.lamp.role?.value !== 'practical');
  const at = (end: 1 | -1) =>
    lamps.reduce((sum, other) => sum + luxAt(shot, other, addScaled(middle, half, end)), light.roomLux);
  const stops = Math.log2(at(1) / at(-1));
  if (!Number.isFinite(stops)) return undefined;
  const near = nearEnd(across, along, up);
  return {
    one,
    stops,
    acrossMm: across + along,
    awayMm,
    upright: along > across,
    near,
    fartherMm: fartherMm(shot, way, near, { right, up, widthMm: seen.widthMm }),
  };
}

/** With less than this of its width toward the lamp what is high is one side and no corner. */
const leastAlong = 0.3;

function nearEnd(acrossMm: Mm, alongMm: Mm, up: number): Uneven['near'] {
  if (alongMm > acrossMm) return up > 0 ? 'the top' : 'the bottom';
  return alongMm > leastAlong * acrossMm ? 'the near corner' : 'one side';
}

/** From here on one looks at the top of a thing, and its ends lie one behind the other. */
const fromAboveDeg = 45;

/** By how much the lamp is farther from one end than from the other, of the front, or of a top that is looked at. */
function fartherMm(
  shot: Shot,
  way: Vec3,
  near: Uneven['near'],
  { right, up, widthMm }: { right: number; up: number; widthMm: Mm },
): Mm {
  const pose = cameraPose(shot, 0)!;
  const { heightMm = 0, depthMm = 0 } = shot.subject.box ?? {};
  const isTop = Math.abs(tiltDeg(shot, 0)) > fromAboveDeg;
  const high = isTop ? { x: -pose.right.z, y: 0, z: pose.right.x } : { x: 0, y: 1, z: 0 };
  const aside = near === 'the top' || near === 'the bottom' ? 0 : (Math.sign(right) * widthMm) / 2;
  const above = near === 'one side' ? 0 : (Math.sign(up) * (isTop ? depthMm : heightMm)) / 2;
  const half = addScaled(addScaled({ x: 0, y: 0, z: 0 }, pose.right, aside), high, above);
  return lengthOf(addScaled(way, half, 1)) - lengthOf(subtract(way, half));
}

function wayTo(shot: Shot, lamp: LampPlace): Vec3 | undefined {
  const at = lampPosition(lamp, productPlace(shot), 0);
  return at && subtract(at, subjectPlace(shot));
}

/**
 * The light of a lamp at an end of the subject: at the middle it is known, and it goes with the distance along the line to
 * the lamp (the slant of the face is the same at both ends).
 */
function luxAt(shot: Shot, { lamp, lux }: LampLight, end: Vec3): Lux {
  const way = wayTo(shot, lamp);
  if (!way || lux === 0) return lux;
  const size = lampSize(lamp);
  const away = lengthOf(way);
  const nearer = dot(subtract(end, subjectPlace(shot)), way) / away;
  const gain = (mm: Mm) => distanceGain(size, Math.max(mm, 1) / 1000);
  return (lux * gain(away - nearer)) / gain(away);
}

/** Distance at which the fall-off is half a stop. */
function evenDistance(size: LampSize, acrossMm: Mm): Mm {
  let near = acrossMm / 2000 + 1e-4;
  let far = 50;
  for (let step = 0; step < 60; step++) {
    const middle = (near + far) / 2;
    if (fallOffStops(size, middle, acrossMm / 1000) > 0.5) near = middle;
    else far = middle;
  }
  return far * 1000;
}

function wholeCm(mm: Mm): Mm {
  return Math.ceil(mm / 10 - 1e-6) * 10;
}

/** Moves the lamp back where its level pays for it. */
function farther({ lamp }: LampLight, size: LampSize, evenMm: Mm): FixIdea[] {
  const now = lamp.distance!.value.from;
  const ratio = distanceGain(size, evenMm / 1000) / distanceGain(size, now / 1000);
  const level = (lamp.level?.value.from ?? 1) / ratio;
  if (level > 1 || !dims(lamp) || lamp.measured) return [];
  const [text, to] = [lengthText(evenMm), percentText(level)];
  const title = `Move ${quoted(lamp.name)} to ${text} and set its level to ${to} (as bright)`;
  return [set(title, [lamp, 'distance', text], [lamp, 'level', to])];
}
