import { doubledOffsetMm } from '../../calc/reflect.ts';
import { pxPerMmAt } from '../../core/derived/framing.ts';
import { tiltDeg } from '../../core/derived/optics.ts';
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
    const tilt = tiltDeg(shot, 0);
    if (!surface?.thickness || !mirrors.has(surface.finish) || tilt <= 0) return;
    const finest = mostPixels(shot, film);
    if (!finest) return;
    const offset = doubledOffsetMm(surface.thickness.value, 90 - tilt, clearIndex);
    const pixels = offset * finest.pxPerMm;
    if (pixels <= limits.apart * (1 + 1e-6)) return;
    const data = {
      shot: shot.name,
      thickness: surface.thickness.text,
      offset: lengthText(offset),
      pixels: num(pixels, 0),
      deliverable: quoted(finest.name),
    };
    report({ message: 'doubled', data, at: surface.thickness });
  },
});

const mirrors = new Set(['glossy', 'metallic', 'transparent']);

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
