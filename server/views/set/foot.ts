/** Below the set: its scale, and what is on the mains. */
import * as say from '../../core/say.ts';
import { textWidth } from '../measure.ts';
import { letters, type Page } from '../page.ts';
import { type Drawn, type Noted, paragraph } from '../picture.ts';
import type { Circuit } from '../power.ts';
import { ink, line, text } from '../svg.ts';
import type { Scale } from './scale.ts';

const lengths = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10_000, 20_000, 50_000];

export function footOf(
  { bottom, pxPerMm, floor }: Scale,
  page: Page,
  circuit: Circuit | undefined,
  noted: readonly Noted[],
): Drawn {
  const y = bottom + 18;
  const most = Math.min(150, page.inner / 3);
  const bar = lengths.findLast((mm) => mm * pxPerMm <= most) ?? 1;
  const px = bar * pxPerMm;
  const { left } = page;
  const style = { 'stroke-width': 1.4 };
  const words = say.lengthText(bar);
  const note = `Places and sizes are to scale${floor?.isBroken ? ' down to the break' : ''}; bodies of camera and lamps are symbols, a plug marks mains.`;
  const after = left + px + 10 + textWidth(words, letters.words) + 14;
  const beside = page.right - after > 300;
  const said = paragraph(beside ? { x: after, y: y - 8 } : { x: left, y: y + 8 }, page, note, {
    size: letters.small,
    fill: ink.soft,
  });
  const body = [
    line({ x: left, y }, { x: left + px, y }, style),
    ...[0, 0.5, 1].map((part) => line({ x: left + px * part, y: y - 4 }, { x: left + px * part, y: y + 4 }, style)),
    text({ x: left + px + 8, y: y + 4 }, words),
    ...said.body,
  ];
  const end = Math.max(said.bottom, y + 10);
  if (!circuit) return { body, bottom: end };
  const power = paragraph({ x: left, y: end + 6 }, page, circuit.words, { range: circuit.range, noted });
  return { body: [...body, ...power.body], bottom: power.bottom };
}
