/** What is safe of a finished picture, and what the player covers. */
import { safeBox } from '../../calc/safe-area.ts';
import type { Deliverable } from '../../core/film.ts';
import type { Raster } from '../../core/units.ts';
import { cornersOf, type Frame, hatch } from '../shapes.ts';
import { type El, from, ink, polygon, strokes } from '../svg.ts';

export function safeAreas({ keepClear, fields }: Deliverable, raster: Raster, frame: Frame): El[] {
  const scale = frame.width / raster.width;
  const inner = (area: 'action' | 'title', dashes: string) => {
    const box = safeBox({ widthPx: raster.width, heightPx: raster.height }, area);
    const [width, height] = [box.widthPx * scale, box.heightPx * scale];
    const place = { x: frame.x + (frame.width - width) / 2, y: frame.y + (frame.height - height) / 2, width, height };
    return polygon(cornersOf(place), { stroke: ink.soft, 'stroke-width': 0.9, 'stroke-dasharray': dashes });
  };
  const { x, y, width, height } = frame;
  const bands: Frame[] = [
    { x, y, width, height: keepClear.top * height },
    { x, y: y + (1 - keepClear.bottom) * height, width, height: keepClear.bottom * height },
    { x, y, width: keepClear.left * width, height },
    { x: x + (1 - keepClear.right) * width, y, width: keepClear.right * width, height },
  ].filter((band) => band.width > 0.5 && band.height > 0.5);
  const covered = bands.flatMap((band) => {
    const corners = cornersOf(band);
    const style = { stroke: ink.ink, 'stroke-width': 0.6 };
    return [polygon(corners, style), strokes([...hatch(corners, 8, 45), ...hatch(corners, 8, 135)], style)];
  });
  return [from(fields.node('keep-clear'), covered), inner('action', '1.5 3'), inner('title', '6 3')];
}
