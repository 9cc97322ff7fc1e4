import { doubledOffsetMm } from '../../calc/reflect.ts';
import { pxPerMmAt } from '../../core/derived/framing.ts';
import { addScaled, deg, fromCamera, lengthOf, subtract } from '../../calc/geometry.ts';
import { cameraPose, productPlace, subjectPlace } from '../../core/derived/optics.ts';
import { type Picture, picturesOf, showingsOf } from '../../core/derived/showings.ts';
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
  if (isSilveredInFront.test(text)) return false;
  return (
    finish === 'transparent' ||
    /glass|mirror|clear/i.test(text) ||
    (/\b(?:over|on)\b/i.test(text) && !isDyed.test(text))
  );
}

const isSilveredInFront = /\b(?:front|first)[ -](?:surface|silvered)|silvered in front/i;
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
  for (const picture of picturesOf(showingsOf(shot, film))) {
    const [deliverable] = picture.showing.deliverables;
    const pxPerMm = showsFoot(picture, shot, film) ? (pxPerMmAt(picture.view, deliverable) ?? 0) : 0;
    if (pxPerMm > (most?.pxPerMm ?? 0)) most = { pxPerMm, name: deliverable.name };
  }
  return most;
}

/** The reflection begins at the foot of the product: what shows nothing down to there shows none of it. */
function showsFoot({ view, pose }: Picture, shot: Shot, { product: { size } }: Film): boolean {
  const middle = productPlace(shot);
  const { widthMm = 0, heightMm = 0, depthMm = 0 } = size?.value ?? {};
  const toCamera = { ...subtract(pose.at, middle), y: 0 };
  const reach = Math.min(widthMm, depthMm) / 2 / Math.max(1, lengthOf(toCamera));
  const foot = addScaled({ ...middle, y: middle.y - heightMm / 2 }, toCamera, reach);
  const { up, along } = fromCamera(pose, foot);
  return view.edges !== undefined && along > 0 && up / along > view.edges.bottom;
}
