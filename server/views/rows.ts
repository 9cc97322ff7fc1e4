/** A picture of rows under headings, each of what there is of something. */
import { letters, type Page, pageFor, type Room } from './page.ts';
import {
  assign,
  type Drawn,
  heading,
  type Noted,
  paragraph,
  type Picture,
  type Place,
  type Source,
} from './picture.ts';
import type { El } from './svg.ts';

export interface Row extends Place {
  readonly group: string;
  readonly name: string;
  readonly words: string;
}

interface Rows<R extends Row> {
  readonly view: string;
  readonly title: string;
  /** How a row is read; undefined where nothing needs it. */
  readonly legend: string | undefined;
  /** Said where there is no row. */
  readonly nothing: string;
  readonly rows: readonly R[];
  draw(row: R, page: Page, y: number, noted: readonly Noted[]): Drawn;
}

export function drawRows<R extends Row>(source: Source, room: Room, of: Rows<R>): Picture {
  const { view, title, rows, nothing } = of;
  const page = pageFor(room);
  const { noted, at } = assign(source, rows);
  const top = heading(page, title, of.legend ?? '', undefined);
  const body: El[] = [...top.body];
  let y = top.bottom;
  let group = '';
  for (const row of rows) {
    if (row.group !== group) {
      group = row.group;
      const head = paragraph({ x: page.left, y: y + 4 }, page, group, { size: letters.head, bold: true });
      body.push(...head.body);
      y = head.bottom + 2;
    }
    const drawn = of.draw(row, page, y, at(row));
    body.push(...drawn.body);
    y = drawn.bottom + 6;
  }
  const none = rows.length > 0 ? { body: [], bottom: y } : paragraph({ x: page.left, y }, page, nothing);
  return {
    view,
    title,
    description: rows.map(({ group, name, words }) => `${group}, ${name}: ${words}.`).join(' ') || nothing,
    width: page.width,
    height: none.bottom + 4,
    body: [...body, ...none.body],
    noted,
  };
}
