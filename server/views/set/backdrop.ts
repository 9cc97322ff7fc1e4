/** What hangs behind the product. */
import type { Backdrop } from '../../core/film.ts';
import type { LabelLine } from '../labels.ts';
import { blockRange } from '../picture.ts';
import type { Scene } from '../scene.ts';
import { around, cornersOf, hatch } from '../shapes.ts';
import { from, ink, polygon, strokes } from '../svg.ts';
import type { Scale, Side } from './scale.ts';
import type { Thing } from './thing.ts';

export function backdropOf({ hung, shot, camera }: Scene, side: Side, { place }: Scale): Thing | undefined {
  const block = shot.backdrop;
  if (!block?.behind) return undefined;
  const z = block.behind.value;
  const wide = camera?.sees.map((point) => point.x) ?? [];
  const half = hung?.halfWidthMm ?? Math.max(300, ...wide.map(Math.abs));
  const [low, high] = hung
    ? [hung.bottomMm, hung.topMm]
    : [0, Math.max(300, ...(camera?.sees ?? []).map((one) => one.y))];
  const corners = [-1, 1].flatMap((x) => [low, high].map((y) => place({ x: x * half, y, z })));
  const frame = around(corners)!;
  const thick = 7;
  const thin = frame.width < thick || frame.height < thick;
  const outline = side.from === 'above' ? { ...frame, y: frame.y - thick, height: thick } : frame;
  const shown = thin && side.from === 'side' ? { ...frame, width: thick } : outline;
  const points = cornersOf(shown);
  const dash = hung ? undefined : '6 4';
  const lines = [...backdropLine(block), { words: `${block.behind.text} behind the product`, range: block.behind }];
  const above = side.from === 'above';
  const at = above ? { x: shown.x + shown.width - 70, y: shown.y } : { x: shown.x + thick, y: shown.y + 16 };
  return {
    ranges: [blockRange(block), block.behind, block.size, block.bottom],
    drawn: [
      from(block, [
        polygon(points, {
          fill: block.colour?.value ?? ink.paper,
          'fill-opacity': 0.35,
          stroke: ink.ink,
          'stroke-dasharray': dash,
        }),
        strokes(hatch(points, 6, 45), { stroke: ink.ink, 'stroke-width': 0.7 }),
      ]),
    ],
    label: { at, clear: 5, lines, toward: above ? { x: 0, y: -1 } : { x: 1, y: -0.3 } },
  };
}

function backdropLine({ screenName, material, size, screen }: Backdrop): LabelLine[] {
  const name = screenName ? `${screenName.value} (screen)` : (material?.value ?? 'backdrop');
  const known = size ?? screen?.size;
  return [{ words: `${name}, ${known?.text ?? 'size not said'}`, range: size ?? screenName ?? material }];
}
