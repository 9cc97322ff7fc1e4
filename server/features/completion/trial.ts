/**
 * Tries values at a place: each is put into the tree of the last text that could be read, and the rules say what they
 * think of it. So a value that would be warned about is never offered without the warning.
 */
import type { CheckResult, Trial } from '../../core/checker.ts';
import type { ListNode, MapNode, Node, Pair, ScalarNode } from '../../core/document/node.ts';
import { at, child } from '../../core/document/node.ts';
import type { Film, Shot } from '../../core/film.ts';
import type { Finding, Severity } from '../../core/finding.ts';
import type { FieldPath } from '../../core/schema/fields.ts';
import type { InsertionPoint } from './insertion-point.ts';

/** As many values are tried for one answer. */
export const mostTried = 8;
/** In a longer file only the shots that a value bears on are tried, no more than these, and only where shots tell all. */
const longFileLines = 600;
const mostShots = 3;

export interface TriedValue {
  readonly text: string;
  readonly film: Film;
  /** What the rules say because of this value, the gravest first. */
  readonly findings: readonly Finding[];
}

export interface TrialContext {
  readonly result: CheckResult;
  /** Starts trials of the tree. */
  trials(root: Node): (changed: Node) => Trial;
}

/** Characters that are in no text, so that a finding about the tried value is known by them. */
const nowhere = Number.MAX_SAFE_INTEGER;

/** What was tried on a text that could be read; it goes with what is known of that text. */
const known = new WeakMap<CheckResult, Map<string, readonly TriedValue[] | undefined>>();

/** Undefined where values can't be tried: nothing could be read yet, or the file is too long for what they bear on. */
export function tryValues(
  base: TrialContext,
  spot: InsertionPoint,
  texts: readonly string[],
): readonly TriedValue[] | undefined {
  const tried = known.get(base.result) ?? new Map<string, readonly TriedValue[] | undefined>();
  known.set(base.result, tried);
  const key = JSON.stringify([spot.path, [...spot.siblings], spot.listCount, texts]);
  if (!tried.has(key)) tried.set(key, tryAll(base, spot, texts));
  return tried.get(key);
}

function tryAll(
  { result, trials }: TrialContext,
  spot: InsertionPoint,
  texts: readonly string[],
): readonly TriedValue[] | undefined {
  const { root } = result.doc;
  const whole = root && written(root, spot);
  const tree = whole && result.film && inReach(result, result.film, whole, spot.path);
  if (!root || !tree) return undefined;
  const trial = trials(root);
  const bare = trial(put(tree, spot.path, undefined)).findings;
  const without = count(bare);
  const before = new Set(bare.map((one) => one.message));
  const all = texts.slice(0, mostTried).map((text) => ({ text, ...trial(put(tree, spot.path, text)) }));
  const least = (rule: string) =>
    Math.min(without.get(rule) ?? 0, ...all.map((one) => count(one.findings).get(rule) ?? 0));
  return all.map(({ text, film, findings: said }) => {
    const counts = count(said);
    const caused = said.filter(
      (one) => one.start === nowhere - 1 || counts.get(one.rule)! > Math.max(0, least(one.rule)),
    );
    const news = caused.filter((one) => !before.has(one.message));
    const findings = news.length > 0 ? news : caused;
    return { text, film, findings: findings.sort((a, b) => weight(b.severity) - weight(a.severity)) };
  });
}

const weights: Readonly<Record<Severity, number>> = { error: 1000, warning: 50, info: 5, hint: 1 };

export function weight(severity: Severity): number {
  return weights[severity];
}

function count(findings: readonly Finding[]): Map<string, number> {
  const counts = new Map<string, number>();
  for (const { rule } of findings) counts.set(rule, (counts.get(rule) ?? 0) + 1);
  return counts;
}

/** The tree with the values of the same block as they are typed just now: the last good text may be older. */
function written(root: Node, spot: InsertionPoint): Node {
  const block = spot.path.slice(0, -1);
  const [list, index] = spot.path;
  const items = typeof list === 'string' && typeof index === 'number' ? child(root, list) : undefined;
  // A line that is not in the good text yet comes between the others, and takes the place of none.
  const isNew = items?.kind === 'list' && spot.listCount !== undefined && spot.listCount > items.items.length;
  let tree = isNew ? change(root, [list as string], (node) => insertItem(node, index as number)) : root;
  for (const [key, value] of spot.siblings) {
    const text = plainText(value);
    if (text === undefined || scalarText(at(tree, [...block, key])) === text) continue;
    tree = put(tree, [...block, key], text, 0);
  }
  return tree;
}

function insertItem(node: Node | undefined, index: number): Node {
  const list = node?.kind === 'list' ? node : emptyList;
  return { ...list, items: [...list.items.slice(0, index), emptyMap, ...list.items.slice(index)] };
}

/** The text of a value on one line; undefined for blocks and whatever is not closed. */
function plainText(value: string): string | undefined {
  if (value === '' || /^[[{|>&*!]/.test(value)) return undefined;
  const quoted = /^(["'])(.*)\1$/s.exec(value);
  return quoted ? quoted[2] : /^["']/.test(value) ? undefined : value;
}

function scalarText(node: Node | undefined): string | undefined {
  return node?.kind === 'scalar' ? node.text : undefined;
}

const emptyMap: MapNode = { kind: 'map', start: 0, end: 0, flow: false, pairs: [] };
const emptyList: ListNode = { kind: 'list', start: 0, end: 0, flow: false, items: [] };

function scalar(text: string, start: number): ScalarNode {
  return { kind: 'scalar', start, end: start === 0 ? 0 : start + 1, text, value: text, quoted: false };
}

/** The tree with another value at a path, or without it. Blocks that are missing on the way are made. */
function put(root: Node, path: FieldPath, text: string | undefined, start = nowhere - 1): Node {
  const last = path.at(-1);
  return change(root, path.slice(0, -1), (node) => {
    if (typeof last === 'number') return node ?? emptyList;
    const map = node?.kind === 'map' ? node : emptyMap;
    const others = map.pairs.filter((pair) => pair.key.text !== last);
    if (text === undefined) return { ...map, pairs: others };
    const known = map.pairs.find((pair) => pair.key.text === last);
    return { ...map, pairs: [...others, { key: known?.key ?? scalar(String(last), 0), value: scalar(text, start) }] };
  });
}

function change(node: Node | undefined, path: FieldPath, to: (node: Node | undefined) => Node): Node {
  const [step, ...rest] = path;
  if (step === undefined) return to(node);
  if (typeof step === 'number') {
    const list = node?.kind === 'list' ? node : emptyList;
    const items = [...list.items];
    items[Math.min(step, items.length)] = change(items[step], rest, to);
    return { ...list, items };
  }
  const map = node?.kind === 'map' ? node : emptyMap;
  const index = map.pairs.findIndex((pair) => pair.key.text === step);
  const changed = change(map.pairs[index]?.value, rest, to);
  const pair: Pair = { key: map.pairs[index]?.key ?? scalar(step, 0), value: changed };
  return { ...map, pairs: index < 0 ? [...map.pairs, pair] : map.pairs.map((one, at) => (at === index ? pair : one)) };
}

/** The whole tree of a short file; of a long one the shots that matter with their pieces of the cut. */
function inReach(result: CheckResult, film: Film, tree: Node, path: FieldPath): Node | undefined {
  if (result.doc.lines.count <= longFileLines) return tree;
  const names = shotNamesAt(film, path, tree);
  if (!names) return undefined;
  const cut = at(tree, ['cut']);
  const own = path[0] === 'cut' && cut?.kind === 'list' ? cut.items[Number(path[1])] : undefined;
  const few = change(tree, ['shots'], (shots) =>
    shots?.kind === 'map' ? { ...shots, pairs: shots.pairs.filter(({ key }) => names.has(key.text)) } : emptyMap,
  );
  // The value's own line stays at its place in the list, which is why the lines before it stay as well.
  return change(few, ['cut'], (node) => {
    if (node?.kind !== 'list') return emptyList;
    const items = node.items.map((item) =>
      item === own || names.has(scalarText(child(item, 'shot')) ?? '') ? item : emptyMap,
    );
    return { ...node, items: own ? items : items.filter((item) => item !== emptyMap) };
  });
}

/** The shots that a value bears on; undefined where it bears on the film as a whole. */
function shotNamesAt(film: Film, path: FieldPath, tree: Node): ReadonlySet<string> | undefined {
  if (path[0] === 'cut' && path[2] === 'zoom') return new Set([scalarText(at(tree, ['cut', path[1]!, 'shot'])) ?? '']);
  const shots = shotsAt(film, path);
  if (path[0] === 'shots') return new Set([String(path[1])]);
  if (path[0] === 'deliver') return new Set();
  return shots.length > 0 ? new Set(shots.slice(0, mostShots).map((shot) => shot.name)) : undefined;
}

/** The shots whose own blocks, or what they take over, hold a path. */
export function shotsAt(film: Film, [block, name]: FieldPath): Shot[] {
  const all = [...film.shots.values()];
  switch (block) {
    case 'shots':
      return all.filter((shot) => shot.name === name);
    case 'set-ups':
      return all.filter((shot) => shot.setUpName?.value === name);
    case 'lamps':
      return all.filter((shot) => shot.lit.some((lamp) => lamp.name === name));
    case 'cut':
      return [film.cut[Number(name)]?.shot ?? []].flat();
    case 'camera':
    case 'backdrop':
    case 'surface':
    case 'room':
      return all;
    default:
      return [];
  }
}
