/** The product, the part of it that is filmed, and how it turns. */
import { hull } from '../../calc/plane.ts';
import type { Shot } from '../../core/film.ts';
import type { LabelLine } from '../labels.ts';
import { blockRange } from '../picture.ts';
import type { Scene } from '../scene.ts';
import { around } from '../shapes.ts';
import { type El, from, ink, polygon, strokes } from '../svg.ts';
import type { Scale } from './scale.ts';
import type { Thing } from './thing.ts';

export function productOf({ product, productEnd, subject, shot, film, middle }: Scene, { place }: Scale): Thing {
  const outline = hull(product.map(place));
  const frame = around(outline) ?? { ...place(middle), width: 0, height: 0 };
  const tint = film.product.colour?.value;
  const drawn: El[] = [];
  if (productEnd) {
    const end = hull(productEnd.map(place));
    drawn.push(polygon(end, { stroke: ink.ink, 'stroke-dasharray': '4 3', 'stroke-width': 1.1 }));
  }
  drawn.push(
    polygon(outline, {
      fill: tint ?? ink.paper,
      'fill-opacity': tint ? 0.45 : 0.8,
      stroke: ink.ink,
      'stroke-width': 1.8,
    }),
  );
  const parts: El[] = subject.length
    ? [
        from(shot.subject, [
          polygon(hull(subject.map(place)), { fill: ink.paper, stroke: ink.ink, 'stroke-width': 1.4 }),
        ]),
      ]
    : [];
  const dot = place(middle);
  const cross = [
    [
      { x: dot.x - 5, y: dot.y },
      { x: dot.x + 5, y: dot.y },
    ],
    [
      { x: dot.x, y: dot.y - 5 },
      { x: dot.x, y: dot.y + 5 },
    ],
  ] as const;
  const size = film.product.size;
  const turning = turnWords(shot);
  const lines: LabelLine[] = [
    {
      words: shot.subject.name === 'product' ? 'product' : `product, ${shot.subject.name}`,
      bold: true,
      range: shot.subject,
    },
    ...(size ? [{ words: size.text, range: size }] : [{ words: 'size not said', range: film.product }]),
    ...(turning ? [{ words: turning, range: shot.turn }] : []),
  ];
  const reach = Math.hypot(frame.width, frame.height) / 2;
  return {
    ranges: [size, film.product, shot.subject, shot.turn && blockRange(shot.turn)],
    drawn: [from(size ?? film.product, drawn), ...parts, strokes(cross, { stroke: ink.ink, 'stroke-width': 0.9 })],
    label: { at: dot, clear: reach + 3, lines, toward: { x: -0.8, y: 0.6 } },
  };
}

function turnWords({ turn }: Shot): string | undefined {
  if (turn?.by) return `turns by ${turn.by.text}`;
  if (turn?.speed) return `turns at ${turn.speed.text}`;
  return turn?.starts && turn.starts.value !== 0 ? `stands turned by ${turn.starts.text}` : undefined;
}
