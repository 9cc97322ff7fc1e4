/** One error of the YAML library with the text around it, and what is put together about it. */
import type { Edit, Fix } from '../finding.ts';
import { quote, startOfLine } from './edits.ts';
import type { Range } from './node.ts';
import type { Problem } from './problem.ts';
import { problem } from './problem.ts';
import type { Tokens } from './tokens.ts';

/** No line is looked at further than this many characters. */
export const farthest = 2000;

/** One error and the text around it. */
export interface Fault {
  readonly code: string;
  readonly message: string;
  /** Where the library sees it, inside the text. */
  readonly start: number;
  readonly end: number;
  readonly text: string;
  readonly tokens: Tokens;
  readonly lineStart: number;
  /** The characters from `start` to the end of their line. */
  readonly rest: string;
  /** The characters before `start` on its line. */
  readonly before: string;
}

/** A reading of one kind of fault; undefined when it is another kind. */
export type Explain = (fault: Fault) => Problem | undefined;

export function syntax({ text }: Fault, place: Range, message: string, ...fixes: Fix[]): Problem {
  return problem('syntax', { start: place.start, end: Math.min(place.end, text.length) }, message, { fixes });
}

export function choice(title: string, ...edits: Edit[]): Fix {
  return { title, edits, safe: false };
}

export function quoted(place: Range, text: string): Edit {
  return { start: place.start, end: place.end, text: quote(text) };
}

/** The value that a line starts with, without blanks and a comment at its end. */
export function plainValue(rest: string): string {
  return rest.replace(/(^|\s)#.*$/, '').trimEnd();
}

export function lineRest(text: string, offset: number): string {
  return /^[^\r\n]*/.exec(text.slice(offset, offset + farthest))?.[0] ?? '';
}

/** A line that holds more than a comment. */
export interface Line {
  readonly start: number;
  /** Where it starts, and where what stands behind its dashes starts. */
  readonly columns: readonly [number, ...number[]];
  /** From the first character that is no blank. */
  readonly text: string;
}

/** The lines above an offset that hold more than a comment, the nearest first. */
export function linesAbove(text: string, offset: number): Line[] {
  const end = startOfLine(text, offset);
  const from = end > farthest ? startOfLine(text, end - farthest) : 0;
  return linesIn(text, from, end).reverse();
}

/** The lines from the one that holds an offset downwards that hold more than a comment. */
export function linesFrom(text: string, offset: number): Line[] {
  const start = startOfLine(text, offset);
  return linesIn(text, start, Math.min(text.length, start + farthest));
}

function linesIn(text: string, from: number, to: number): Line[] {
  return [...text.slice(from, to).matchAll(/(?<=^|[\r\n])([\ufeff\t ]*)((?:- +)*)([^\s#][^\r\n]*)/g)].map((match) => {
    const [, blanks = '', dashes = '', rest = ''] = match;
    const column = blanks.replace('\ufeff', '').length;
    const inner = dashes ? [column + dashes.length] : [];
    return { start: from + match.index, columns: [column, ...inner], text: dashes + rest };
  });
}

/** Does a fault stand in braces or brackets? */
export function isBetweenBrackets({ tokens, start }: Fault): boolean {
  const isAround = (bracket: Range) => bracket.start < start && bracket.end > start;
  return tokens.closed.some(isAround) || tokens.unclosed.some((bracket) => bracket.start < start);
}
