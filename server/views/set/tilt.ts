/** How steeply the camera looks, as an angle to the level. Only seen from the side. */
import { tiltDeg } from '../../core/derived/optics.ts';
import * as say from '../../core/say.ts';
import type { Scene } from '../scene.ts';
import { moved, toward } from '../shapes.ts';
import { from, ink, line, type Point, polygon } from '../svg.ts';
import type { Scale, Side } from './scale.ts';
import type { Thing } from './thing.ts';

export function tiltOf({ camera, shot, middle }: Scene, side: Side, { place }: Scale): Thing | undefined {
  const tilt = tiltDeg(shot, 0);
  if (!camera || side.from !== 'side' || Math.abs(tilt) < 0.5) return undefined;
  const at = place(camera.pose.at);
  const way = toward(at, place(middle));
  const radius = Math.min(64, Math.max(24, Math.hypot(place(middle).x - at.x, place(middle).y - at.y) * 0.6));
  const full = Math.atan2(way.y, way.x);
  const arc = Array.from({ length: 13 }, (_, index): Point => {
    const angle = (full * index) / 12;
    return { x: at.x + radius * Math.cos(angle), y: at.y + radius * Math.sin(angle) };
  });
  const words = `looks ${tilt > 0 ? 'down' : 'up'} ${say.angleText(Math.abs(tilt))}`;
  const style = { stroke: ink.accent, 'stroke-width': 1 };
  return {
    ranges: [],
    drawn: [
      from(shot.camera.height, [
        line(at, moved(at, { x: 1, y: 0 }, radius + 14), { ...style, 'stroke-dasharray': '4 3' }),
        polygon(arc, style, true),
      ]),
    ],
    label: {
      at: arc[6]!,
      clear: 6,
      lines: [{ words, range: shot.camera.height }],
      toward: { x: 0.6, y: tilt > 0 ? -1 : 1 },
      size: 11,
    },
    tag: say.angleText(Math.abs(tilt)),
  };
}
