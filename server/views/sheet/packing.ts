/** What to bring, to tick off. */
import { type Packed, packing } from '../../core/derived/packing.ts';
import type { Film } from '../../core/film.ts';
import type { SheetBlock } from './blocks.ts';

export function packingBlock(film: Film): SheetBlock {
  return { kind: 'ticks', title: 'To pack', items: packing(film).map(text), inRow: true };
}

function text({ kind, name, count }: Packed): string {
  switch (kind) {
    case 'camera':
    case 'support':
    case 'modifier':
    case 'supply':
      return name;
    case 'card':
      return `cards ${name}`;
    case 'battery':
      return `batteries ${name}`;
    default: {
      const one = name === '' ? kind : `${kind} ${name}`;
      if (count === 1) return one;
      return `${count} × ${name === '' ? `${kind}s` : one}`;
    }
  }
}
