/** The centre lines of the set with their angles, and the floor. */
import type { Label } from '../labels.ts';
import type { Page } from '../page.ts';
import type { Scene } from '../scene.ts';
import { cornersOf, hatch } from '../shapes.ts';
import { type El, from, ink, line, type Point, strokes } from '../svg.ts';
import type { Scale, Side } from './scale.ts';
import { arrowHead, type Thing, upright } from './thing.ts';

const dashes = { stroke: ink.faint, 'stroke-width': 0.8, 'stroke-dasharray': '14 4 2 4' };

/** Centre lines through the product. */
export function guides({ middle }: Scene, side: Side, { place, area }: Scale): El[] {
  const centre = place(side.from === 'side' ? { ...middle, y: 0 } : middle);
  const across = line({ x: area.x, y: centre.y }, { x: area.x + area.width, y: centre.y }, dashes);
  if (side.from === 'side') return [across];
  return [across, line({ x: centre.x, y: area.y }, { x: centre.x, y: area.y + area.height }, dashes)];
}

/** Which angle is where, at the ends of the centre lines. */
export function guideLabels({ middle, shot }: Scene, side: Side, { place, area }: Scale, page: Page): Label[] {
  if (side.from === 'side') return [];
  const { x, y } = place(middle);
  const label = (at: Point, words: string, toward: Point): Label => ({
    at,
    clear: 5,
    lines: [{ words }],
    toward,
    size: 11,
    spare: true,
  });
  const [bottom, right] = [area.y + area.height, area.x + area.width];
  return [
    label({ x: area.x, y }, page.narrow ? '90°' : '90° camera left', { x: 1, y: -1 }),
    label({ x: right, y }, page.narrow ? '270°' : 'camera right 270°', { x: -1, y: -1 }),
    label({ x, y: area.y + 4 }, page.narrow ? '180°' : '180° behind', { x: 1, y: 0 }),
    label({ x, y: bottom - 8 }, shot.camera.angle ? '0°' : '0° camera', { x: 1, y: 0 }),
  ];
}

/** The floor with the height of the surface over it. */
export function floorOf({ shot, middle }: Scene, { place, area, floor }: Scale): Thing | undefined {
  if (!floor) return undefined;
  const height = shot.surface?.height;
  const level = place({ ...middle, y: 0 }).y;
  const x = area.x + 10;
  const strip = cornersOf({ x: area.x, y: floor.y, width: area.width, height: 6 });
  const ground = [
    line({ x: area.x, y: floor.y }, { x: area.x + area.width, y: floor.y }, { stroke: ink.line, 'stroke-width': 1.4 }),
    strokes(hatch(strip, 7, 135), { stroke: ink.line, 'stroke-width': 0.7 }),
  ];
  const isLow = floor.y - level < 30;
  const measure = isLow
    ? []
    : [
        ...upright(x, level, { place, area, floor, pxPerMm: 1, bottom: 0 }, { stroke: ink.line }),
        arrowHead({ x, y: level }, { x: 0, y: -1 }, ink.line, 6),
        arrowHead({ x, y: floor.y }, { x: 0, y: 1 }, ink.line, 6),
      ];
  const words =
    height && height.value > 0 ? `surface ${height.text} above the floor` : 'the product stands on the floor';
  return {
    ranges: [],
    drawn: [...ground, from(height, measure)],
    label: {
      at: { x, y: floor.y - (isLow ? 4 : 14) },
      clear: 5,
      lines: [{ words, range: height }],
      toward: { x: 1, y: -0.2 },
      size: 11,
    },
    ...(height && { tag: height.text }),
  };
}
