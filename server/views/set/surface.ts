/** What the product stands on. */
import { surfaceCorners } from '../../core/derived/surface-outline.ts';
import { hull } from '../../calc/plane.ts';
import type { LabelLine } from '../labels.ts';
import { blockRange } from '../picture.ts';
import type { Scene } from '../scene.ts';
import { around, cornersOf, type Frame, hatch } from '../shapes.ts';
import { type El, from, ink, polygon, strokes } from '../svg.ts';
import type { Scale, Side } from './scale.ts';
import { type Thing, upright } from './thing.ts';

export function surfaceOf({ surface, shot, floorMm }: Scene, side: Side, scale: Scale): Thing | undefined {
  const { place } = scale;
  const block = shot.surface;
  if (!block) return undefined;
  const words = [block.material?.value ?? 'surface', block.finish].join(', ');
  const lines: LabelLine[] = [{ words, range: block.material ?? block }];
  const ranges = [blockRange(block)];
  if (!surface) {
    if (side.from === 'above') return undefined;
    const at = place({ x: 0, y: 0, z: 0 });
    return {
      ranges,
      drawn: [],
      label: { at: { x: scale.area.x + 24, y: at.y }, clear: 4, lines, toward: { x: 0, y: 1 }, size: 11 },
    };
  }
  const corners = surfaceCorners(surface).map(place);
  lines.push({ words: block.size!.text, range: block.size });
  if (side.from === 'above') {
    const outline = hull(corners);
    const edge = outline.reduce((one, other) => (other.x + other.y > one.x + one.y ? other : one));
    const drawn = [polygon(outline, { fill: ink.shade, stroke: ink.line, 'stroke-width': 1.2 })];
    const label = { at: { x: edge.x - 4, y: edge.y }, clear: 3, lines, toward: { x: 0.3, y: 1 }, size: 11 };
    return { ranges, drawn: [from(block, drawn)], label };
  }
  const frame = around(corners)!;
  const board = { x: frame.x, y: frame.y, width: frame.width, height: 6 };
  const outline = cornersOf(board);
  const drawn = [
    polygon(outline, { fill: ink.shade, stroke: ink.ink }),
    strokes(hatch(outline, 5, 60), { stroke: ink.line, 'stroke-width': 0.7 }),
  ];
  if (floorMm !== undefined && floorMm < 0) drawn.push(...legs(board, scale));
  const label = {
    at: { x: board.x + board.width - 4, y: board.y + 8 },
    clear: 3,
    lines,
    toward: { x: 0, y: 1 },
    size: 11,
  };
  return { ranges, drawn: [from(block, drawn)], label };
}

function legs(board: Frame, scale: Scale): El[] {
  const style = { stroke: ink.line, 'stroke-width': 1.2 };
  return [board.x + 10, board.x + board.width - 10].flatMap((x) => upright(x, board.y + board.height, scale, style));
}
