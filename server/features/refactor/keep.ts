/** Taking fields out without losing a word that was said about them. */
import { removePair, startOfLine } from '../../core/document/edits.ts';
import type { MapNode, Pair } from '../../core/document/node.ts';
import type { Doc } from '../../core/document/parse.ts';
import type { Edit } from '../../core/finding.ts';

/**
 * Takes one field with a value on one line out of a block; a comment at the end of its line stays there. The block goes
 * too when nothing is left in it. Undefined where that is not possible, and where a comment is about just this line.
 */
export function takeOut(doc: Doc, parent: MapNode, block: Pair, key: string): Edit[] | undefined {
  const map = block.value;
  const pair = map.kind === 'map' ? map.pairs.find((one) => one.key.text === key) : undefined;
  if (map.kind !== 'map' || map.alias !== undefined || !pair || isSpokenOf(doc, pair)) return undefined;
  if (map.pairs.length === 1) return takeBlockOut(doc, parent, block);
  if (map.flow) return removePair(doc.text, map, key);
  return takeLineOut(doc, pair);
}

/** `# accept …` and `# fixed` mean the line that they stand on or over: what is on it stays where it is. */
function isSpokenOf({ comments, lines }: Doc, pair: Pair): boolean {
  const line = lines.line(pair.key.start);
  return comments.some((one) => {
    const at = lines.line(one.start);
    return /^(accept|fixed)\b/.test(one.text) && (at === line || (one.alone && at === line - 1));
  });
}

function takeLineOut(doc: Doc, { key, value }: Pair): Edit[] | undefined {
  const { text, lines, comments } = doc;
  const line = lines.line(key.start);
  if (lines.line(value.end) !== line || text.slice(startOfLine(text, key.start), key.start).trim() !== '')
    return undefined;
  const comment = comments.find((one) => !one.alone && lines.line(one.start) === line);
  if (comment) return [{ start: key.start, end: comment.start, text: '' }];
  return [{ start: lines.start(line), end: lines.start(line + 1), text: '' }];
}

/** The block with its last field; where a comment is in it or its own block would be left bare, it stays as `{}`. */
function takeBlockOut(doc: Doc, parent: MapNode, block: Pair): Edit[] | undefined {
  const { text, lines, comments } = doc;
  const map = block.value as MapNode;
  const [first, last] = [lines.line(block.key.start), lines.line(map.end)];
  const inside = comments.filter((one) => lines.line(one.start) >= first && lines.line(one.start) <= last);
  const ownLines = text.slice(startOfLine(text, block.key.start), block.key.start).trim() === '' && !parent.flow;
  if (map.flow) {
    if (inside.length === 0 && parent.pairs.length > 1) {
      if (parent.flow) return removePair(text, parent, block.key.text);
      if (ownLines && first === last) return [{ start: lines.start(first), end: lines.start(last + 1), text: '' }];
    }
    return removePair(text, map, map.pairs[0]!.key.text);
  }
  if (inside.length === 0 && ownLines && parent.pairs.length > 1)
    return [{ start: lines.start(first), end: lines.start(last + 1), text: '' }];
  const line = takeLineOut(doc, map.pairs[0]!);
  return line && [{ start: block.key.end + 1, end: block.key.end + 1, text: ' {}' }, ...line];
}
