/** `iso:100` at the start of a line: a name that holds its value because a space is missing after its colon. */
import { shown } from '../say.ts';
import { errorsIn } from './compose.ts';
import { applyEdits } from './edits.ts';
import type { Range } from './node.ts';
import type { Problem } from './problem.ts';
import { problem } from './problem.ts';
import type { Tokens } from './tokens.ts';

export interface LooseName {
  /** Where the name starts, in characters of the text. */
  readonly start: number;
  readonly name: string;
  /** To the end of the line. */
  readonly value: string;
}

const looseLine = /(?<=^|[\r\n])([ \t\ufeff]*(?:- +)*)([a-z][\w-]*):([^\s/:][^\r\n]*)/gi;

/** All that start a line between two places of a text, which are starts of lines or of the first of them. */
export function looseNames(text: string, from = 0, to = text.length): LooseName[] {
  return [...text.slice(from, to).matchAll(looseLine)].map(
    ({ index, 1: before = '', 2: name = '', 3: value = '' }) => ({
      start: from + index + before.length,
      name,
      value,
    }),
  );
}

const known = new WeakMap<Tokens, readonly LooseName[]>();

/** All lines of a text that can't be read that lack the same space, where it can be read at least as well with all of them. */
export function looseLines(text: string, tokens: Tokens, own: LooseName): readonly LooseName[] {
  let all = known.get(tokens);
  if (!all) {
    const texts = [...tokens.longQuotes, ...blockTexts(text)];
    all = looseNames(text).filter(({ start }) => !texts.some((one) => one.start < start && start < one.end));
    const errorsWith = (names: readonly LooseName[]) => errorsIn(applyEdits(text, names.map(spaceAfter)) ?? text);
    if (all.length > 1 && errorsWith(all) > errorsWith([own])) all = [];
    known.set(tokens, all);
  }
  return all;
}

/** The lines below a name with `|` or `>` that are its text: further in than the name. */
function blockTexts(text: string): Range[] {
  const blockText =
    /(?<=^|[\r\n])( *)[^\s#][^\r\n]*[ \t][|>][-+\d]*[ \t]*(?:#[^\r\n]*)?(?:\r?\n(?:\1 [^\r\n]*|[ \t]*(?=[\r\n])))+/g;
  return [...text.matchAll(blockText)].map(({ index, 0: all }) => ({
    start: index + all.search(/[\r\n]/),
    end: index + all.length,
  }));
}

/** @param alike others that lack the same, which the fix mends too */
export function noSpaceAfterColon(own: LooseName, alike: readonly LooseName[] = []): Problem {
  const { start, name } = own;
  const said = own.value.trimEnd();
  const others = alike.filter((one) => one.start !== start);
  const more = others.length === 0 ? '' : ` So it is in ${others.length} other line${others.length > 1 ? 's' : ''}.`;
  const message = `A space is missing after the colon: \`${shown(`${name}: ${said}`)}\`.${more}`;
  const title =
    others.length === 0 ? 'Put a space after the colon' : `Put a space after all ${others.length + 1} colons`;
  const edits = [own, ...others].map(spaceAfter).sort((a, b) => a.start - b.start);
  return problem('syntax', { start, end: start + name.length + 1 + said.length }, message, {
    fixes: [{ title, edits, safe: true }],
  });
}

function spaceAfter({ start, name }: LooseName) {
  const at = start + name.length + 1;
  return { start: at, end: at, text: ' ' };
}
