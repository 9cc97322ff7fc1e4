/** What the things of a set are, in words below it: where the drawing has no room for more than their names. */
import { fitted } from '../measure.ts';
import { letters, type Page } from '../page.ts';
import { type Drawn, paragraph } from '../picture.ts';
import { type El, text } from '../svg.ts';
import type { Thing } from './thing.ts';

const [narrowest, gap] = [210, 16];

/** In as many columns as fit, row by row. */
export function keyOf(things: readonly Thing[], page: Page, top: number): Drawn {
  const said = things.filter(({ label }) => label && label.lines.length > 1);
  const columns = Math.max(1, Math.floor((page.inner + gap) / (narrowest + gap)));
  const width = (page.inner - gap * (columns - 1)) / columns;
  const body: El[] = [];
  let y = top;
  for (let row = 0; row < said.length; row += columns) {
    const drawn = said.slice(row, row + columns).map((thing, column) => {
      return entry(thing, page, page.left + column * (width + gap), y, width);
    });
    body.push(...drawn.flatMap((one) => one.body));
    y = Math.max(...drawn.map((one) => one.bottom)) + 6;
  }
  return { body, bottom: y };
}

function entry({ label }: Thing, page: Page, x: number, top: number, width: number): Drawn {
  const [head, ...rest] = label!.lines;
  const name = fitted(head!.words, letters.words, width, true);
  const body: El[] = [text({ x, y: top + letters.words }, name, { bold: true })];
  let y = top + 16;
  if (page.narrow) {
    const words = rest.map((one) => one.words).join(', ');
    const said = paragraph({ x, y }, page, words, { range: rest[0]?.range, right: x + width });
    return { body: [...body, ...said.body], bottom: said.bottom };
  }
  for (const { words, range } of rest) {
    const said = paragraph({ x, y }, page, words, { range, right: x + width });
    body.push(...said.body);
    y = said.bottom;
  }
  return { body, bottom: y };
}
