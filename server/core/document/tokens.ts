/** The first pass over the text: comments, marks and documents, each at its exact characters. */
import { CST, Lexer, Parser } from 'yaml';
import type { Comment, Range } from './node.ts';

/** Deepest nesting that is read. The format itself needs six levels; far more would overflow the stack. */
export const deepest = 64;

/** A token that has a meaning of its own: `!tag`, `%YAML 1.2`, or the `?` before a key. */
export interface Mark extends Range {
  readonly text: string;
}

export interface Tokens {
  /** What stands before, in and after the first document. */
  readonly tokens: readonly CST.Token[];
  /** Where a second document starts. */
  readonly second: Range | undefined;
  readonly comments: readonly Comment[];
  readonly tags: readonly Mark[];
  readonly directives: readonly Mark[];
  readonly questions: readonly Mark[];
  /** `&name` and `*name`. */
  readonly names: readonly Mark[];
  /** Quoted texts that go over several lines or have no closing quote: where one was forgotten, it is among them. */
  readonly longQuotes: readonly Mark[];
  /** Brackets that nothing closes, the innermost of each place first. */
  readonly unclosed: readonly Mark[];
  /** Quoted texts on one line, and what stands in brackets that are closed, in the order of their ends. */
  readonly closed: readonly Range[];
  /** Where the nesting became deeper than is read; nothing after it has been looked at. */
  readonly tooDeep: number | undefined;
}

/**
 * Reads `text`, in which `\n` and `\r\n` are the only line ends. Time is linear in its length.
 * @param levels how deep the nesting may go
 */
export function tokenise(text: string, levels = deepest): Tokens {
  const all: CST.Token[] = [];
  const comments: Comment[] = [];
  const marks: Record<'!' | '%' | '?' | '&' | '*', Mark[]> = { '!': [], '%': [], '?': [], '&': [], '*': [] };
  const longQuotes: Mark[] = [];
  const brackets = new Brackets();
  const parser = new Parser();
  let tooDeep: number | undefined;
  let scalar = false;

  for (const source of new Lexer().lex(text)) {
    const start = parser.offset;
    const first = scalar ? '' : source[0];
    // The lexer says with this character that a scalar comes next, whatever it begins with.
    scalar = !scalar && source === '\u001f';
    if (first === '#') comments.push(comment(text, start, source));
    else if (first !== undefined && first in marks) {
      marks[first as keyof typeof marks].push({ start, end: start + source.length, text: source });
    } else if (first === '"' || first === "'") {
      const long = source.length === 1 || !source.endsWith(first) || source.includes('\n');
      if (long) longQuotes.push({ start, end: start + source.length, text: source });
      else brackets.closed.push({ start, end: start + source.length });
    } else brackets.meet(first, start);
    for (const token of parser.next(source)) all.push(token);
    // The stack holds the document, the maps and lists, and at times one scalar on top.
    if (parser.stack.length > levels + 1 && CST.isCollection(parser.stack.at(-1))) {
      tooDeep = start;
      break;
    }
  }
  if (tooDeep === undefined) for (const token of parser.end()) all.push(token);
  brackets.giveUp();
  const names = [...marks['&'], ...marks['*']];
  const parts = { comments, tags: marks['!'], directives: marks['%'], questions: marks['?'], names };
  const { unclosed, closed } = brackets;
  return { ...firstDocument(all), ...parts, longQuotes, unclosed, closed, tooDeep };
}

/** Pairs up the brackets outside quotes and comments. */
class Brackets {
  readonly unclosed: Mark[] = [];
  readonly closed: Range[] = [];
  #open: Mark[] = [];

  meet(character: string | undefined, start: number): void {
    if (character === '{' || character === '[') this.#open.push({ start, end: start + 1, text: character });
    else if (character === '}' || character === ']') this.#close(character, start + 1);
    // The lexer's sign that the lines go on as if all brackets were closed.
    else if (character === '\u0018') this.giveUp();
  }

  #close(character: string, end: number): void {
    const opening = this.#open.pop();
    if (!opening) return;
    if (opening.text === (character === '}' ? '{' : '[')) this.closed.push({ start: opening.start, end });
    else this.unclosed.push(opening);
  }

  /** What is still open stays so. */
  giveUp(): void {
    this.unclosed.push(...this.#open.reverse());
    this.#open = [];
  }
}

function comment(text: string, start: number, source: string): Comment {
  let before = start;
  while (before > 0 && (text[before - 1] === ' ' || text[before - 1] === '\t')) before--;
  const alone = before === 0 || text[before - 1] === '\n' || (before === 1 && text[0] === '\ufeff');
  return { start, end: start + source.length, text: source.slice(1).trim(), alone };
}

function firstDocument(all: readonly CST.Token[]): { tokens: readonly CST.Token[]; second: Range | undefined } {
  const isDocument = (token: CST.Token): token is CST.Document => token.type === 'document';
  const first = all.findIndex(isDocument);
  const index = all.findIndex((token, at) => at > first && isDocument(token));
  const document = all[index];
  if (first < 0 || document?.type !== 'document') return { tokens: all, second: undefined };
  const dashes = document.start.find((token) => token.type === 'doc-start');
  const start = dashes?.offset ?? document.value?.offset ?? document.offset;
  return { tokens: all.slice(0, index), second: { start, end: start + (dashes ? 3 : 1) } };
}
