/** What whoever wrote the plan wants to be known on the set, in their own words. */
import type { Work } from '../../core/derived/changes.ts';
import { dayPlans } from '../../core/derived/schedule.ts';
import type { Block, Film } from '../../core/film.ts';
import * as say from '../../core/say.ts';
import type { SheetBlock } from './blocks.ts';

type Row = readonly [string, string];

/** Of the film, the product and the days. */
export function filmNotes(film: Film): SheetBlock[] {
  return listOf([
    ...noteRows('To mind', film),
    ...noteRows('The product', film.product),
    ...dayPlans(film).flatMap(({ day, called }) => {
      const name = day?.day ? say.dateText(day.day.value) : `Day ${called}`;
      return day ? noteRows(name, day) : [];
    }),
  ]);
}

/** Of a set-up, its lamps and its backdrops. */
export function setUpNotes({ name, shots }: Work, film: Film): SheetBlock[] {
  const setUp = name === undefined ? undefined : film.setUps.get(name);
  const rows = [
    ...(setUp ? noteRows('To mind', setUp) : []),
    ...shots.flatMap(({ lit, backdrop }) => [
      ...lit.flatMap((lamp) => noteRows(lamp.name, lamp)),
      ...(backdrop ? noteRows('Backdrop', backdrop) : []),
    ]),
  ];
  // Several shots have the same lamps, and a lamp that was moved the same note.
  return listOf([...new Map(rows.reverse().map((row) => [row[1], row])).values()].reverse());
}

/** What is written under `notes` in a block. */
export function noteOf({ fields }: Pick<Block, 'fields'>): string {
  return fields.text('notes')?.value.trim() ?? '';
}

function noteRows(name: string, block: Pick<Block, 'fields'>): Row[] {
  const note = noteOf(block);
  return note ? [[name, note]] : [];
}

function listOf(rows: readonly Row[]): SheetBlock[] {
  return rows.length > 0 ? [{ kind: 'list', rows }] : [];
}
