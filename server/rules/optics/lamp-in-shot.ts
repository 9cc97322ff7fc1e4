import { angleBetweenDeg, type CameraPose, deg, fromCamera, subtract, type Vec3 } from '../../calc/geometry.ts';
import type { EdgeTangents } from '../../calc/framing.ts';
import { hungBackdrop } from '../../core/derived/behind.ts';
import type { View } from '../../core/derived/framing.ts';
import { lampPosition, lampSize } from '../../core/derived/light.ts';
import { cameraPose, productPlace, subjectPlace } from '../../core/derived/optics.ts';
import { outlineOf, subjectCorners } from '../../core/derived/outline.ts';
import { type Showing, showingsOf } from '../../core/derived/showings.ts';
import type { Film, LampPlace, Shot } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { angleText, quoted } from '../../core/say.ts';
import { deliverablesText } from '../framing/words.ts';
import { hides } from './lamp-behind-backdrop.ts';

/** Room that a fix leaves between lamp and picture. */
const spareDeg = 5;

export default defineRule({
  id: 'lamp-in-shot',
  family: 'optics',
  summary: 'A lamp is in the picture, or shines into the lens from just outside it.',
  severity: 'warning',
  sources: ['geometry', 'common practice, no source (flare from lamps within 15° of the picture)'],
  limits: {
    flare: {
      quantity: 'angle',
      default: '15°',
      meaning: 'A lamp behind the product that faces the lens is mentioned when it is nearer to the picture than this.',
    },
  },
  messages: {
    seen: '{shot}: {lamp} is in the picture of {deliverables}, by {by}. Move it aside, or zoom in.',
    flare:
      '{shot}: {lamp} shines towards the lens from {by} outside the picture of {deliverables}: expect flare and a veil over the blacks unless a flag shades the lens.',
  },
  shot(shot, { film, limits, report }) {
    for (const lamp of shot.lit) {
      if (lamp.role?.value === 'practical' || lamp.aim === 'backdrop') continue;
      const found = nearest(shot, film, lamp);
      if (!found || found.clearDeg >= limits.flare) continue;
      const inside = found.clearDeg < -1e-6;
      if (!inside && !facesLens(lamp, found)) continue;
      const data = {
        shot: shot.name,
        lamp: quoted(lamp.name),
        deliverables: deliverablesText(found.showing),
        by: angleText(Math.abs(found.clearDeg)),
      };
      const at = lamp.angle ?? lamp;
      if (inside) report({ message: 'seen', data, at, fixes: () => turned(shot, film, lamp) });
      else report({ message: 'flare', data, at, severity: 'hint' });
    }
  },
});

interface Near {
  readonly showing: Showing;
  readonly clearDeg: number;
  readonly place: Vec3;
  readonly pose: CameraPose;
  readonly target: Vec3;
}

/** How near a lamp comes to the picture, over all that is shown of the shot; one hidden by the subject counts with `all`. */
function nearest(shot: Shot, film: Film, lamp: LampPlace, all = false): Near | undefined {
  const target = subjectPlace(shot);
  const hung = hungBackdrop(shot, film);
  let most: Near | undefined;
  for (const showing of showingsOf(shot, film)) {
    for (const view of lamp.changes ? moving(showing) : showing.views) {
      const pose = cameraPose(shot, view.actionMoment);
      const place = lampPosition(lamp, productPlace(shot), view.actionMoment);
      if (!pose || !place || !view.edges || place.y < 0) continue;
      if (fromCamera(pose, place).along <= 0 || (hung && hides(hung, place, pose.at))) continue;
      const clearDeg = clearOf(pose, place, target, lamp, view.edges);
      if (!all && clearDeg < 0 && behindSubject(showing, film, pose, cornersOf(place, target, lamp))) continue;
      if (!most || clearDeg < most.clearDeg) most = { showing, clearDeg, place, pose, target };
    }
  }
  return most;
}

/** A lamp that moves before a camera that stands: three looks. */
function moving({ views }: Showing): readonly View[] {
  return views.length > 1 ? views : [0, 0.5, 1].map((actionMoment) => ({ ...views[0], actionMoment }));
}

/** Degrees from the lamp's nearest edge to the picture's, of width and height the one that clears more; minus: in shot. */
function clearOf(pose: CameraPose, place: Vec3, target: Vec3, lamp: LampPlace, edges: EdgeTangents): number {
  let left = Infinity;
  let right = -Infinity;
  let bottom = Infinity;
  let top = -Infinity;
  for (const corner of cornersOf(place, target, lamp)) {
    const seen = fromCamera(pose, corner);
    const side = Math.atan2(seen.right, seen.along) * deg;
    const up = Math.atan2(seen.up, Math.hypot(seen.right, seen.along)) * deg;
    left = Math.min(left, side);
    right = Math.max(right, side);
    bottom = Math.min(bottom, up);
    top = Math.max(top, up);
  }
  const aside = Math.max(left - Math.atan(edges.right) * deg, Math.atan(edges.left) * deg - right);
  const above = Math.max(bottom - Math.atan(edges.top) * deg, Math.atan(edges.bottom) * deg - top);
  return Math.max(aside, above);
}

/** The corners of what shines, facing what it aims at. */
function cornersOf(place: Vec3, target: Vec3, lamp: LampPlace): Vec3[] {
  const { widthM, heightM } = lampSize(lamp);
  const long = Math.max(widthM, heightM) * 1000;
  const short = Math.min(widthM, heightM) * 1000;
  const [wide, high] = lamp.longSide === 'upright' ? [short, long] : [long, short];
  const toward = subtract(target, place);
  const level = Math.hypot(toward.x, toward.z) || 1;
  const corner = (x: number, y: number): Vec3 => ({
    x: place.x + (x * wide * toward.z) / level,
    y: place.y + y * high,
    z: place.z - (x * wide * toward.x) / level,
  });
  return [corner(-0.5, -0.5), corner(-0.5, 0.5), corner(0.5, -0.5), corner(0.5, 0.5)];
}

/** Is all of the lamp covered by the subject? */
function behindSubject({ shot, turns }: Showing, film: Film, pose: CameraPose, lamp: readonly Vec3[]): boolean {
  const points = subjectCorners(shot, film, turns[0]!);
  if (!points) return false;
  const hidden = outlineOf(pose, lamp);
  const cover = outlineOf(pose, points);
  const within = hidden.left > cover.left && hidden.right < cover.right && hidden.bottom > cover.bottom;
  return within && hidden.top < cover.top;
}

/** Does it stand behind the product with its beam reaching the lens? */
function facesLens(lamp: LampPlace, { place, pose, target }: Near): boolean {
  if (fromCamera(pose, place).along < fromCamera(pose, target).along) return false;
  const off = angleBetweenDeg(subtract(target, place), subtract(pose.at, place));
  return off < (lampSize(lamp).beamDeg ?? 120) / 2;
}

/** The least change of its angle that keeps it out of the picture with something to spare. */
function turned(shot: Shot, film: Film, lamp: LampPlace): FixIdea[] {
  const { angle } = lamp;
  if (!angle || lamp.changes) return [];
  for (let step = 5; step <= 90; step += 5) {
    for (const sign of [-1, 1]) {
      const now = (((angle.value.from + sign * step) % 360) + 360) % 360;
      const tried = { ...lamp, angle: { ...angle, value: { from: now, to: now } } };
      const there = nearest(shot, film, tried, true);
      if (there && there.clearDeg < spareDeg) continue;
      return [
        set(`Set angle of ${quoted(lamp.name)} to ${angleText(now)} (out of the picture)`, [
          lamp,
          'angle',
          angleText(now),
        ]),
      ];
    }
  }
  return [];
}
