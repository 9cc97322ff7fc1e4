import { angleBetweenDeg, type CameraPose, deg, fromCamera, subtract, type Vec3 } from '../../calc/geometry.ts';
import type { EdgeTangents } from '../../calc/framing.ts';
import { hungBackdrop } from '../../core/derived/past-backdrop.ts';
import type { View } from '../../core/derived/framing.ts';
import { lampFace } from '../../core/derived/lamp-face.ts';
import { isKeptOff, lampPosition, lampSize } from '../../core/derived/light.ts';
import { once } from '../../core/memo.ts';
import { cameraPose, productPlace, subjectPlace } from '../../core/derived/optics.ts';
import { outlineOf, subjectCorners } from '../../core/derived/outline.ts';
import { type Showing, showingsOf } from '../../core/derived/showings.ts';
import type { Film, LampPlace, Shot } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { angleText, quoted } from '../../core/say.ts';
import { deliverablesText } from '../framing/framing-text.ts';
import { hides } from './hidden-by-backdrop.ts';

/** Room that a fix leaves between lamp and picture. */
const spareDeg = 5;

export default defineRule({
  id: 'lamp-in-shot',
  family: 'optics',
  summary: 'A lamp is in the picture, or shines into the lens from just outside it.',
  severity: 'warning',
  sources: ['geometry', 'common practice, no source (flare from lamps within about 10° of the picture)'],
  limits: {
    flare: {
      quantity: 'angle',
      default: '11°',
      meaning: 'A lamp behind the product that faces the lens is mentioned when it is nearer to the picture than this.',
    },
    dark: {
      quantity: 'angle',
      default: '15°',
      meaning: 'The same before a backdrop that comes out black, where a veil is seen most.',
    },
  },
  messages: {
    seen: '{shot}: {lamp} is in the picture of {deliverables}, by {by}. Move it aside, or zoom in.',
    flare:
      '{shot}: {lamp} shines towards the lens from {by} outside the picture of {deliverables}: expect flare and a veil over the blacks. Put a flag between them, and say `kept-off: lens`.',
  },
  shot(shot, { film, limits, report }) {
    for (const lamp of shot.lit) {
      if (!isSource(lamp)) continue;
      const found = nearest(shot, film, lamp);
      const flareDeg = shot.backdrop?.tone?.value === 'black' ? Math.max(limits.dark, limits.flare) : limits.flare;
      if (!found || found.clearDeg >= flareDeg) continue;
      const inside = found.clearDeg < -1e-6;
      if (!inside && (isShaded(lamp) || !facesLens(lamp, found) || isHidden(shot, film, found.place))) continue;
      // One that is in the picture of another shot is moved anyway, by as much as a fix leaves at least.
      if (found.clearDeg > spareDeg && lampsSeen(film).has(lamp.origin)) continue;
      const data = {
        shot: shot.name,
        lamp: quoted(lamp.name),
        deliverables: deliverablesText(found.showing),
        by: angleText(Math.abs(found.clearDeg)),
      };
      const at = lamp.angle ?? lamp;
      const excess = -found.clearDeg + flareDeg;
      const cause = { start: lamp.start, end: lamp.end, as: inside ? 'seen' : 'flare' };
      if (inside) report({ message: 'seen', data, at, excess, cause, fixes: () => turned(shot, film, lamp) });
      else report({ message: 'flare', data, at, excess, cause, severity: 'hint', fixes: () => [flagged(lamp)] });
    }
  },
});

/** The lamps, by where they first stood, that are in the picture of some shot. */
const lampsSeen = once((film: Film): ReadonlySet<string> => {
  const seen = new Set<string>();
  for (const shot of film.shots.values()) {
    for (const lamp of shot.lit) {
      if (isSource(lamp) && (nearest(shot, film, lamp)?.clearDeg ?? 0) < -1e-6) seen.add(lamp.origin);
    }
  }
  return seen;
});

/** One that is not meant to be seen. */
function isSource(lamp: LampPlace): boolean {
  return lamp.role?.value !== 'practical' && lamp.aim !== 'backdrop';
}

/** A flag keeps it off the lens; or it is a card, which gives back what the product gets too: no source that flares. */
function isShaded(lamp: LampPlace): boolean {
  return lamp.bounces !== undefined || isKeptOff(lamp, 'lens');
}

function flagged(lamp: LampPlace): FixIdea {
  const from = [...lamp.keptOff.map(({ value }) => value), 'lens'];
  const text = from.length > 1 ? `[${from.join(', ')}]` : 'lens';
  return set(`Say that a flag keeps ${quoted(lamp.name)} off the lens`, [lamp, 'kept-off', text]);
}

/** What stands behind the backdrop has to be moved anyway, and has a finding of its own. */
function isHidden(shot: Shot, film: Film, place: Vec3): boolean {
  const hung = hungBackdrop(shot, film);
  return hung !== undefined && hides(hung, place, productPlace(shot));
}

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
      const face = lampFace(lamp, place, shot, view.actionMoment);
      const clearDeg = clearOf(pose, face, view.edges);
      if (!all && clearDeg < 0 && behindSubject(showing, film, pose, face)) continue;
      if (!most || clearDeg < most.clearDeg) most = { showing, clearDeg, place, pose, target };
    }
  }
  return most;
}

/** A lamp that moves before a camera that stands: three looks. */
function moving({ views }: Showing): readonly View[] {
  return views.length > 1 ? views : [0, 0.5, 1].map((actionMoment) => ({ ...views[0], actionMoment }));
}

/**
 * Degrees from the lamp's nearest corner to the picture's edge, of the four edges the one that clears most; minus: in shot.
 * Each edge is a plane through the lens, so that corners beside and behind the lens count as what they are.
 */
function clearOf(pose: CameraPose, face: readonly Vec3[], edges: EdgeTangents): number {
  const corners = face.map((corner) => fromCamera(pose, corner));
  const outside = (past: (corner: (typeof corners)[0]) => number, edge: number) => {
    const sines = corners.map((one) => past(one) / Math.hypot(1, edge) / Math.hypot(one.right, one.up, one.along));
    return Math.asin(Math.min(1, Math.max(-1, Math.min(...sines)))) * deg;
  };
  const clear = Math.max(
    outside(({ right, along }) => right - edges.right * along, edges.right),
    outside(({ right, along }) => edges.left * along - right, edges.left),
    outside(({ up, along }) => up - edges.top * along, edges.top),
    outside(({ up, along }) => edges.bottom * along - up, edges.bottom),
  );
  return clear < 0 && !isAnyInside(corners, edges) ? 0 : clear;
}

/** A stand is set to a few centimetres. */
const byHand = 1.1;

/** A large lamp may pass a corner of the picture with none of it inside. */
function isAnyInside(corners: readonly Seen[], edges: EdgeTangents): boolean {
  const [a, c, d, b] = corners as [Seen, Seen, Seen, Seen];
  const steps = [0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1];
  const mix = (key: keyof Seen, x: number, y: number) =>
    (1 - x) * ((1 - y) * a[key] + y * b[key]) + x * ((1 - y) * c[key] + y * d[key]);
  return steps.some((x) =>
    steps.some((y) => {
      const along = mix('along', x, y);
      const right = mix('right', x, y) / along;
      const up = mix('up', x, y) / along;
      const level = right > edges.left * byHand && right < edges.right * byHand;
      return along > 0 && level && up > edges.bottom * byHand && up < edges.top * byHand;
    }),
  );
}

type Seen = ReturnType<typeof fromCamera>;

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
