import { lampFace } from '../../core/derived/lamp-face.ts';
import { isWindow, lampPosition } from '../../core/derived/light.ts';
import { productPlace } from '../../core/derived/optics.ts';
import { trial } from '../../core/derived/showings.ts';
import { isOnSurface, surfaceOutline } from '../../core/derived/surface-outline.ts';
import type { LampPlace, Shot } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { lengthText, num, quoted } from '../../core/say.ts';
import type { Mm } from '../../core/units.ts';

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
  },
  messages: {
    into: '{lamp}, {high} high with its middle {height} above the surface, would reach {by} into it. Raise its middle to {least}, or set it beside the surface.',
  },
  shot(shot, { limits, report }) {
    for (const lamp of shot.lit) {
      const found = into(lamp, shot);
      if (!found || found.byMm <= limits.into) continue;
      const least = `${num(Math.ceil((found.middleMm + found.byMm) / 10))} cm`;
      report({
        message: 'into',
        data: {
          lamp: quoted(lamp.name),
          high: lengthText(found.highMm),
          height: lengthText(found.middleMm),
          by: lengthText(found.byMm),
          least,
        },
        at: lamp.height!,
        // What is moved takes it over, and of one board several are cut.
        cause: lamp.size ?? lamp.height!,
        excess: found.byMm,
        fixes: () => [...laid(lamp, shot, limits.into), ...raised(lamp, least)],
      });
    }
  },
});

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

/** A board that would stand upright may lie. */
function laid(lamp: LampPlace, shot: Shot, allowMm: Mm): FixIdea[] {
  const size = lamp.size?.value;
  if (!size || size.heightMm <= size.widthMm) return [];
  const turned = { ...size, widthMm: size.heightMm, heightMm: size.widthMm };
  const found = into({ ...lamp, size: trial(turned) }, shot);
  if (!found || found.byMm > allowMm) return [];
  const text = `${num(turned.widthMm / 10)} x ${num(turned.heightMm / 10)} cm`;
  return [set(`Set size of ${quoted(lamp.name)} to ${text} (it lies on its long side)`, [lamp, 'size', text])];
}

function raised(lamp: LampPlace, least: string): FixIdea[] {
  if (lamp.changes) return [];
  return [set(`Set height of ${quoted(lamp.name)} to ${least} (it stands on the surface)`, [lamp, 'height', least])];
}
