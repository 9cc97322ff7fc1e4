/** What to bring, to tick off. */
import { around, type Packed, packing } from '../../core/derived/packing.ts';
import type { Film } from '../../core/film.ts';
import type { SheetBlock } from './blocks.ts';

export function packingBlocks(film: Film): SheetBlock[] {
  const ticks = (title: string, all: readonly Packed[]): SheetBlock[] =>
    all.length > 0 ? [{ kind: 'ticks', title, items: all.map(text), inRow: true }] : [];
  return [...ticks('To pack', packing(film)), ...ticks('To bring, or to find there', around(film))];
}

/** Kinds whose names say what they are. */
const plain: ReadonlySet<Packed['kind']> = new Set(['camera', 'support', 'modifier', 'supply']);

function text({ kind, name, count, size }: Packed): string {
  const one = plain.has(kind) ? name : name === '' ? kind : `${kind} ${name}`;
  const many = name === '' ? `${kind}s` : one;
  return `${count === 1 ? one : `${count} × ${many}`}${size ? `, ${size}` : ''}`;
}
