/** The words of a title at their true size. */
import { safeBox } from '../../calc/safe-area.ts';
import { titleBox } from '../../core/derived/titles.ts';
import type { Deliverable, Title } from '../../core/film.ts';
import type { Raster } from '../../core/units.ts';
import { textWidth } from '../measure.ts';
import { smallest } from '../page.ts';
import type { Frame } from '../shapes.ts';
import { type El, el, from, ink, type Point, text } from '../svg.ts';

/** Capitals of a plain sans are this part of its size. */
const capitalShare = 0.716;

/** The words at their true size, on the colour that is behind them. */
export function titleDrawn(title: Title, deliverable: Deliverable, raster: Raster, frame: Frame): El[] {
  const scale = frame.width / raster.width;
  const box = titleBox(title, raster);
  const { x, y, anchor } = titlePlace(title, deliverable, raster, frame, box.heightPx * scale);
  const size = (box.capitalPx * scale) / capitalShare;
  const behind = title.panel ?? title.over;
  const width = Math.max(box.widthPx * scale, ...box.lines.map((one) => textWidth(one, size)));
  const left = anchor === 'middle' ? x - width / 2 : anchor === 'end' ? x - width : x;
  const pad = size * 0.3;
  const paper = { x: left - pad, y: y - pad, width: width + 2 * pad, height: box.heightPx * scale + 2 * pad };
  const back = el('rect', { ...paper, fill: behind?.value ?? ink.paper });
  const fill = behind ? title.colour : ink.ink;
  const words = box.lines.map((one, index) => {
    const foot = y + box.capitalPx * scale * (1 + index * 1.7);
    if (size >= smallest) return text({ x, y: foot }, one, { size, anchor, fill });
    // Too small to be read, so only the place that it takes is shown.
    return el('rect', { x: left, y: foot - box.capitalPx * scale, width, height: box.capitalPx * scale, fill });
  });
  return [from(title.text ?? title, [back, ...words])];
}

/** Top of the letters, and the side that they keep to, inside what is title-safe and free. */
function titlePlace(
  title: Title,
  { keepClear }: Deliverable,
  raster: Raster,
  frame: Frame,
  height: number,
): Point & { anchor: 'start' | 'middle' | 'end' } {
  const safe = safeBox({ widthPx: raster.width, heightPx: raster.height }, 'title');
  const [side, edge] = [(1 - safe.widthPx / raster.width) / 2, (1 - safe.heightPx / raster.height) / 2];
  const left = frame.x + Math.max(side, keepClear.left) * frame.width;
  const right = frame.x + (1 - Math.max(side, keepClear.right)) * frame.width;
  const top = frame.y + Math.max(edge, keepClear.top) * frame.height;
  const bottom = frame.y + (1 - Math.max(edge, keepClear.bottom)) * frame.height;
  const upright = title.place.startsWith('top')
    ? top
    : title.place.startsWith('bottom')
      ? bottom - height
      : (top + bottom - height) / 2;
  if (title.place.endsWith('left')) return { x: left, y: upright, anchor: 'start' };
  if (title.place.endsWith('right')) return { x: right, y: upright, anchor: 'end' };
  return { x: (left + right) / 2, y: upright, anchor: 'middle' };
}
