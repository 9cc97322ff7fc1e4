import { doubledOffsetMm } from '../../calc/reflect.ts';
import { pxPerMmAt } from '../../core/derived/framing.ts';
import { deg } from '../../calc/geometry.ts';
import { cameraPose, subjectPlace } from '../../core/derived/optics.ts';
import { showingsOf } from '../../core/derived/showings.ts';
import type { Film, Shot } from '../../core/film.ts';
import { defineRule } from '../../core/rule.ts';
import { lengthText, num, quoted } from '../../core/say.ts';

/** Refraction of clear acrylic (1.49) and window glass (1.52), near enough to one number. */
const clearIndex = 1.5;

export default defineRule({
  id: 'doubled-reflection',
  family: 'optics',
  summary: 'A clear sheet over a mirroring layer draws every reflection twice.',
  severity: 'hint',
  sources: ['Snell’s law'],
  limits: {
    apart: {
      quantity: 'number',
      default: '2',
      meaning: 'How many delivered pixels the two reflections may lie apart.',
    },
  },
  messages: {
    doubled:
      '{shot}: a clear sheet of {thickness} reflects at its top and at the layer below it, {offset} apart as the camera sees it: every edge is drawn twice, {pixels} pixels apart in {deliverable}. A sheet coloured through, or a mirror silvered in front, has one reflection.',
  },
  shot(shot, { film, limits, report }) {
    const { surface } = shot;
    const grazing = grazingDeg(shot);
    if (!surface?.thickness || !isLayered(surface) || grazing === undefined) return;
    const finest = mostPixels(shot, film);
    if (!finest) return;
    const offset = doubledOffsetMm(surface.thickness.value, 90 - grazing, clearIndex);
    const pixels = offset * finest.pxPerMm;
    if (pixels <= limits.apart * (1 + 1e-6)) return;
    const data = {
      shot: shot.name,
      thickness: surface.thickness.text,
      offset: lengthText(offset),
      pixels: num(pixels, 0),
      deliverable: quoted(finest.name),
    };
    report({ message: 'doubled', data, at: surface.thickness, cause: surface.thickness, excess: pixels });
  },
});

const mirrors = new Set(['glossy', 'metallic', 'transparent']);

/** Acrylic, stone and lacquer are coloured through and mirror at their top alone, but for a sheet laid over something. */
function isLayered({ finish, material }: NonNullable<Shot['surface']>): boolean {
  if (!mirrors.has(finish)) return false;
  const text = material?.value ?? '';
  return (
    finish === 'transparent' ||
    /glass|mirror|clear/i.test(text) ||
    (/\b(?:over|on)\b/i.test(text) && !isDyed.test(text))
  );
}

const isDyed = /\b(?:black|white|gr[ea]y|opal|smoked?|colou?red|red|blue|green)\b.*\b(?:acrylic|sheet|disc|plate)\b/i;

/**
 * The angle at which the line from the lens to the mirrored subject, as far below the surface as the subject is above it,
 * meets the surface; undefined from below it.
 */
function grazingDeg(shot: Shot): number | undefined {
  const pose = cameraPose(shot, 0);
  if (!pose || pose.at.y <= 0) return undefined;
  const { x, y, z } = subjectPlace(shot);
  return Math.atan2(pose.at.y + y, Math.hypot(pose.at.x - x, pose.at.z - z)) * deg;
}

function mostPixels(shot: Shot, film: Film): { pxPerMm: number; name: string } | undefined {
  let most: { pxPerMm: number; name: string } | undefined;
  for (const { deliverables, views } of showingsOf(shot, film)) {
    for (const view of views) {
      const pxPerMm = pxPerMmAt(view, deliverables[0]) ?? 0;
      if (pxPerMm > (most?.pxPerMm ?? 0)) most = { pxPerMm, name: deliverables[0].name };
    }
  }
  return most;
}
