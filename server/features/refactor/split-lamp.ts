/** Gives a lamp's place a lamp of its own in the kit: a copy of the one that it uses, to be measured and set by itself. */
import { insertItem, removePair, replaceNode, startOfLine } from '../../core/document/edits.ts';
import { child, type MapNode, type Node, type Pair, pairOf } from '../../core/document/node.ts';
import { type Doc, parseDocument } from '../../core/document/parse.ts';
import type { Edit } from '../../core/finding.ts';
import { quoted } from '../../core/say.ts';
import { nodeAt } from '../node-at.ts';
import type { RefactoringRequest, Refactoring } from './refactoring.ts';

export function splitLamp({ result: { doc, film }, offset, file }: RefactoringRequest): Refactoring[] {
  const [list, name] = nodeAt(doc.root, offset)?.path ?? [];
  const place = list === 'lamps' && typeof name === 'string' ? film?.lamps.get(name) : undefined;
  const use = place && pairOf(child(child(doc.root, 'lamps'), place.name), 'use')?.value;
  const path = place?.lamp?.file;
  const kit = path === undefined ? undefined : file(path);
  if (!film || !place || !kit || path === undefined || use?.kind !== 'scalar') return [];
  const own = freeName(place.name, [...film.kit.lamps.keys()]);
  const edits = own === undefined ? undefined : inKit(kit, use.text, own);
  if (own === undefined || !edits) return [];
  const title = `Give ${quoted(place.name)} a lamp of its own in ${quoted(path)}: ${quoted(own)}, a copy of ${quoted(use.text)}`;
  return [{ title, files: [{ edits: replaceNode(doc.text, use, own) }, { path, edits }] }];
}

/** The copy, one fewer of the old ones, and the modifiers that fit both. */
function inKit(kit: Doc, name: string, own: string): Edit[] | undefined {
  const lamps = child(kit.root, 'lamps');
  const lamp = pairOf(lamps, name);
  if (lamps?.kind !== 'map' || lamps.alias !== undefined || lamp?.value.kind !== 'map') return undefined;
  const copied = copyOf(kit, lamps, lamp, own);
  if (!copied) return undefined;
  const all = [...copied, ...oneFewer(kit, lamp.value), ...fitting(kit, name, own)];
  return all.sort((a, b) => a.start - b.start || a.end - b.end);
}

function freeName(name: string, taken: readonly string[]): string | undefined {
  return [name, `${name}-lamp`, ...[2, 3, 4, 5].map((count) => `${name}-${count}`)].find((one) => !taken.includes(one));
}

/** The lines of the lamp again, under another name and without a count, below its own. */
function copyOf({ text, lines }: Doc, lamps: MapNode, { key, value }: Pair, name: string): Edit[] | undefined {
  if (lamps.flow) {
    const copy = withoutCount(`${name}: ${text.slice(value.start, value.end)}`);
    return copy === undefined ? undefined : [{ start: value.end, end: value.end, text: `, ${copy}` }];
  }
  const from = startOfLine(text, key.start);
  const to = lines.end(lines.line(value.end));
  const copy = withoutCount(text.slice(from, key.start) + name + text.slice(key.end, to));
  const newline = text.includes('\r\n') ? '\r\n' : '\n';
  return copy === undefined ? undefined : [{ start: to, end: to, text: newline + copy }];
}

/** Only one of them is copied. */
function withoutCount(text: string): string | undefined {
  const { root } = parseDocument(text);
  const lamp = root?.kind === 'map' ? root.pairs[0]?.value : undefined;
  if (lamp?.kind !== 'map') return undefined;
  const cut = removePair(text, lamp, 'count')[0];
  return cut ? text.slice(0, cut.start) + cut.text + text.slice(cut.end) : text;
}

/** Two lamps of one kind, one of them now under a name of its own. */
function oneFewer({ text }: Doc, lamp: MapNode): Edit[] {
  const count = child(lamp, 'count');
  const now = count?.kind === 'scalar' ? Number(count.text) : 1;
  return count && Number.isInteger(now) && now > 1 ? replaceNode(text, count, String(now - 1)) : [];
}

/** Modifiers that fit the one fit its copy. */
function fitting({ root, text }: Doc, lamp: string, own: string): Edit[] {
  const modifiers = child(root, 'modifiers');
  return (modifiers?.kind === 'map' ? modifiers.pairs : []).flatMap(({ value }) => {
    const fits = child(value, 'fits');
    if (!fits || fits.alias !== undefined) return [];
    if (fits.kind === 'scalar')
      return fits.text === lamp ? replaceNode(text, fits, `[${raw(text, fits)}, ${own}]`) : [];
    const named = fits.kind === 'list' && fits.items.some((item) => item.kind === 'scalar' && item.text === lamp);
    return named ? insertItem(text, fits, own) : [];
  });
}

function raw(text: string, { start, end }: Node): string {
  return text.slice(start, end);
}
