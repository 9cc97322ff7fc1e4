/**
 * A new film from an old one: its name, its client, its product's size and its days are asked anew, and everything else stays as it
 * was written, comments too.
 */
import { applyEdits, insertPair, quote, replaceNode } from '../core/document/edits.ts';
import { child, type Node } from '../core/document/node.ts';
import type { CheckResult } from '../core/checker.ts';
import type { Film, Val } from '../core/film.ts';
import type { Edit } from '../core/finding.ts';
import { dateText, listText, quoted } from '../core/say.ts';
import { dateDays, sizeMm } from '../core/units.ts';

/** What the old film says of what is asked anew; what it does not say is not asked. */
export interface OldFilm {
  readonly title: string;
  readonly client?: string;
  readonly size?: string;
  /** The day that the others move with: the first of its shooting, else the earliest that it names. */
  readonly day?: string;
}

export interface NewFilm {
  readonly title: string;
  readonly client?: string | undefined;
  readonly size?: string | undefined;
  readonly day?: string | undefined;
}

/** Undefined for a text that is no spec. */
export function oldFilmOf({ film }: CheckResult): OldFilm | undefined {
  if (!film) return undefined;
  const day = firstDay(film);
  return {
    title: film.title?.value ?? '',
    ...(film.brief?.client && { client: film.brief.client.value }),
    ...(film.product.size && { size: film.product.size.text }),
    ...(day !== undefined && { day: dateText(day) }),
  };
}

/** Undefined where the size is none, else the size as it is written. */
export function sizeTyped(typed: string): string | undefined {
  const text = typed
    .trim()
    .replace(/\s*[x×]\s*/g, ' x ')
    .replace(/(\d)(mm|cm|m)$/, '$1 $2');
  const box = sizeMm(text);
  return box && 'depthMm' in box && box.depthMm !== undefined ? text : undefined;
}

export function dayTyped(typed: string): string | undefined {
  return dateDays(typed.trim()) === undefined ? undefined : typed.trim();
}

/** The text of the new film; undefined where the old one is no spec. */
export function specLike({ film, doc }: CheckResult, asked: NewFilm): string | undefined {
  const root = doc.root;
  if (!film || root?.kind !== 'map') return undefined;
  const said = (node: Node | undefined, value: string | undefined, was: string | undefined): Edit[] =>
    node?.kind === 'scalar' && value !== undefined && value !== was ? replaceNode(doc.text, node, plainly(value)) : [];
  const title = child(root, 'title');
  const edits = [
    ...(title
      ? said(title, asked.title, film.title?.value)
      : insertPair(doc.text, root, 'title', plainly(asked.title))),
    ...said(child(child(root, 'brief'), 'client'), asked.client, film.brief?.client?.value),
    ...said(child(child(root, 'product'), 'size'), asked.size, film.product.size?.text),
    ...movedDays(film, doc.text, asked.day),
  ];
  return applyEdits(doc.text, edits);
}

/** Plain where YAML reads it back unchanged, between braces too. */
function plainly(text: string): string {
  const isPlain = /^[\p{L}\d][\p{L}\d .()/'_-]*$/u.test(text) && !/ $|^[\d.]+$|^(true|false|null)$/i.test(text);
  return isPlain ? text : quote(text);
}

// -- days --------------------------------------------------------------------------------------------------------------

/** The days of the plan. Those of papers (`rights`) stay: they say what was agreed. */
function daysOf({ brief, product, deliverables, schedule }: Film): Val<unknown>[] {
  const all: (Val<unknown> | undefined)[] = [
    brief?.due,
    product.arrives,
    product.returns,
    ...[...deliverables.values()].map((one) => one.published),
    ...schedule.map((one) => one.day),
  ];
  const written = all.flatMap((one) => (one && one.file === undefined ? [one] : []));
  return [...new Map(written.map((one) => [one.start, one])).values()];
}

function firstDay(film: Film): number | undefined {
  const shooting = film.schedule.flatMap(({ day }) => day?.value ?? []);
  const days = shooting.length > 0 ? shooting : daysOf(film).flatMap(({ text }) => datesIn(text));
  return days.length > 0 ? Math.min(...days) : undefined;
}

const date = /\d{4}-\d{2}-\d{2}/g;

function datesIn(text: string): number[] {
  return [...text.matchAll(date)].flatMap(([one]) => dateDays(one) ?? []);
}

/** All of them by as many days as the first one. */
function movedDays(film: Film, text: string, to: string | undefined): Edit[] {
  const [from, day] = [firstDay(film), to === undefined ? undefined : dateDays(to)];
  if (from === undefined || day === undefined || day === from) return [];
  return daysOf(film).flatMap(({ start, end }) =>
    [...text.slice(start, end).matchAll(date)].flatMap((match) => {
      const was = dateDays(match[0]);
      const at = start + match.index;
      const moved = was === undefined ? '' : dateText(was + day - from);
      // Of a year that has more than four digits none is made.
      return moved.length === match[0].length ? [{ start: at, end: at + match[0].length, text: moved }] : [];
    }),
  );
}

// -- what is still the old film's ----------------------------------------------------------------------------------------

/** What names the old film's things and was not asked, in words: to be looked at. */
export function stillOld(film: Film): string[] {
  const { titles, rights, product, brief } = film;
  const words = titles.flatMap(({ text }) => (text ? quoted(text.value) : []));
  return [
    words.length > 0 ? `the words of the titles (${listText(words)})` : '',
    product.parts.size > 0 ? `the parts of the product (${listText([...product.parts.keys()].map(quoted))})` : '',
    rights.size > 0 ? `the papers of ${listText([...rights.keys()].map(quoted))} under \`rights\`` : '',
    brief?.fields.text('purpose') ? '`purpose` of the brief' : '',
  ].filter(Boolean);
}
