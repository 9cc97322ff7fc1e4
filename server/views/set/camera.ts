/** The camera with its lens, its way and what holds it. */
import { sensorUsed, tiltDeg } from '../../core/derived/optics.ts';
import type { Shot } from '../../core/film.ts';
import * as say from '../../core/say.ts';
import type { LabelLine } from '../labels.ts';
import type { Scene, SceneCamera } from '../scene.ts';
import { cornersOf, moved, toward } from '../shapes.ts';
import { type El, el, from, ink, type Point, polygon } from '../svg.ts';
import type { Scale, Side } from './scale.ts';
import { arrowHead, standOf, type Thing } from './thing.ts';

function cameraLines(camera: SceneCamera, shot: Shot, side: Side): LabelLine[] {
  const own = shot.camera;
  const tilt = tiltDeg(shot, 0);
  const height = own.height ? `lens ${own.height.text} high` : 'lens level with the subject';
  // From the side the angle itself is drawn.
  const looks =
    Math.abs(tilt) < 0.05 || side.from === 'side'
      ? ''
      : `, looks ${tilt > 0 ? 'down' : 'up'} ${say.angleText(Math.abs(tilt))}`;
  const angle = own.angle ? ` at ${own.angle.text}` : '';
  return [
    { words: `camera${angle}`, bold: true, range: own.angle ?? own.bodyName ?? own },
    { words: height + looks, range: own.height },
    ...lensLine(camera, shot),
    ...(own.slide ? [{ words: `slides ${own.slide.text}`, range: own.slide }] : []),
  ];
}

function lensLine({ lens }: SceneCamera, shot: Shot): LabelLine[] {
  const sensor = sensorUsed(shot);
  if (!lens || !sensor) return [];
  const angle = (2 * Math.atan(sensor.widthMm / 2 / lens.namedMm) * 180) / Math.PI;
  const words = `${say.num(lens.namedMm)} mm sees ${say.angleText(angle)} across`;
  return [{ words, range: shot.camera.lensName ?? shot.camera.focal }];
}

export function cameraOf({ camera, shot }: Scene, side: Side, scale: Scale): Thing | undefined {
  if (!camera) return undefined;
  const { place } = scale;
  const { pose, end, path } = camera;
  const own = shot.camera;
  const at = place(pose.at);
  const ahead = place({ x: pose.at.x + pose.forward.x, y: pose.at.y + pose.forward.y, z: pose.at.z + pose.forward.z });
  const seenEndOn = Math.hypot(ahead.x - at.x, ahead.y - at.y) < 0.2 * scale.pxPerMm;
  const way = toward(at, ahead);
  const drawn = seenEndOn ? cameraEndOn(at) : cameraAlong(at, way);
  const more: El[] = [];
  if (end) {
    const there = place(end.at);
    const points = path.map(place);
    more.push(polygon(points, { stroke: ink.accent, 'stroke-width': 1.4, 'stroke-dasharray': '5 3' }, true));
    more.push(arrowHead(there, toward(points.at(-2) ?? at, there), ink.accent));
  }
  const tilt = tiltDeg(shot, 0);
  if (side.from === 'side')
    more.push(
      ...standOf(
        scale,
        pose.at,
        !own.supportName || own.support?.standsOn === 'hand' ? 'none' : tilt > 60 ? 'overhead' : 'stand',
      ),
    );
  const lines = cameraLines(camera, shot, side);
  const body = seenEndOn ? at : moved(at, way, -18);
  return {
    ranges: [
      own.height,
      own.angle,
      own.slide,
      own.supportName,
      own.wayUpAt,
      own.offCentre,
      own.bodyName,
      own.stabiliser,
    ],
    drawn: [from(own.bodyName ?? own, drawn), from(own.slide ?? own.angle ?? own.distance, more)],
    label: {
      at: body,
      clear: 22,
      lines,
      toward: seenEndOn ? { x: -1, y: -0.6 } : side.from === 'above' ? { x: -way.y, y: way.x } : { x: 0, y: 1 },
    },
  };
}

/** Body behind, lens in front; the front of the lens is at the point. */
function cameraAlong(at: Point, way: Point): El[] {
  const off = { x: -way.y, y: way.x };
  const spot = (back: number, aside: number) => moved(moved(at, way, -back), off, aside);
  const lens = [spot(0, 8), spot(12, 6), spot(12, -6), spot(0, -8)];
  const body = [spot(12, 11), spot(36, 11), spot(36, -11), spot(12, -11)];
  const style = { fill: ink.ink, stroke: ink.ink, 'stroke-width': 1.2, 'stroke-linejoin': 'round' };
  return [polygon(lens, { ...style, fill: ink.paper }), polygon(body, style)];
}

function cameraEndOn({ x, y }: Point): El[] {
  const body = cornersOf({ x: x - 15, y: y - 11, width: 30, height: 22 });
  return [
    polygon(body, { fill: ink.paper, 'fill-opacity': 0.7, stroke: ink.ink, 'stroke-width': 2 }),
    el('circle', { cx: x, cy: y, r: 7, fill: 'none', stroke: ink.ink, 'stroke-width': 1.6 }),
    el('circle', { cx: x, cy: y, r: 1.5, fill: ink.ink }),
  ];
}
