import { lengthOf, subtract, type Vec3 } from '../../calc/geometry.ts';
import { poseInSet } from '../../core/derived/optics.ts';
import { cameraMoves } from '../../core/derived/time.ts';
import { lampStand } from '../../core/derived/backdrop-light.ts';
import type { LampPlace, Shot } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { angleText, lengthText, quoted } from '../../core/say.ts';
import type { Mm } from '../../core/units.ts';
import { isWindow, lampSides } from '../../core/derived/lamp-size.ts';

export default defineRule({
  id: 'two-in-one-place',
  family: 'optics',
  summary: 'Two lamps, or a lamp and the camera, stand in one place.',
  severity: 'warning',
  sources: ['geometry', 'common practice, no source (middles within 3 cm are one place)'],
  limits: {
    apart: {
      quantity: 'length',
      default: '3 cm',
      meaning: 'Nearer to each other than this, two things are in one place.',
    },
  },
  messages: {
    lamps:
      '{shot}: {lamp} and {other} stand within {apart} of each other, which is one place for two lamps. Put one beside the other.',
    camera:
      '{shot}: {lamp} stands where the lens is, within {apart}: one is in the way of the other, but for a ring of light round the lens. Put the lamp beside or above the camera.',
  },
  shot(shot, { limits, report }) {
    for (const [index, lamp] of shot.lit.entries()) {
      const at = lamp.angle ?? lamp;
      const data = { shot: shot.name, lamp: quoted(lamp.name) };
      const other = shot.lit.slice(0, index).find((one) => meets(shot, lamp, one, limits.apart));
      if (other) {
        const texts = { ...data, other: quoted(other.name), apart: lengthText(limits.apart) };
        report({ message: 'lamps', data: texts, at, fixes: aside(lamp, lampSides(other).levelMm) });
      }
      if (blocksLens(shot, lamp, limits.apart))
        report({
          message: 'camera',
          severity: 'info',
          data: { ...data, apart: lengthText(limits.apart) },
          at,
          fixes: aside(lamp, cameraMm),
        });
    }
  },
});

/** A camera with its lens, seen from the front. */
const cameraMm: Mm = 150;

/** Both at one moment of the action; places that one lamp goes through are no two lamps. */
function meets(shot: Shot, lamp: LampPlace, other: LampPlace, apart: Mm): boolean {
  if (lamp.origin === other.origin || [lamp, other].every(isWindow) || [lamp, other].every(isOfScene)) return false;
  const moments = lamp.changes || other.changes ? [0, 0.5, 1] : [0];
  return moments.some((moment) => areNear(lampStand(lamp, shot, moment), lampStand(other, shot, moment), apart));
}

/** Wicks of one candle and lights in one product are as near as they are built. */
function isOfScene({ role, lamp }: LampPlace): boolean {
  return role?.value === 'practical' || lamp?.kind?.value === 'flame';
}

function blocksLens(shot: Shot, lamp: LampPlace, apart: Mm): boolean {
  // The lens looks through a ring.
  if ([lamp.name, lamp.kitName.value].some((name) => /\bring\b/i.test(name))) return false;
  const moments = lamp.changes || cameraMoves(shot) ? [0, 0.5, 1] : [0];
  return moments.some((moment) => areNear(lampStand(lamp, shot, moment), poseInSet(shot, moment)?.at, apart));
}

function areNear(a: Vec3 | undefined, b: Vec3 | undefined, apart: Mm): boolean {
  return a !== undefined && b !== undefined && lengthOf(subtract(a, b)) < apart;
}

/** Round by as much as both are wide, and a hand between them. */
function aside(lamp: LampPlace, otherMm: Mm): FixIdea[] {
  const { angle, distance } = lamp;
  if (!angle || !distance || lamp.changes) return [];
  const way = (lampSides(lamp).levelMm + otherMm) / 2 + 100;
  const turn = Math.ceil((2 * Math.asin(Math.min(1, way / (2 * distance.value.from))) * 180) / Math.PI / 5) * 5;
  if (turn > 60) return [];
  const text = angleText((angle.value.from + turn) % 360);
  return [set(`Set angle of ${quoted(lamp.name)} to ${text} (beside it)`, [lamp, 'angle', text])];
}
