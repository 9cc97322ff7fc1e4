/** The stretches of one text, kept from one version of it to the next: only those that changed are read again. */
import { lastUpTo, type LineStarts } from '../document/lines.ts';
import type { Comment, ListNode, MapNode, Node, Pair } from '../document/node.ts';
import { largestFileBytes } from '../document/parse.ts';
import { shiftFinding, shiftRange } from '../document/shift.ts';
import type { Finding } from '../finding.ts';
import { mostComplaints } from '../schema/check.ts';
import { rootOf } from '../schema/fields.ts';
import { mostValues } from '../schema/plain.ts';
import { cut, type Cut, type Start } from './cut.ts';
import { type Brings, endOf, readStretch, shift, type Stretch } from './stretch.ts';

/** Room behind a stretch: it may grow to three times its length and some more before all places change. */
const roomFor = (text: string) => 3 * text.length + 4096;

/** What of all stretches a check of the whole file would count. */
interface Tally {
  bytes: number;
  values: number;
  complaints: number;
  /** Those with a comment that says `accept`. */
  accepting: number;
}

/** Another version of the text, in which only these stretches, from one up to another, may be different. */
interface Before {
  readonly old: Stretches;
  readonly from: number;
  readonly to: number;
}

export class Stretches implements LineStarts {
  /** Where each starts in the text, and where the last ends. */
  readonly #starts: Int32Array;
  /** Where each starts in the places that stay: the same in all versions. */
  readonly #bases: Int32Array;
  /** How many lines end before each, and in all. */
  readonly #linesBefore: Int32Array;
  /** Those of which something is to be said, by their numbers. */
  readonly #faulty: readonly number[];
  readonly #tally: Readonly<Tally>;

  private constructor(
    readonly text: string,
    readonly all: readonly Stretch[],
    before?: Before,
  ) {
    const { old, from, to } = before ?? { from: 0, to: all.length };
    const [starts, lines] = [new Int32Array(all.length + 1), new Int32Array(all.length + 1)];
    if (old) {
      starts.set(old.#starts.subarray(0, from + 1));
      lines.set(old.#linesBefore.subarray(0, from + 1));
    }
    const tally = old ? { ...old.#tally } : { bytes: 0, values: 0, complaints: 0, accepting: 0 };
    const faulty: number[] = [];
    for (let index = from; index < to; index++) {
      const one = all[index]!;
      starts[index + 1] = starts[index]! + one.text.length;
      lines[index + 1] = lines[index]! + one.lines.length;
      if (one.problems.length + one.faults.length > 0) faulty.push(index);
      count(tally, one, 1);
      if (old) count(tally, old.all[index]!, -1);
    }
    if (old) {
      const [moved, movedLines] = [starts[to]! - old.#starts[to]!, lines[to]! - old.#linesBefore[to]!];
      for (let index = to + 1; index <= all.length; index++) {
        starts[index] = old.#starts[index]! + moved;
        lines[index] = old.#linesBefore[index]! + movedLines;
      }
      faulty.push(...old.#faulty.filter((index) => index < from || index >= to));
    }
    this.#bases = old ? old.#bases : Int32Array.from(all, ({ base }) => base);
    this.#starts = starts;
    this.#linesBefore = lines;
    this.#faulty = faulty.sort((a, b) => a - b);
    this.#tally = tally;
  }

  /** Does a comment say `accept`? */
  get accepts(): boolean {
    return this.#tally.accepting > 0;
  }

  /** Undefined for a text that has to be read as a whole. */
  static of(text: string, known: readonly Stretch[] = []): Stretches | undefined {
    const cuts = cut(text);
    if (!cuts) return undefined;
    const byText = new Map(known.map((one) => [one.text, one]));
    const all: Stretch[] = [];
    let base = 0;
    for (const one of cuts) {
      const old = byText.get(one.text);
      const read = old && sameOpening(old, one) ? moved(old, base) : readStretch(one, base);
      if (!read) return undefined;
      all.push(read);
      base += roomFor(one.text);
    }
    return hasOwnNames(all) ? Stretches.#told(text, all) : undefined;
  }

  /** Undefined where a check of the whole file would say more than its stretches do. */
  static #told(text: string, all: readonly Stretch[], before?: Before): Stretches | undefined {
    const made = new Stretches(text, all, before);
    const { bytes, values, complaints } = made.#tally;
    return bytes <= largestFileBytes && values <= mostValues && complaints <= mostComplaints ? made : undefined;
  }

  /** The stretches of another version of the text. */
  with(text: string): Stretches | undefined {
    if (text === this.text) return this;
    const { all } = this;
    const { before, after } = this.#unchanged(text);
    const last = all.length - after;
    const cuts = cut(
      text.slice(this.#starts[before], text.length - this.#lengthFrom(last)),
      startAfter(all[before - 1]),
    );
    // Other keys at the top or other entries: what stands behind them may belong to something else now.
    const alike = cuts?.length === last - before && cuts.every((one, index) => sameOpening(one, all[before + index]!));
    const read = alike && cuts.map((one, index) => this.#again(one, before + index));
    if (!read || read.includes(undefined)) return Stretches.of(text, all);
    const now = all.toSpliced(before, read.length, ...(read as Stretch[]));
    const renamed = read.some((one, index) => one!.name !== all[before + index]!.name);
    return !renamed || hasOwnNames(now) ? Stretches.#told(text, now, { old: this, from: before, to: last }) : undefined;
  }

  /**
   * How many stretches at both ends stand in the text as they were. One at the front is not counted, as what was
   * written behind it may go on in it.
   */
  #unchanged(text: string): { before: number; after: number } {
    const { all, text: old } = this;
    const before = Math.max(0, this.#at(sameAtStart(old, text)) - 1);
    const behind = sameAtEnd(old, text, Math.min(old.length, text.length) - this.#starts[before]!);
    const whole = lastUpTo(all.length, (index) => this.#starts[index]! < old.length - behind) + 1;
    let after = Math.min(all.length - whole, all.length - before - 1);
    // Each starts on a line of its own.
    let end = text.length - this.#lengthFrom(all.length - after);
    while (after > 0 && text[end - 1] !== '\n') end += all[all.length - after--]!.text.length;
    return { before, after };
  }

  /** The stretch in the place of an old one, at the same staying place. */
  #again(one: Cut, index: number): Stretch | undefined {
    const old = this.all[index]!;
    if (old.text === one.text) return old;
    const next = this.all[index + 1]?.base ?? Infinity;
    return old.base + one.text.length < next ? readStretch(one, old.base) : undefined;
  }

  /** Does it hold values that can't be read? */
  get isDoubtful(): boolean {
    return this.all.some((one) => one.usual !== one.means);
  }

  /** The tree of the file at staying places, with slips read as what they mean. */
  stayingTree(): MapNode {
    return treeOf(this.all, (one) => one.means);
  }

  /** The same with values that can't be read as they usually are. */
  usualTree(): MapNode {
    return treeOf(this.all, (one) => one.usual);
  }

  /** The tree of the file at the places of the text: as written, with slips read as what they mean, and as it usually is. */
  trees(): Trees {
    const written = new Map<Stretch, Brings>();
    const meant = new Map<Stretch, Brings>();
    const usual = new Map<Stretch, Brings>();
    for (const [index, one] of this.all.entries()) {
      const by = this.#starts[index]! - one.base;
      written.set(one, shift(one.brings, by));
      meant.set(one, one.means === one.brings ? written.get(one)! : shift(one.means, by));
      usual.set(one, one.usual === one.means ? meant.get(one)! : shift(one.usual, by));
    }
    const tree = (brought: ReadonlyMap<Stretch, Brings>) => treeOf(this.all, (one) => brought.get(one)!);
    const read = tree(meant);
    return { written: tree(written), meant: read, usual: this.isDoubtful ? tree(usual) : read };
  }

  /** In the order of the text, at its places. */
  comments(): Comment[] {
    return this.#placed(this.all.keys(), ({ comments }) => comments, shiftRange);
  }

  /** What is wrong with the text as such. */
  problems(): Finding[] {
    return this.#placed(this.#toldOf(), ({ problems }) => problems, shiftFinding);
  }

  /** What is not written as the format wants it. */
  faults(): Finding[] {
    return this.#placed(this.#toldOf(), ({ faults }) => faults, shiftFinding);
  }

  /** The key of a section that has entries was read by itself, as a key without a value; that is not to be said. */
  #toldOf(): number[] {
    return this.#faulty.filter((index) => !this.all[index]!.opens || !this.all[index + 1]?.entryOf);
  }

  #placed<T>(numbers: Iterable<number>, pick: (one: Stretch) => readonly T[], move: (thing: T, by: number) => T): T[] {
    const placed: T[] = [];
    for (const index of numbers) {
      for (const thing of pick(this.all[index]!)) placed.push(move(thing, this.#starts[index]!));
    }
    return placed;
  }

  /** How many characters there are from a stretch on. */
  #lengthFrom(index: number): number {
    return this.text.length - this.#starts[index]!;
  }

  /** The stretch that an offset of the text lies in. */
  #at(offset: number): number {
    return lastUpTo(this.all.length, (index) => this.#starts[index]! <= offset);
  }

  /** From a staying place to the place in the text. */
  place(staying: number): number {
    const index = lastUpTo(this.all.length, (one) => this.#bases[one]! <= staying);
    return this.#starts[index]! + staying - this.#bases[index]!;
  }

  // -- where the lines of the text start --

  get count(): number {
    return this.#linesBefore[this.all.length]! + 1;
  }

  start(line: number): number {
    if (line === 0) return 0;
    // A stretch knows where each of its lines but the first starts, and where the next one does.
    const index = lastUpTo(this.all.length, (one) => this.#linesBefore[one]! < line);
    return this.#starts[index]! + this.all[index]!.lines[line - this.#linesBefore[index]! - 1]!;
  }

  line(offset: number): number {
    const index = this.#at(offset);
    const { lines } = this.all[index]!;
    const inside = offset - this.#starts[index]!;
    return (
      this.#linesBefore[index]! + (lines[0]! <= inside ? 1 + lastUpTo(lines.length, (one) => lines[one]! <= inside) : 0)
    );
  }
}

export interface Trees {
  readonly written: MapNode;
  readonly meant: MapNode;
  /** `meant` itself where no value is in doubt. */
  readonly usual: MapNode;
}

function count(tally: Tally, one: Stretch, times: 1 | -1): void {
  tally.bytes += times * one.bytes;
  tally.values += times * one.values;
  tally.complaints += times * one.complaints;
  if (one.accepts) tally.accepting += times;
}

/** Texts are compared in blocks of so many characters, and in the block that differs one by one. */
const blockLength = 8192;

/** How many characters two texts have in common at their start. */
function sameAtStart(a: string, b: string): number {
  const most = Math.min(a.length, b.length);
  let same = 0;
  const block = (text: string) => text.slice(same, same + blockLength);
  while (same + blockLength <= most && block(a) === block(b)) same += blockLength;
  while (same < most && a.charCodeAt(same) === b.charCodeAt(same)) same++;
  return same;
}

/** How many they have in common at their end, `most` of them looked at. */
function sameAtEnd(a: string, b: string, most: number): number {
  let same = 0;
  const block = (text: string) => text.slice(text.length - same - blockLength, text.length - same);
  while (same + blockLength <= most && block(a) === block(b)) same += blockLength;
  while (same < most && a.charCodeAt(a.length - 1 - same) === b.charCodeAt(b.length - 1 - same)) same++;
  return same;
}

function startAfter(stretch: Stretch | undefined): Start {
  return { section: stretch?.entryOf ?? stretch?.opens, indent: stretch?.entryOf && stretch.indent };
}

/** Can one stand in the place of the other without anything else in the file meaning something else? */
function sameOpening(a: Cut, b: Cut): boolean {
  const sameName = a.entryOf !== undefined || a.name === b.name;
  return sameName && a.entryOf === b.entryOf && a.opens === b.opens && a.indent === b.indent;
}

function moved(stretch: Stretch, base: number): Stretch {
  const by = base - stretch.base;
  if (by === 0) return stretch;
  const brings = shift(stretch.brings, by);
  const means = stretch.means === stretch.brings ? brings : shift(stretch.means, by);
  const usual = stretch.usual === stretch.means ? means : shift(stretch.usual, by);
  return { ...stretch, base, brings, means, usual };
}

/** Do all keys mean something, once, and is nothing missing at the top? */
function hasOwnNames(all: readonly Stretch[]): boolean {
  const names = { top: new Set<string>(), shots: new Set<string>() };
  for (const { entryOf, name } of all) {
    if (entryOf === 'cut') continue;
    const seen = names[entryOf ?? 'top'];
    if (seen.has(name)) return false;
    seen.add(name);
  }
  const { properties = {}, required = [] } = rootOf('shoot');
  return (
    [...names.top].every((name) => Object.hasOwn(properties, name)) && required.every((name) => names.top.has(name))
  );
}

/** Puts the tree of the file together. */
function treeOf(all: readonly Stretch[], brought: (one: Stretch) => Brings): MapNode {
  const pairs: Pair[] = [];
  for (let index = 0; index < all.length; index++) {
    const one = all[index]!;
    const pair = (brought(one) as { pair: Pair }).pair;
    const entries: Brings[] = [];
    while (one.opens && all[index + 1]?.entryOf) entries.push(brought(all[++index]!));
    pairs.push(entries.length === 0 ? pair : { key: pair.key, value: section(entries) });
  }
  return block(pairs);
}

function section(entries: readonly Brings[]): Node {
  const [first] = entries;
  if ('pair' in first!) return block(entries.map((one) => (one as { pair: Pair }).pair));
  const items = entries.map((one) => (one as { item: Node }).item);
  const list: ListNode = {
    kind: 'list',
    start: (first as { dash: number }).dash,
    end: items.at(-1)!.end,
    flow: false,
    items,
  };
  return list;
}

function block(pairs: readonly Pair[]): MapNode {
  return { kind: 'map', start: pairs[0]!.key.start, end: endOf({ pair: pairs.at(-1)! }), flow: false, pairs };
}
