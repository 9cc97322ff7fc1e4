/** How wide words come out, so that a drawing can make room for them. Widths of a plain sans in thousandths of its size. */

/** Printable ASCII from the space on (the advance widths of Helvetica in Adobe's font metrics, from memory). */
const ascii = (
  '278 278 355 556 556 889 667 191 333 333 389 584 278 333 278 278 556 556 556 556 556 556 556 556 556 556 278 278 ' +
  '584 584 584 556 1015 667 667 722 722 667 611 778 722 278 500 667 556 833 722 778 667 778 722 667 611 722 667 944 ' +
  '667 667 611 278 278 278 469 556 333 556 556 500 556 556 278 556 556 222 222 500 222 833 556 556 556 556 333 500 ' +
  '278 556 500 722 500 500 500 334 260 334 584'
)
  .split(' ')
  .map(Number);

/** Other fonts run a little wider, and bold too. */
const spare = 1.19;

/** Width of one line at a font size, in the unit of the size. */
export function textWidth(words: string, size: number, bold = false): number {
  return atSize(thousandths(words), size, bold);
}

/** Of the size of the letters. */
function thousandths(words: string): number {
  let sum = 0;
  for (const character of words) {
    const code = character.codePointAt(0)!;
    sum += ascii[code - 32] ?? (code >= 0x2e80 ? 1000 : 580);
  }
  return sum;
}

function atSize(parts: number, size: number, bold: boolean): number {
  return (parts / 1000) * size * spare * (bold ? 1.1 : 1);
}

/** Blanks, but for those between a number and its unit. */
const breaks = /(?<!\d)\s+|\s+(?!(?:[%A-Za-z]{1,3}|mired|stops?|beats?)(?:[\s,.;:)]|$))/u;

/** Breaks words into lines of a width; a word that is too long for a line is broken inside. */
export function wrapped(words: string, size: number, width: number, bold = false): string[] {
  const lines: string[] = [];
  let open = '';
  let parts = 0;
  for (const word of words.split(breaks).filter(Boolean)) {
    const longer = open ? parts + thousandths(' ') + thousandths(word) : thousandths(word);
    if (atSize(longer, size, bold) <= width) {
      open = open ? `${open} ${word}` : word;
      parts = longer;
      continue;
    }
    if (open) lines.push(open);
    open = word;
    while (textWidth(open, size, bold) > width && open.length > 1) {
      const fits = Math.max(1, lengthThatFits(open, size, width, bold));
      lines.push(open.slice(0, fits));
      open = open.slice(fits);
    }
    parts = thousandths(open);
  }
  return open ? [...lines, open] : lines;
}

/** One line, cut with an ellipsis where it is too long; empty where not even a letter fits. */
export function fitted(words: string, size: number, width: number, bold = false): string {
  if (textWidth(words, size, bold) <= width) return words;
  const fits = lengthThatFits(words, size, width - textWidth('…', size, bold), bold);
  return fits > 0 ? `${words.slice(0, fits).trimEnd()}…` : '';
}

function lengthThatFits(words: string, size: number, width: number, bold = false): number {
  let used = 0;
  let length = 0;
  for (const character of words) {
    used += textWidth(character, size, bold);
    if (used > width) break;
    length += character.length;
  }
  return length;
}
