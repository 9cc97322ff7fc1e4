/** Photographs that were read, kept until their file is another. */
import { readFileSync } from 'node:fs';
import type { Photograph } from '../core/photograph.ts';
import { photographOf } from './levels.ts';
import { readPng } from './png-file.ts';

const largestBytes = 20e6;
/** A film shows few things. */
const mostKept = 8;

export interface PhotographFile {
  readonly file: string;
  readonly bytes: number;
  readonly changedMs: number;
}

export class Photographs {
  readonly #kept = new Map<string, { readonly made: string; readonly found: Photograph | string }>();

  /** Or why it can't be read, in words that follow its name. */
  of({ file, bytes, changedMs }: PhotographFile): Photograph | string {
    const made = `${bytes} ${changedMs}`;
    const kept = this.#kept.get(file);
    if (kept?.made === made) return kept.found;
    const found = bytes > largestBytes ? `is larger than ${largestBytes / 1e6} MB` : read(file);
    this.#kept.delete(file);
    if (this.#kept.size >= mostKept) this.#kept.delete(this.#kept.keys().next().value!);
    this.#kept.set(file, { made, found });
    return found;
  }
}

function read(file: string): Photograph | string {
  try {
    const pixels = readPng(readFileSync(file));
    return typeof pixels === 'string' ? pixels : photographOf(pixels);
  } catch {
    return "can't be read";
  }
}
