/** Words that the framing and optics rules share. */
import type { Block, Deliverable, Piece, Shot } from '../../core/film.ts';
import { listText, num, quoted } from '../../core/say.ts';
import type { Ends } from '../../core/units.ts';

/** `film` and `story`, as the user named them. */
export function deliverablesText({ deliverables }: { readonly deliverables: readonly Deliverable[] }): string {
  return listText([...new Set(deliverables.map((one) => quoted(one.name)))]);
}

/** `the product`, or the part by its name. */
export function subjectText({ subject }: Shot): string {
  return subject.name === 'product' ? 'the product' : quoted(subject.name);
}

/** A piece by its place in the cut. */
export function pieceText({ index }: Piece): string {
  return `piece ${index + 1}`;
}

/** A zoom, or a push from one to another, as a piece writes it. */
export function zoomText({ from, to }: Ends): string {
  return from === to ? num(from, 3) : `${num(from, 3)} to ${num(to, 3)}`;
}

/** The same in a title, where a push is marked as one value. */
export function zoomTitle(text: string): string {
  return text.includes(' to ') ? quoted(text) : text;
}

/** The block of a piece that holds a number for each deliverable, as a place for a fix. */
export function byDeliverable(piece: Piece, key: 'zoom-by' | 'shift-by'): Block {
  return { start: piece.start, end: piece.end, fields: piece.fields.block(key) };
}

/** Down, or up, to two decimals; a value that is there already stays. */
export function floor2(value: number): number {
  return Math.floor(value * 100 + 1e-6) / 100;
}
export function ceil2(value: number): number {
  return Math.ceil(value * 100 - 1e-6) / 100;
}
