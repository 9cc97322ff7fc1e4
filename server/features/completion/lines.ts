/** The lines of a file as far as completion needs them: where dashes and a key stand, and what is behind the colon. */

export interface KeyPart {
  readonly column: number;
  readonly text: string;
  /** Column behind the colon. */
  readonly after: number;
  /** What stands behind the colon, without a comment. */
  readonly value: string;
}

export interface Line {
  /** Column of the first character that is no blank; the line's length where there is none. */
  readonly first: number;
  readonly blank: boolean;
  readonly comment: boolean;
  readonly dashes: readonly number[];
  readonly key?: KeyPart;
}

const keyPattern =
  /^(?:"((?:[^"\\]|\\.)*)"|'((?:[^']|'')*)'|([^\s#&*!|>'"%@`[\]{},:-][^:#[\]{},]*?|-[^\s:#[\]{},][^:#[\]{},]*?))\s*:(?=\s|$)/;

export function readLine(line: string): Line {
  const first = /^[ \t\ufeff]*/.exec(line)![0].length;
  const blank = first === line.length;
  if (blank || line[first] === '#') return { first, blank, comment: !blank, dashes: [] };
  const dashes: number[] = [];
  let at = first;
  while (line[at] === '-' && (at + 1 === line.length || line[at + 1] === ' ')) {
    dashes.push(at);
    at++;
    while (line[at] === ' ') at++;
  }
  const match = keyPattern.exec(line.slice(at));
  if (!match) return { first, blank, comment: false, dashes };
  const after = at + match[0].length;
  const text = (match[1] ?? match[2] ?? match[3])!;
  return {
    first,
    blank,
    comment: false,
    dashes,
    key: { column: at, text, after, value: valueText(line.slice(after)) },
  };
}

/** The value without a comment behind it; quotes stay. */
export function valueText(rest: string): string {
  const end = commentStart(rest);
  return rest.slice(0, end).trim();
}

/** Where a comment starts in a piece of one line; its length where there is none. */
export function commentStart(text: string): number {
  let quote = '';
  for (let at = 0; at < text.length; at++) {
    const one = text[at]!;
    if (quote) {
      if (quote === '"' && one === '\\') at++;
      else if (one === quote) quote = '';
    } else if (one === '#' && (at === 0 || /\s/.test(text[at - 1]!))) return at;
    else if ((one === '"' || one === "'") && (at === 0 || /[\s:,[{]/.test(text[at - 1]!))) quote = one;
  }
  return text.length;
}

/** May a block stand under a key with this value? Nothing, an anchor, or a bracket that is opened. */
export function opensBlock(value: string): boolean {
  return value === '' || /^[&!]\S*$/.test(value) || /^(?:[&!]\S*\s+)?[{[]$/.test(value);
}
