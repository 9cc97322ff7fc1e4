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
    const file = { ...opened, address: addressOf(opened.uri) };
    this.#files.set(file.address, file);
    return file;
  }

  /**
   * The file after the changes; undefined when it is not open or has this version or a later one.
   * @param lines the lines of the file before, where they are known
   */
  change(
    { uri, version }: { readonly uri: string; readonly version: number },
    changes: readonly Change[],
    units: Units,
    lines?: LineMap,
  ): OpenFile | undefined {
    const known = this.get(uri);
    if (!known || version <= known.version) return undefined;
    let { text } = known;
    for (const [index, change] of changes.entries()) {
      text = apply(text, change, units, (index === 0 && lines) || new LineMap(text));
    }
    const file = { ...known, version, text };
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

function apply(text: string, change: Change, units: Units, lines: LineMap): string {
  if (!change.range) return change.text;
  const start = lines.offset(change.range.start, units);
  const end = Math.max(start, lines.offset(change.range.end, units));
  return text.slice(0, start) + change.text + text.slice(end);
}
