/** What of the set is seen in a frame: backdrop, surface, lamps, product and the limits of focus. */
import { surfaceCorners } from '../../core/derived/surface-outline.ts';
import { addScaled, type Vec3 } from '../../calc/geometry.ts';
import type { LitScene } from '../../core/derived/lit/scene.ts';
import { cameraPose, lensAt, sharpZone } from '../../core/derived/optics.ts';
import { subjectCorners } from '../../core/derived/outline.ts';
import { seen } from '../../core/derived/sight.ts';
import { fitted } from '../measure.ts';
import type { Label } from '../labels.ts';
import { litElement } from '../lit/index.ts';
import { smallest } from '../page.ts';
import { productAs } from '../../core/derived/showings.ts';
import type { Scene } from '../scene.ts';
import { clipped, cornersOf, type Frame, hatch } from '../shapes.ts';
import { type El, from, ink, line, type Point, polygon, strokes } from '../svg.ts';
import { outlineIn, type Sight } from './lens.ts';
import type { Seen } from './panel.ts';

/** Backdrop, surface, lamps, product and the limits of focus, cut to the frame. */
export function contents(sight: Sight, detail: boolean): Seen[] {
  const { scene, pose, flat, frame } = sight;
  const { shot, hung } = scene;
  const box = cornersOf(frame);
  const cut = (outline: readonly Vec3[]) => clipped(seen(pose, outline, flat), box);
  const wall = hung && cut(wallOutline(hung));
  const board = cut(boardOutline(scene));
  const drawn: El[] = [];
  if (hung)
    drawn.push(
      strokes(hatch(box, 9, 45), { stroke: ink.line, 'stroke-width': 0.6 }),
      strokes(hatch(box, 9, 135), { stroke: ink.line, 'stroke-width': 0.6 }),
    );
  if (wall && wall.length > 2)
    drawn.push(
      from(shot.backdrop!.size ?? shot.backdrop, [
        polygon(wall, { fill: ink.paper, stroke: 'none' }),
        polygon(wall, { fill: shot.backdrop!.colour?.value ?? ink.paper, 'fill-opacity': 0.22, stroke: ink.ink }),
      ]),
    );
  if (shot.surface && board.length > 2)
    drawn.push(
      from(shot.surface, [
        polygon(board, { fill: ink.paper, stroke: 'none' }),
        polygon(board, {
          fill: shot.surface.colour?.value ?? ink.line,
          'fill-opacity': 0.2,
          stroke: ink.ink,
          'stroke-width': 0.8,
        }),
      ]),
    );
  const product = { drawn: products(sight), labels: [] };
  const set = { drawn, labels: [] };
  return detail ? [set, ...lampsSeen(sight, box), product, ...focusLines(sight)] : [set, product];
}

/** The same as the camera will see it, which leads to the settings of the camera. */
export function litContents({ shot, film }: Scene, lit: LitScene, frame: Frame): Seen {
  return { drawn: [from(shot.camera, [litElement(lit, film, frame)])], labels: [] };
}

function wallOutline({ halfWidthMm: half, bottomMm, topMm, behindMm: z }: NonNullable<Scene['hung']>): Vec3[] {
  return [
    { x: -half, y: bottomMm, z },
    { x: half, y: bottomMm, z },
    { x: half, y: topMm, z },
    { x: -half, y: topMm, z },
  ];
}

/** Without a size the surface counts as reaching to the backdrop. */
function boardOutline({ surface, hung, shot }: Scene): Vec3[] {
  const back = hung?.behindMm ?? shot.backdrop?.behind?.value ?? 5000;
  const { halfWidthMm, frontMm, backMm } = surface ?? { halfWidthMm: 20_000, frontMm: -20_000, backMm: back };
  return surfaceCorners({ halfWidthMm, frontMm, backMm: Math.min(back, backMm) });
}

function lampsSeen({ scene: { lamps, hung }, pose, flat }: Sight, box: readonly Point[]): Seen[] {
  return lamps.flatMap(({ lamp, face, at }) => {
    if (hung && at.z > hung.behindMm) return [];
    const outline = clipped(seen(pose, face, flat), box);
    if (outline.length < 3) return [];
    const middle = outline.reduce(
      (sum, one) => ({ x: sum.x + one.x / outline.length, y: sum.y + one.y / outline.length }),
      { x: 0, y: 0 },
    );
    const lines = strokes(hatch(outline, 4, 0), { stroke: ink.alarm, 'stroke-width': 0.7 });
    const words = fitted(`lamp ${lamp.name}`, smallest, 120, true);
    return {
      drawn: [from(lamp, [polygon(outline, { stroke: ink.alarm, 'stroke-width': 1.4 }), lines])],
      labels: [{ at: middle, clear: 4, lines: [{ words, bold: true, range: lamp }], size: smallest }],
    };
  });
}

/** The product as it stands at the start, its outline at the end, and the subject where that is a part. */
function products(sight: Sight): El[] {
  const { scene, showing, flat, frame } = sight;
  const { shot, film } = scene;
  const { views, turns } = showing;
  const whole = productAs(shot, film);
  const [start, end] = [turns[0]!, turns.at(-1)!];
  const tint = film.product.colour?.value;
  const style = { fill: tint ?? ink.paper, 'fill-opacity': tint ? 0.4 : 0.75, stroke: ink.ink, 'stroke-width': 1.7 };
  const drawn: El[] = [];
  const body = outlineIn(subjectCorners(whole, film, start), sight);
  if (body.length > 2) {
    const faces = facesIn(subjectCorners(whole, film, start)!, sight);
    const sides = faces.map((face) => polygon(face, { stroke: ink.ink, 'stroke-width': 0.9 }));
    const filled = [polygon(body, { fill: ink.paper, stroke: 'none' }), polygon(body, style), ...sides];
    drawn.push(from(film.product.size ?? film.product, filled));
  }
  const moment = views.at(-1)!.actionMoment;
  const later = moment === views[0].actionMoment && start === end ? undefined : cameraPose(shot, moment);
  const ended = later ? outlineIn(subjectCorners(whole, film, end), { pose: later, flat, frame }) : [];
  if (ended.length > 2) drawn.push(polygon(ended, { stroke: ink.ink, 'stroke-dasharray': '5 3' }));
  const part = shot.subject.name === 'product' ? [] : outlineIn(subjectCorners(shot, film, start), sight);
  if (part.length > 2) drawn.push(from(shot.subject, [polygon(part, { stroke: ink.ink, 'stroke-width': 2.4 })]));
  return drawn;
}

/** The faces of a box that look at the lens; of a round thing only its top. Corners come in pairs, below and above. */
function facesIn(corners: readonly Vec3[], { pose, flat, frame }: Sight): Point[][] {
  const [below, above] = [0, 1].map((odd) => corners.filter((_, index) => index % 2 === odd)) as [Vec3[], Vec3[]];
  const faces: Vec3[][] = pose.at.y > above[0]!.y ? [above] : [];
  if (below.length === 4) {
    below.forEach((a, index) => {
      const next = (index + 1) % 4;
      const b = below[next]!;
      // Outward across the side from a to b, which run clockwise about the middle in x and z.
      const looks = (pose.at.x - a.x) * (b.z - a.z) + (pose.at.z - a.z) * (a.x - b.x);
      if (looks > 0) faces.push([a, b, above[next]!, above[index]!]);
    });
  }
  return faces.map((face) => clipped(seen(pose, face, flat), cornersOf(frame))).filter((face) => face.length > 2);
}

/** Where the near and the far limit of focus cross the surface. */
function focusLines({ scene: { shot }, showing: { views }, pose, flat, frame }: Sight): Seen[] {
  const lens = lensAt(shot, views[0].actionMoment);
  const zone = lens && sharpZone(lens, views[0].zoom);
  if (!zone || Math.abs(pose.up.y) < 0.05 || !shot.surface) return [];
  const limits = [
    { words: 'near limit of focus', mm: zone.nearMm, way: 1 },
    { words: 'far limit of focus', mm: zone.farMm, way: -1 },
  ].filter((one) => Number.isFinite(one.mm));
  const crossing = limits.flatMap(({ words, mm, way }) => {
    const up = -(pose.at.y + pose.forward.y * mm) / pose.up.y / mm;
    const behind = shot.backdrop?.behind?.value ?? Infinity;
    const depth = addScaled(addScaled(pose.at, pose.forward, mm), pose.up, up * mm).z;
    const y = flat({ x: 0, y: up }).y;
    if (y < frame.y + 2 || y > frame.y + frame.height - 2 || depth > behind) return [];
    const [a, b] = [
      { x: frame.x, y },
      { x: frame.x + frame.width, y },
    ];
    const range = shot.camera.aperture ?? shot.camera.focus;
    return {
      words,
      range,
      at: b,
      way,
      drawn: [from(range, [line(a, b, { stroke: ink.accent, 'stroke-width': 1.2, 'stroke-dasharray': '10 3 2 3' })])],
    };
  });
  // Two names would seldom stand beside their lines.
  const last = crossing.at(-1);
  const label = ({ words, range, at, way }: (typeof crossing)[number]): Label => ({
    at,
    clear: 5,
    lines: [{ words: crossing.length > 1 ? 'limits of focus' : words, range }],
    toward: { x: -1, y: way },
    size: smallest,
    spare: true,
  });
  return crossing.map((one) => ({ drawn: one.drawn, labels: one === last ? [label(one)] : [] }));
}
