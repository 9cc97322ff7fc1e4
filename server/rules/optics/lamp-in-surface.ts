import { lampFace } from '../../core/derived/lamp-face.ts';
import { faceLight, lampPosition } from '../../core/derived/light.ts';
import { productPlace } from '../../core/derived/optics.ts';
import { still, trial, tryLamp } from '../../core/derived/showings.ts';
import { isOnSurface, surfaceOutline } from '../../core/derived/surface-outline.ts';
import type { LampPlace, Shot } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { lengthText, num, quoted } from '../../core/say.ts';
import type { Mm, Stops } from '../../core/units.ts';
import { isWindow } from '../../core/derived/lamp-size.ts';

export default defineRule({
  id: 'lamp-in-surface',
  family: 'optics',
  summary: 'A lamp or a board over the surface is so large, or so low, that it would reach into it.',
  severity: 'info',
  sources: ['geometry'],
  limits: {
    into: {
      quantity: 'length',
      default: '5 cm',
      meaning: 'How far it may reach into the surface: that is put right where it stands.',
    },
    light: {
      quantity: 'stops',
      default: '0.33 stops',
      meaning: 'How much the light that a board gives may change when it stands on the surface.',
    },
  },
  messages: {
    into: '{lamp}, {high} high with its middle {height} above the surface, would reach {by} into it. Raise its middle to {least}, or set it beside the surface.',
  },
  shot(shot, { limits, report }) {
    for (const lamp of shot.lit) {
      const found = into(lamp, shot);
      if (!found || found.byMm <= limits.into) continue;
      // A board is stood on the surface by whoever holds it: that matters where the shadows come out otherwise.
      if (lamp.bounces && lightChange(lamp, shot, found) <= limits.light) continue;
      const least = wholeCm(Math.ceil((found.middleMm + found.byMm) / 10) * 10);
      report({
        message: 'into',
        data: {
          lamp: quoted(lamp.name),
          high: wholeCm(found.highMm),
          height: lengthText(found.middleMm),
          by: wholeCm(found.byMm),
          least,
        },
        at: lamp.height!,
        // What is moved takes it over, and of one board several are cut.
        cause: lamp.size ?? lamp.height!,
        excess: found.byMm,
        // It is moved for all shots that it lights, whichever it was looked at in.
        fixes: () => [...laid(lamp, shot), ...raised(lamp, least)].map((idea) => ({ ...idea, isNamed: true })),
      });
    }
  },
});

/** Half a millimetre comes of a board that leans by a degree. */
function wholeCm(mm: Mm): string {
  return `${num(mm / 10, 0)} cm`;
}

interface Into {
  /** As it stands: a face that looks down is lower than it is long. */
  readonly highMm: Mm;
  readonly middleMm: Mm;
  readonly byMm: Mm;
}

/** How far its lower edge is below the surface that it stands over; undefined where it stands beside it, or has no size. */
function into(lamp: LampPlace, shot: Shot): Into | undefined {
  const outline = surfaceOutline(shot);
  const product = productPlace(shot);
  const at = lampPosition(lamp, product, 0);
  // Where no height is said nobody has measured one.
  if (!outline || !at || !lamp.height || lamp.aim === 'backdrop' || isWindow(lamp)) return undefined;
  if (!isOnSurface(outline, at)) return undefined;
  const heights = lampFace(lamp, at, shot, 0).map(({ y }) => y);
  const highMm = Math.max(...heights) - Math.min(...heights);
  return highMm > 0 ? { highMm, middleMm: at.y, byMm: highMm / 2 - at.y } : undefined;
}

/** How much more or less a board gives the subject when it stands on the surface: without end where it can't stand there. */
function lightChange(lamp: LampPlace, shot: Shot, { middleMm, byMm }: Into): Stops {
  const standing = tryLamp(shot, lamp, { height: still(middleMm + byMm) });
  const [planned, stood] = [shot, standing].map((one) => {
    return faceLight(one, 0).lamps.find((other) => other.lamp.name === lamp.name)?.lux ?? 0;
  });
  return planned === 0 && stood === 0 ? 0 : Math.abs(Math.log2(planned! / stood!));
}

/** A board that would stand upright may lie, as low as it then can. */
function laid(lamp: LampPlace, shot: Shot): FixIdea[] {
  const size = lamp.size?.value;
  if (!size || size.heightMm <= size.widthMm) return [];
  const turned = { ...size, widthMm: size.heightMm, heightMm: size.widthMm };
  const found = into({ ...lamp, size: trial(turned) }, shot);
  if (!found || (found.byMm > 1 && lamp.changes)) return [];
  const text = `${num(turned.widthMm / 10)} x ${num(turned.heightMm / 10)} cm`;
  const name = quoted(lamp.name);
  if (found.byMm <= 1) return [set(`Set size of ${name} to ${text} (it lies on its long side)`, [lamp, 'size', text])];
  const height = wholeCm(Math.ceil((found.middleMm + found.byMm) / 10) * 10);
  const title = `Set size of ${name} to ${text} and height to ${height} (it lies on its long side)`;
  return [set(title, [lamp, 'size', text], [lamp, 'height', height])];
}

function raised(lamp: LampPlace, least: string): FixIdea[] {
  if (lamp.changes) return [];
  return [set(`Set height of ${quoted(lamp.name)} to ${least} (it stands on the surface)`, [lamp, 'height', least])];
}
