/** One stretch of a spec, read and checked against the format by itself. */
import { saysAccept } from '../accept.ts';
import { asMeant } from '../document/as-meant.ts';
import type { Comment, ListNode, MapNode, Node, Pair, ScalarNode } from '../document/node.ts';
import { bytesOf, lineStarts } from '../document/lines.ts';
import { readPart } from '../document/parse.ts';
import { shiftNode, shiftPair } from '../document/shift.ts';
import type { Finding } from '../finding.ts';
import { schemaFindings } from '../schema/findings.ts';
import type { Cut, Section } from './cut.ts';

/** What a stretch brings to the tree of the file: a key and its value, or a line of the cut and where its dash is. */
export type Brings = { readonly pair: Pair } | { readonly item: Node; readonly dash: number };

export interface Stretch extends Cut {
  /**
   * Where it starts in places that stay: those of the text move with every key that is typed before them, these only
   * when the stretch outgrows the room behind it. In the order of the text.
   */
  readonly base: number;
  /** As written, at staying places. */
  readonly brings: Brings;
  /** The same with slips read as what they mean. */
  readonly means: Brings;
  /** `means` with values that can't be read as they usually are; the same object where there are none. */
  readonly usual: Brings;
  /** Counted from its start, as are the rest. */
  readonly comments: readonly Comment[];
  /** Does one of them say `accept`? */
  readonly accepts: boolean;
  /** What is wrong with the text as such. */
  readonly problems: readonly Finding[];
  /** What is not written as the format wants it. */
  readonly faults: readonly Finding[];
  /** How much there was to look at for that: see `SchemaCheckResult`. */
  readonly values: number;
  readonly complaints: number;
  /** Places where its lines start, without the first. */
  readonly lines: readonly number[];
  /** Its size in UTF-8. */
  readonly bytes: number;
}

/** Reads a stretch; undefined where it has to be read among the others. */
export function readStretch(cut: Cut, base: number): Stretch | undefined {
  const behind = cut.text.endsWith('\n') ? lineBehind(cut) : '';
  const whole = copied(cut.text + behind);
  const text = whole.slice(0, cut.text.length);
  const part = readPart(whole);
  const brings = part && broughtBy(part.root, cut, behind ? 1 : 0);
  if (!part || !brings || !isBlank(text.slice(endOf(brings)))) return undefined;
  const root = around(brings, cut.entryOf);
  const { findings: faults, slips, doubts, values, complaints } = schemaFindings(root, 'shoot', part.problems, true);
  const means = meant(brings, slips);
  const usual = doubts.size === 0 ? means : meant(brings, new Map([...slips, ...doubts]));
  const moved = shift(brings, base);
  const movedMeans = means === brings ? moved : shift(means, base);
  return {
    ...cut,
    name: copied(cut.name),
    text,
    base,
    brings: moved,
    means: movedMeans,
    usual: usual === means ? movedMeans : shift(usual, base),
    comments: part.comments,
    accepts: saysAccept(part.comments),
    problems: part.problems,
    faults,
    values,
    complaints,
    lines: lineStarts(text).slice(1),
    bytes: bytesOf(text),
  };
}

/** The same text by itself: a part of a string keeps the whole of it alive, and a stretch outlives many versions. */
function copied(text: string): string {
  return JSON.parse(JSON.stringify(text)) as string;
}

/** The same stretch at other places. */
export function shift(brings: Brings, by: number): Brings {
  if (by === 0) return brings;
  if ('pair' in brings) return { pair: shiftPair(brings.pair, by) };
  return { item: shiftNode(brings.item, by), dash: brings.dash + by };
}

/** As it may follow in the file: what would go on over the next stretch, as far as the library sees it, does so over this. */
function lineBehind({ entryOf, indent }: Cut): string {
  return `${' '.repeat(indent)}${entryOf === 'cut' ? '- ~' : '~:'}\n`;
}

/** @param behind how many keys or lines of the cut stand behind it */
function broughtBy(root: Node, { entryOf, name }: Cut, behind: 0 | 1): Brings | undefined {
  if (entryOf === 'cut') {
    const [item, ...more] = root.kind === 'list' && !root.flow ? root.items : [];
    // An empty line of the cut is reported at the key above it.
    return item && more.length === behind && item.end > item.start ? { item, dash: root.start } : undefined;
  }
  const [pair, ...more] = root.kind === 'map' && !root.flow ? root.pairs : [];
  return pair && more.length === behind && pair.key.text === name ? { pair } : undefined;
}

export function endOf(brings: Brings): number {
  return 'pair' in brings ? Math.max(brings.pair.key.end, brings.pair.value.end) : brings.item.end;
}

/** Else something is left out of the tree there, which may be a fault among the other lines. */
function isBlank(text: string): boolean {
  return text.replace(/#.*/g, '').trim() === '';
}

/** A file that holds nothing else. */
function around(brings: Brings, section: Section | undefined): MapNode {
  const inner: MapNode | ListNode =
    'pair' in brings
      ? { kind: 'map', flow: false, pairs: [brings.pair], ...range(brings.pair.key) }
      : { kind: 'list', flow: false, items: [brings.item], ...range(brings.item) };
  if (!section) return inner as MapNode;
  const key: ScalarNode = { kind: 'scalar', start: 0, end: 0, text: section, value: section, quoted: false };
  return { kind: 'map', flow: false, start: 0, end: inner.end, pairs: [{ key, value: inner }] };
}

function range({ start, end }: Node) {
  return { start, end };
}

function meant(brings: Brings, slips: ReadonlyMap<ScalarNode, string>): Brings {
  if (slips.size === 0) return brings;
  if ('item' in brings) return { item: asMeant(brings.item, slips), dash: brings.dash };
  const { key, value } = brings.pair;
  return { pair: { key, value: asMeant(value, slips) } };
}
