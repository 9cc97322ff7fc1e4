/** From what a rule wants changed to text edits, at the place where the change does what it says and no more. */
import { applyEdits, insertItem, insertPair, removePair, writeOut } from './document/edits.ts';
import type { MapNode, Node } from './document/node.ts';
import type { Block, Film, Shot } from './film.ts';
import type { Edit, Fix } from './finding.ts';
import type { FieldChange, FixIdea } from './rule.ts';
import type { Fields } from './resolve/fields.ts';
import { listFirst, quoted, shown } from './say.ts';

/**
 * @param idea what the first of several like reports wants
 * @param alike what all of them want, that one first: when they are everyone that takes a value over, it is changed where
 *   it stands. Where two want different things of one field, the first has it.
 */
export function materialise(idea: FixIdea, alike: readonly FixIdea[], film: Film, text: string): Fix | undefined {
  const parts = [
    idea.edits ?? [],
    editsOfValues(byKey(alike.flatMap((one) => one.set ?? [])), film, text),
    ...alike.flatMap((one) => one.add ?? []).map((change) => addItem(change, text)),
    ...alike
      .flatMap((one) => one.remove ?? [])
      .map(({ block, key }) => block.fields.own && removePair(text, block.fields.own, key)),
  ];
  if (!parts.every((part) => part !== undefined)) return undefined;
  const once = withoutRepeats(parts.flat());
  if (once.length === 0 || applyEdits(text, once) === undefined) return undefined;
  return { title: shown(idea.title, longestTitle), edits: once, safe: idea.safe ?? false };
}

/** Values that are replaced where they stand, or written into their block; undefined where one can't be. */
function editsOfValues(byKey: readonly FieldChange[][], film: Film, text: string): Edit[] | undefined {
  const edits: Edit[] = [];
  const missing = new Map<Fields, FieldChange[]>();
  const replaced = new Set<Node>();
  for (const asked of byKey) {
    const isNowhere = asked.length > 1 && asked.every((one) => !one.block.fields.node(one.key));
    const shared = isNowhere ? sharedLayer(asked[0]!, asked, film) : undefined;
    if (shared) {
      edits.push(...insertPair(text, shared, asked[0]!.key, asked[0]!.text));
      continue;
    }
    for (const change of asked) {
      const written = changedWhereItStands(change, asked, film);
      const isKnown = written && replaced.has(written);
      const made = written && !isKnown ? replace(written, change.text, text) : [];
      if (!made) return undefined;
      edits.push(...made);
      if (written) replaced.add(written);
      else addOnce(missing, change);
    }
  }
  for (const [fields, changes] of missing) {
    const made = write(fields, changes, text);
    if (!made) return undefined;
    edits.push(...made);
  }
  return edits;
}

/** A name in it may be of any length. */
const longestTitle = 200;

function byKey(changes: readonly FieldChange[]): FieldChange[][] {
  const all = new Map<string, FieldChange[]>();
  for (const change of changes) {
    const known = all.get(change.key);
    if (known) known.push(change);
    else all.set(change.key, [change]);
  }
  return [...all.values()];
}

/** The value that a change replaces; undefined where it is to be written into the block instead. */
function changedWhereItStands(change: FieldChange, asked: readonly FieldChange[], film: Film): Node | undefined {
  const { fields } = change.block;
  const written = fields.node(change.key);
  return written && (isOwn(fields, written) || everyoneAsks(written, change, asked, film)) ? written : undefined;
}

/** Two blocks that share a value through `*name` ask for one change of it, and several findings for one block to be added. */
function withoutRepeats(edits: readonly Edit[]): Edit[] {
  return edits.filter((edit, index) => !edits.slice(0, index).some((other) => isSameEdit(edit, other)));
}

/** Several findings may ask for one change of one block (each deliverable of one shot): it is written once. */
function addOnce(missing: Map<Fields, FieldChange[]>, change: FieldChange): void {
  const { fields } = change.block;
  const before = missing.get(fields) ?? [];
  if (!before.some((one) => one.key === change.key)) missing.set(fields, [...before, change]);
}

function isOwn({ own, layers }: Fields, value: Node): boolean {
  return own !== undefined && layers[0] === own && fieldIn(own, value);
}

function fieldIn(map: MapNode, value: Node): boolean {
  return map.pairs.some((pair) => pair.value === value);
}

/** Only what stands on one line is replaced: a list over several lines may have comments between its items. */
function replace(node: Node, value: string, text: string): Edit[] | undefined {
  const oneLine = node.kind === 'list' && node.flow && !text.slice(node.start, node.end).includes('\n');
  return node.kind === 'scalar' || oneLine
    ? [{ start: node.start, end: node.end, text: node.start === node.end ? ` ${value}` : value }]
    : undefined;
}

/** True when each block that takes this very value over is asked to change it to the same text. */
function everyoneAsks(written: Node, change: FieldChange, asked: readonly FieldChange[], film: Film): boolean {
  const takers = blocks(film).filter((block) => block.fields.node(change.key) === written);
  return takers.every((taker) => asked.some((one) => one.block === taker && one.text === change.text));
}

/** The outermost block that they all take over, where nobody else takes it over and all ask for the same. */
function sharedLayer(change: FieldChange, asked: readonly FieldChange[], film: Film): MapNode | undefined {
  const layer = change.block.fields.layers.at(-1);
  const takers = layer ? blocks(film).filter((block) => block.fields.layers.includes(layer)) : [];
  const agreed = takers.every((taker) => asked.some((one) => one.block === taker && one.text === change.text));
  return takers.length > 1 && agreed ? layer : undefined;
}

function blocks(film: Film): Block[] {
  const ofShots = [...film.shots.values()].flatMap((shot) => [shot.camera, shot.backdrop, shot.surface, shot.room]);
  return [...ofShots, ...film.lamps.values(), ...film.deliverables.values()].filter((block) => block !== undefined);
}

function addItem({ block: { fields }, key, text: item }: FieldChange, text: string): Edit[] | undefined {
  const list = fields.node(key);
  if (list?.kind === 'list') return insertItem(text, list, item);
  if (list || !fields.own) return undefined;
  return insertPair(text, fields.own, key, fields.own.flow ? `[${item}]` : `\n  - ${item}`);
}

/** Adds fields to the block itself, and the block too where it is not written yet. */
function write(fields: Fields, changes: readonly { key: string; text: string }[], text: string): Edit[] | undefined {
  const { own, parent } = fields;
  if (own?.short) return writeOut(text, own, changes);
  if (own) return changes.flatMap((change) => insertPair(text, own, change.key, change.text));
  if (!parent || parent.fields.own?.pairs.some((pair) => pair.key.text === parent.key)) return undefined;
  const inner = changes.map((change) => `${change.key}: ${change.text}`).join(', ');
  return write(parent.fields, [{ key: parent.key, text: `{ ${inner} }` }], text);
}

/** Which shots a change is for, as its title says it: `in` what is theirs alone, `for` what others take over as well. */
export function ofShots(shots: readonly Shot[], edits: readonly Edit[], text: string): string {
  const own = shots
    .flatMap((shot) => [shot, ...shot.pieces])
    .map(({ start, end }) => ({ start, end: lineEnd(end, text) }));
  const isOwn = edits.every((edit) => own.some(({ start, end }) => start <= edit.start && edit.end <= end));
  return `, ${isOwn ? 'in' : 'for'} ${listFirst(
    shots.map(({ name }) => quoted(name)),
    3,
  )}`;
}

/** What is added to a block stands after the comment on its last line. */
function lineEnd(offset: number, text: string): number {
  const end = text.indexOf('\n', offset);
  return end < 0 ? text.length : end;
}

export function isSameEdit(one: Edit, other: Edit): boolean {
  return one.start === other.start && one.end === other.end && one.text === other.text;
}
