/**
 * Text edits for fixes. Each touches only the characters that it is about: nothing re-serialises YAML, so that
 * comments, quotes, indentation and line ends stay as they were written.
 */
import type { Edit } from '../finding.ts';
import type { ListNode, MapNode, Node, Pair, Range, ScalarNode } from './node.ts';

/** Spaces for each step inwards where a file gives no example. */
const step = 2;

/** The text after all edits, or undefined where two of them overlap or one lies outside the text. */
export function applyEdits(text: string, edits: readonly Edit[]): string | undefined {
  // Sorting is stable: insertions at one place keep the order they were given in.
  const sorted = [...edits].sort((a, b) => a.start - b.start || a.end - b.end);
  let result = '';
  let done = 0;
  for (const { start, end, text: inserted } of sorted) {
    if (start < done || end < start || end > text.length) return undefined;
    result += text.slice(done, start) + inserted;
    done = end;
  }
  return result + text.slice(done);
}

/** Where the new texts stand after the edits. */
export function writtenBy(edits: readonly Edit[]): Range[] {
  let moved = 0;
  return [...edits]
    .sort((a, b) => a.start - b.start)
    .map(({ start, end, text }) => {
      const range = { start: start + moved, end: start + moved + text.length };
      moved += text.length - (end - start);
      return range;
    });
}

/** Text in quotes, so that YAML reads exactly these characters. */
export function quote(text: string): string {
  // eslint-disable-next-line no-control-regex -- these are what needs an escape
  if (/[\x00-\x1f\x7f-\x9f\u2028\u2029\ufeff]|\p{Cs}/u.test(text)) return escaped(text);
  if (!/["\\]/.test(text)) return `"${text}"`;
  return `'${text.replaceAll("'", "''")}'`;
}

function escaped(text: string): string {
  return JSON.stringify(text).replace(/[\x7f-\x9f\u2028\u2029\ufeff]/g, (character) => {
    return `\\u${character.charCodeAt(0).toString(16).padStart(4, '0')}`;
  });
}

/** Puts `valueText`, written as in the file, in the place of a value; an empty value may be filled so too. */
export function replaceNode(text: string, node: Range, valueText: string): Edit[] {
  const { start, end } = node;
  const gap = start === end && /[^\s[{,]/.test(text[start - 1] ?? ' ') ? ' ' : '';
  // A comment behind the sign of a block of text lies inside what is replaced.
  const comment = /^[|>][-+\d]*[ \t]+(#[^\r\n]*)/.exec(text.slice(start, end))?.[1];
  return [{ start, end, text: gap + valueText + (comment === undefined ? '' : ` ${comment.trimEnd()}`) }];
}

/**
 * Adds `key: valueText` after the last pair of a map, or under a key that has no value yet. `valueText` is written
 * as in the file; a block value starts with `\n`, and its lines are indented from the key.
 */
export function insertPair(text: string, map: MapNode | ScalarNode, key: string, valueText: string): Edit[] {
  if (map.kind === 'map' && map.short) return writeOut(text, map, [{ key, text: valueText }]);
  const pairText = valueText === '' || valueText.startsWith('\n') ? `${key}:${valueText}` : `${key}: ${valueText}`;
  if (map.kind === 'scalar') return insertLine(text, map, columnOfLine(text, map.start) + step, pairText);
  const last = map.pairs.at(-1);
  if (map.flow || !last) return insertInBrackets(map, last && pairRange(last), pairText, ' ');
  return insertLine(text, last.value, columnOfKeys(text, map.pairs), pairText);
}

/** A block that is written as the value of its one key becomes one in braces, with more keys: `{ clip: C1.MP4, judged: best }`. */
export function writeOut(text: string, map: MapNode, more: readonly { key: string; text: string }[]): Edit[] {
  const { key, value } = map.pairs[0]!;
  const written = text.slice(value.start, value.end);
  // In braces some signs mean something that mean nothing outside, and a text over several lines can't stand there.
  const isSafe = /^(?:"[^\r\n]*"|'[^\r\n]*'|\*[^\s,]+|[^,[\]{}\r\n|>]+)$/.test(written);
  const kept = isSafe || value.kind !== 'scalar' ? written : quote(value.text);
  const before = { start: value.start, end: value.end, text: `{ ${key.text}: ${kept}` };
  const pairs = more.map((one) => `, ${one.key}: ${one.text}`).join('');
  if (kept !== written) return [{ ...before, text: `${before.text}${pairs} }` }];
  return [
    { ...before, end: value.start, text: `{ ${key.text}: ` },
    { start: value.end, end: value.end, text: `${pairs} }` },
  ];
}

/** Adds an item after the last one of a list. `valueText` is as for `insertPair`, its lines indented from the dash. */
export function insertItem(text: string, list: ListNode, valueText: string): Edit[] {
  const last = list.items.at(-1);
  if (list.flow || !last) return insertInBrackets(list, last, valueText, '');
  return insertLine(text, last, column(text, list.start), `- ${valueText}`);
}

/** Takes a pair out, with its line and the comment at the end of its line. */
export function removePair(text: string, map: MapNode, key: string): Edit[] {
  return removePairAt(
    text,
    map,
    map.pairs.findIndex((pair) => pair.key.text === key),
  );
}

/** The same for a pair by its place among the others. */
export function removePairAt(text: string, map: MapNode, index: number): Edit[] {
  const pair = map.pairs[index];
  if (!pair) return [];
  const next = map.pairs[index + 1];
  if (map.flow && map.pairs.length === 1 && !hasComment(text, map.start, map.end))
    return [{ ...rangeOf(map), text: '{}' }];
  if (map.flow) return [removed(flowRemoval(text, pair, map.pairs[index - 1], next))];
  const lineStart = startOfLine(text, pair.key.start);
  if (text.slice(lineStart, pair.key.start).trim() === '') {
    return [removed({ start: lineStart, end: nextLine(text, pair.value) })];
  }
  // The first pair of a list item shares its line with the dash.
  if (next) return [removed({ start: pair.key.start, end: next.key.start })];
  return [{ ...pairRange(pair), text: '{}' }];
}

function removed({ start, end }: Range): Edit {
  return { start, end, text: '' };
}

function rangeOf({ start, end }: Range): Range {
  return { start, end };
}

function flowRemoval(text: string, pair: Pair, before: Pair | undefined, next: Pair | undefined): Range {
  const own = pairRange(pair);
  if (next && !hasComment(text, own.end, next.key.start)) return { start: own.start, end: next.key.start };
  if (before && !next && !hasComment(text, before.value.end, own.start))
    return { start: before.value.end, end: own.end };
  // A comma left behind at the end is allowed; a comment taken along is not.
  const comma = /^[ \t]*,[ \t]*/.exec(text.slice(own.end));
  return { start: own.start, end: own.end + (comma?.[0].length ?? 0) };
}

function hasComment(text: string, start: number, end: number): boolean {
  return text.slice(start, end).includes('#');
}

function pairRange(pair: Pair): Range {
  return { start: pair.key.start, end: Math.max(pair.key.end, pair.value.end) };
}

function insertInBrackets(node: Range, last: Range | undefined, inner: string, padding: string): Edit[] {
  if (last) return [{ start: last.end, end: last.end, text: `, ${inner}` }];
  return [{ start: node.start + 1, end: node.end - 1, text: padding + inner + padding }];
}

/** A new line below the one on which `after` ends. */
function insertLine(text: string, after: Node | Range, indent: number, line: string): Edit[] {
  const at = endOfValue(text, after);
  const lineEnd = lineEndOf(text);
  const indented = line.split('\n').map((part) => (part.trim() === '' ? '' : ' '.repeat(indent) + part));
  return [{ start: at, end: at, text: lineEnd + indented.join(lineEnd) }];
}

/** The end of the line on which a value ends; a `|+` block owns the blank lines after it as well. */
function endOfValue(text: string, node: Range): number {
  const own = endOfLine(text, node.end);
  if (!/^[|>]\d?\+/.test(text.slice(node.start, node.start + 3))) return own;
  const blank = /^(?:(?:\r\n|\n|\r)[ \t]*)+(?=\r|\n|$)/.exec(text.slice(own));
  return own + (blank?.[0].length ?? 0);
}

/** The start of the line after the one on which a value ends. */
function nextLine(text: string, node: Range): number {
  const end = endOfValue(text, node);
  if (text[end] === '\r' && text[end + 1] === '\n') return end + 2;
  return Math.min(end + 1, text.length);
}

/** Where the line of an offset starts. */
export function startOfLine(text: string, offset: number): number {
  let at = offset;
  while (at > 0 && text[at - 1] !== '\n' && text[at - 1] !== '\r') at--;
  return at;
}

function endOfLine(text: string, offset: number): number {
  let at = offset;
  while (at < text.length && text[at] !== '\n' && text[at] !== '\r') at++;
  return at;
}

/** The line end that the file uses, told by its first line. */
export function lineEndOf(text: string): string {
  return /\r\n|\n|\r/.exec(text)?.[0] ?? '\n';
}

function column(text: string, offset: number): number {
  const start = startOfLine(text, offset);
  return offset - start - (text[start] === '\ufeff' ? 1 : 0);
}

/** Where the names of a block start: told by one that stands first on its line, if there is one. */
function columnOfKeys(text: string, pairs: readonly Pair[]): number {
  const isFirst = ({ key }: Pair): boolean => /^\ufeff?\s*$/.test(text.slice(startOfLine(text, key.start), key.start));
  const pair = pairs.find(isFirst) ?? pairs[0];
  return pair ? column(text, pair.key.start) : 0;
}

/** Where the name on this line starts, after spaces and dashes. */
function columnOfLine(text: string, offset: number): number {
  const line = text.slice(startOfLine(text, offset), offset);
  return /^\ufeff?((?: |- )*)/.exec(line)?.[1]?.length ?? 0;
}
