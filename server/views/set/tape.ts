/** The tape from the lens to the middle of the subject. */
import type { Scene } from '../scene.ts';
import { toward } from '../shapes.ts';
import { from, ink, line } from '../svg.ts';
import type { Scale, Side } from './scale.ts';
import { arrowHead, type Thing } from './thing.ts';

/** The tape from the lens to the middle of the subject. */
export function distanceOf({ camera, shot, middle }: Scene, side: Side, { place }: Scale): Thing | undefined {
  const { distance } = shot.camera;
  if (!camera || !distance) return undefined;
  const [a, b] = [place(camera.pose.at), place(middle)];
  if (Math.hypot(b.x - a.x, b.y - a.y) < 30) return undefined;
  const way = toward(a, b);
  const drawn = [
    line(a, b, { stroke: ink.accent, 'stroke-width': 1.2 }),
    arrowHead(b, way, ink.accent, 7),
    arrowHead(a, { x: -way.x, y: -way.y }, ink.accent, 7),
  ];
  const third = { x: a.x + (b.x - a.x) * 0.4, y: a.y + (b.y - a.y) * 0.4 };
  const label = {
    at: third,
    clear: 4,
    lines: [{ words: distance.text, bold: true, range: distance }],
    toward: side.from === 'above' ? { x: 1, y: 0 } : { x: 0, y: -1 },
    size: 13,
  };
  return { ranges: [distance], drawn: [from(distance, drawn)], label };
}
