/**
 * The open files, kept exactly as the client has them. The protocol's library guards neither order nor version, so
 * both guards are here: what is older than what is known, or about a file that is not open, changes nothing.
 */
import { addressOf } from './address.ts';
import { LineMap, type Position, type Units } from './core/document/lines.ts';

export interface OpenFile {
  /** As the client spells it, who is to be answered so. */
  readonly uri: string;
  /** The same for all spellings. */
  readonly address: string;
  readonly languageId: string;
  readonly version: number;
  readonly text: string;
}

export interface Change {
  readonly range?: { readonly start: Position; readonly end: Position };
  readonly text: string;
}

/** Any spelling of a file's address finds it. */
export class OpenFiles {
  readonly #files = new Map<string, OpenFile>();

  get(uri: string): OpenFile | undefined {
    return this.#files.get(addressOf(uri));
  }

  all(): OpenFile[] {
    return [...this.#files.values()];
  }

  /** Opening a file that is open already counts as its newest text. */
  open(opened: Omit<OpenFile, 'address'>): OpenFile {
    // A client may leave anything out, or send anything.
    const uri = String(opened.uri);
    const version = Number.isFinite(opened.version) ? opened.version : 0;
    const file = { ...opened, uri, version, text: String(opened.text ?? ''), address: addressOf(uri) };
    this.#files.set(file.address, file);
    return file;
  }

  /** The file after the changes; undefined when it is not open or has this version or a later one. */
  change(
    { uri, version }: { readonly uri: string; readonly version: number },
    changes: readonly Change[],
    units: Units,
  ): OpenFile | undefined {
    const known = this.get(uri);
    if (!known || version <= known.version) return undefined;
    let { text } = known;
    for (const change of changes) text = apply(text, change, units);
    const file = { ...known, version: Number.isFinite(version) ? version : known.version + 1, text };
    this.#files.set(file.address, file);
    return file;
  }

  /** The file as it was; undefined where it is not open. */
  close(uri: string): OpenFile | undefined {
    const file = this.get(uri);
    if (file) this.#files.delete(file.address);
    return file;
  }
}

function apply(text: string, change: Change, units: Units): string {
  const added = String(change.text ?? '');
  if (!change.range) return added;
  const start = offsetOf(text, change.range.start, units);
  const end = Math.max(start, offsetOf(text, change.range.end, units));
  return text.slice(0, start) + added + text.slice(end);
}

/** Without a list of all lines, which a file of any size would fill at each edit. */
function offsetOf(text: string, { line, character }: Position, units: Units): number {
  if (line < 0) return 0;
  const ends = /\r\n|\n|\r/g;
  let start = 0;
  for (let left = line; left > 0; left--) {
    if (!ends.test(text)) return text.length;
    start = ends.lastIndex;
  }
  const end = ends.exec(text)?.index ?? text.length;
  return start + new LineMap(text.slice(start, end)).offset({ line: 0, character }, units);
}
