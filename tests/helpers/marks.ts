/** Expected places written into the text itself: `title: ⟦"Clay⟧` marks the characters of `"Clay`. */
import type { Range } from '../../server/core/document/node.ts';

/** The text without its marks, and the places they marked, in the order in which they start. */
export function unmark(marked: string): { text: string; ranges: Range[] } {
  const ranges: { start: number; end: number }[] = [];
  const open: { start: number; end: number }[] = [];
  let text = '';
  for (const character of marked) {
    if (character === '⟦') {
      const range = { start: text.length, end: text.length };
      ranges.push(range);
      open.push(range);
    } else if (character === '⟧') {
      const range = open.pop();
      if (!range) throw new Error(`A ⟧ has no ⟦: ${marked}`);
      range.end = text.length;
    } else text += character;
  }
  if (open.length > 0) throw new Error(`A ⟦ has no ⟧: ${marked}`);
  return { text, ranges };
}

/** The opposite: the text with ⟦ and ⟧ round each range, so that a failing test shows what is off. */
export function mark(text: string, ranges: readonly Range[]): string {
  const signs = ranges.flatMap(({ start, end }) => [
    { at: start, sign: '⟦', order: start === end ? 1 : 2 },
    { at: end, sign: '⟧', order: start === end ? 1 : 0 },
  ]);
  let result = '';
  let done = 0;
  for (const { at, sign } of signs.sort((a, b) => a.at - b.at || a.order - b.order)) {
    result += text.slice(done, at) + sign;
    done = at;
  }
  return result + text.slice(done);
}
