/** The YAML library's errors in plain words, at the characters that a reader would point at. */
import type { YAMLParseError } from 'yaml';
import type { Fix } from '../finding.ts';
import { leftOfTheFirstLine, listAmongNames, listSign, tab, tooDeepLine, unevenIndent } from './columns.ts';
import { lineEndOf, quote, startOfLine } from './edits.ts';
import type { Explain, Fault } from './fault.ts';
import {
  choice,
  farthest,
  isBetweenBrackets,
  lineRest,
  linesAbove,
  linesFrom,
  plainValue,
  quoted,
  syntax,
} from './fault.ts';
import type { Range } from './node.ts';
import { type LooseName, looseLines, looseNames, noSpaceAfterColon } from './missing-spaces.ts';
import type { Problem } from './problem.ts';
import { shown } from '../say.ts';
import type { Mark, Tokens } from './tokens.ts';

/** More than these are follow-on errors of the first ones. */
const mostShown = 5;

/** More errors than these are not even looked at. */
const mostRead = 100;

/** The errors of a composed document in plain words, with those left out that only follow from another one. */
export function syntaxProblems(errors: readonly YAMLParseError[], text: string, tokens: Tokens): Problem[] {
  const faults = errors
    .filter((error) => !reportedElsewhere(error.code, tokens))
    // The library reports what it meets on its way, not always in the order of the text.
    .sort((a, b) => a.pos[0] - b.pos[0])
    .slice(0, mostRead)
    .map((error) => faultOf(error, text, tokens));
  const found: Problem[] = [];
  const lines = new Set<number>();
  let spoilt: Explain | undefined;
  for (const fault of faults) {
    if (lines.has(fault.lineStart) || (found.length > 0 && !staysOnItsLine(fault))) continue;
    lines.add(fault.lineStart);
    const { explained, by } = explain(fault);
    if (spoilt && by !== spoilt) continue;
    if (by && spoils.has(by)) spoilt = by;
    if (!found.some((other) => other.start === explained.start)) found.push(explained);
    for (const edit of explained.fixes[0]?.edits ?? []) lines.add(startOfLine(text, edit.start));
    if (found.length === mostShown) break;
  }
  return found;
}

function reportedElsewhere(code: string, { directives }: Tokens): boolean {
  if (code === 'TAG_RESOLVE_FAILED' || code === 'BAD_COLLECTION_TYPE' || code === 'BAD_DIRECTIVE') return true;
  return code === 'MISSING_CHAR' && directives.length > 0;
}

/** Faults after which the lines below are still read as meant. */
function staysOnItsLine({ code }: Fault): boolean {
  return ['TAB_AS_INDENT', 'BAD_SCALAR_START', 'BAD_DQ_ESCAPE', 'BLOCK_AS_IMPLICIT_KEY'].includes(code);
}

function faultOf(error: YAMLParseError, text: string, tokens: Tokens): Fault {
  const start = Math.min(error.pos[0], text.length);
  const end = Math.min(Math.max(error.pos[1], start), text.length);
  const from = startOfLine(text, start);
  const before = text.slice(Math.max(from, start - farthest), start);
  const { code, message } = error;
  return { code, message, start, end, text, tokens, lineStart: from, before, rest: lineRest(text, start) };
}

function explain(fault: Fault): { explained: Problem; by?: Explain } {
  for (const by of explanations) {
    const explained = by(fault);
    if (explained) return { explained, by };
  }
  const place = { start: fault.start, end: fault.start + Math.max(fault.rest.trimEnd().length, 1) };
  const message = 'This cannot be read. Look at the indentation, quotes and brackets here and on the line above.';
  return { explained: syntax(fault, place, message) };
}

const unclosedQuote: Explain = (fault) => {
  const open = forgottenQuote(fault);
  if (!open) return undefined;
  const firstLine = lineRest(fault.text, open.start);
  const mark = open.text[0] ?? '"';
  const at = open.start + firstLine.trimEnd().length;
  const message = `The text that starts with \`${mark}\` here has no closing \`${mark}\` on its line.`;
  const place = { start: open.start, end: at };
  return syntax(
    fault,
    place,
    message,
    choice(`Close the quotes at the end of the line`, { start: at, end: at, text: mark }),
  );
};

/** A quote that runs on over later lines, when reading then failed at its end. */
function forgottenQuote({ message, text, start, tokens }: Fault): Mark | undefined {
  const open = tokens.longQuotes.findLast((quoted) => quoted.start <= start);
  if (!open) return undefined;
  if (message.startsWith('Missing closing')) return open;
  const between = text.slice(open.end, start);
  return open.end <= start && /^[ \t]*$/.test(between) ? open : undefined;
}

const unclosedBracket: Explain = (fault) => {
  const { message, text, tokens } = fault;
  if (!/must (be sufficiently indented and )?end with/.test(message)) return undefined;
  const open = tokens.unclosed.find(({ start }) => start <= fault.start);
  if (!open) return undefined;
  const closing = open.text === '{' ? '}' : ']';
  const lineEnd = open.start + lineRest(text, open.start).length;
  const comment = tokens.comments.find((one) => one.start > open.start && one.start < lineEnd);
  if (!comment?.text.includes(closing)) {
    return syntax(
      fault,
      open,
      `Nothing closes this \`${open.text}\`: a \`${closing}\` is missing, or stands too far left.`,
    );
  }
  const said = `\`#\` starts a comment, so the \`${closing}\` behind it closes nothing. Put quotes round text that holds \`#\`.`;
  return syntax(fault, comment, said, ...quoteColour(text, comment));
};

function quoteColour(text: string, comment: Range): Fix[] {
  const colour = /^#[0-9a-f]{3}(?:[0-9a-f]{3})?\b/i.exec(text.slice(comment.start, comment.end))?.[0];
  if (!colour) return [];
  const edit = { start: comment.start, end: comment.start + colour.length, text: quote(colour) };
  return [choice(`Put quotes round ${colour}`, edit)];
}

const extraBracket: Explain = (fault) => {
  const sign = fault.text[fault.start] ?? '';
  if (!/Unexpected flow-(map|seq)-end/.test(fault.message)) return undefined;
  const place = { start: fault.start, end: fault.start + 1 };
  return syntax(
    fault,
    place,
    `This \`${sign}\` closes nothing.`,
    choice(`Delete this ${sign}`, { ...place, text: '' }),
  );
};

const missingSpace: Explain = (fault) => {
  const { text, lineStart, start, rest } = fault;
  const own = nameAndValue(fault) ?? looseNames(text, lineStart, start + rest.length)[0] ?? looseAbove(fault);
  return own && noSpaceAfterColon(own, looseLines(fault.text, fault.tokens, own));
};

/** A line that is no name with a value is taken for a text, below which nothing else may stand. */
function looseAbove({ code, text, start }: Fault): LooseName | undefined {
  const [above] = code === 'UNEXPECTED_TOKEN' ? linesAbove(text, start) : [];
  return above && looseNames(text, above.start, startOfLine(text, start)).at(-1);
}

function nameAndValue({ code, start, rest }: Fault): LooseName | undefined {
  const found = /^(-?[\w-]+):([^\s/:][^\r\n]*)/.exec(rest);
  if (!found || (code !== 'MULTILINE_IMPLICIT_KEY' && code !== 'MISSING_CHAR')) return undefined;
  return { start, name: found[1] ?? '', value: found[2] ?? '' };
}

const blockInBrackets: Explain = (fault) => {
  if (fault.code !== 'BLOCK_IN_FLOW' && !isInBrackets(fault)) return undefined;
  if (/^-\s/.test(fault.rest)) {
    const place = { start: fault.start, end: fault.start + 1 };
    return syntax(fault, place, 'Dashes make lists only outside brackets. Inside, a list is written `[one, two]`.');
  }
  const value = /^(.*?)\s*(?=[,}\]]|\s#|$)/.exec(fault.rest)?.[1] ?? '';
  const place = { start: fault.start, end: fault.start + Math.max(value.length, 1) };
  const words = /^(.*\S)\s+([\w-]+:\s.*)$/.exec(value);
  const at = fault.start + (words?.[1]?.length ?? value.length);
  const comma = choice('Put a comma between them', { start: at, end: at, text: ',' });
  if (!value.includes(': ')) return syntax(fault, place, `A comma is missing after \`${shown(value)}\`.`, comma);
  const message = `\`${shown(value)}\` holds a colon: either a comma is missing before a name, or the whole is text and needs quotes.`;
  const fixes = [choice('Put quotes round the text', quoted(place, value)), ...(words ? [comma] : [])];
  return syntax(fault, place, message, ...(isQuantity(value) ? fixes.reverse() : fixes));
};

/** Whether a line break inside brackets was taken for part of a name, which is what a missing comma looks like. */
function isInBrackets({ code, text, start, end }: Fault): boolean {
  if (code !== 'MULTILINE_IMPLICIT_KEY') return false;
  const after = /^[^\r\n]*/.exec(text.slice(end))?.[0] ?? '';
  return (
    /^\s*:/.test(after) &&
    /[{[,]\s*[\w-]+:\s*$|[{[,]\s*$/.test(text.slice(Math.max(0, start - farthest), start)) &&
    !/^\s*$/.test(text.slice(start, end))
  );
}

const missingComma: Explain = (fault) => {
  if (!/^Missing , (or : )?between/.test(fault.message)) return undefined;
  const at = fault.text.slice(0, fault.start).trimEnd().length;
  const place = { start: fault.start, end: fault.start + Math.max(/^[^,\]}\s]*/.exec(fault.rest)?.[0].length ?? 1, 1) };
  return syntax(
    fault,
    place,
    'A comma is missing before this.',
    choice('Put a comma', { start: at, end: at, text: ',' }),
  );
};

const extraComma: Explain = (fault) => {
  if (!/^Unexpected ,/.test(fault.message)) return undefined;
  const place = { start: fault.start, end: fault.start + 1 };
  return syntax(
    fault,
    place,
    'There is nothing before this comma.',
    choice('Delete the comma', { ...place, text: '' }),
  );
};

const noSpaceInBrackets: Explain = (fault) => {
  if (!/^Missing space after :/.test(fault.message)) return undefined;
  const place = { start: fault.start, end: fault.start + 1 };
  const edit = { start: fault.start, end: fault.start, text: ' ' };
  return syntax(fault, place, 'A space is missing after the colon.', choice('Put a space after the colon', edit));
};

const colonInText: Explain = (fault) => {
  const value = plainValue(fault.rest);
  if (fault.code !== 'BLOCK_AS_IMPLICIT_KEY' || !/:\s/.test(value) || /^[\s-]/.test(value)) return undefined;
  const place = { start: fault.start, end: fault.start + value.length };
  const quotes = choice('Put quotes round the text', quoted(place, value));
  const two = twoOnOneLine(fault, value);
  if (two && isQuantity(value)) return syntax(fault, place, two.message, two.fix, quotes);
  const message = `\`${shown(value)}\` holds a colon and a space, which only stand between a name and its value. Put quotes round the text${two ? `, or start \`${two.name}\` on a line of its own` : ''}.`;
  return syntax(fault, place, message, quotes, ...(two ? [two.fix] : []));
};

function isQuantity(value: string): boolean {
  return /^[-+\d]/.test(value);
}

/** `rate: 25 shutter: 1/50 s`, a line break short. */
function twoOnOneLine({ text, start, before }: Fault, value: string) {
  const [, first = '', gap = '', name = ''] = /^(.*?\S)([ \t]+)([a-z][\w-]*):\s/.exec(value) ?? [];
  const indent = /^(\s*(?:- +)*)[\w-]+\s*:\s*$/.exec(before)?.[1]?.length;
  // Where it is no single word or quantity, it is likelier to be text.
  if (!name || indent === undefined || !/^[a-z][\w-]*$|^[-+\d]/.test(first)) return undefined;
  const at = start + first.length;
  const edit = { start: at, end: at + gap.length, text: lineEndOf(text) + ' '.repeat(indent) };
  const message = `\`${name}\` starts on the line of \`${shown(before.trim() + ' ' + first)}\`: each name starts a line of its own.`;
  return { name, message, fix: choice(`Start ${name} on a line of its own`, edit) };
}

const dashAfterColon: Explain = (fault) => {
  if (!/^Unexpected block-seq-ind/.test(fault.message)) return undefined;
  const number = /^-\s+(?=\d)/.exec(fault.rest);
  const place = { start: fault.start, end: fault.start + plainValue(fault.rest).length };
  if (!number) {
    return syntax(fault, place, 'A list starts on the line below its name, or stands in brackets: `[one, two]`.');
  }
  const edit = { start: fault.start, end: fault.start + number[0].length, text: '-' };
  const value = `-${plainValue(fault.rest).slice(number[0].length)}`;
  return syntax(
    fault,
    place,
    `The minus must touch its number: \`${shown(value)}\`.`,
    choice(`Write ${shown(value)}`, edit),
  );
};

const textAfterQuotes: Explain = (fault) => {
  const { code, message, start, text, tokens, rest } = fault;
  if (code !== 'UNEXPECTED_TOKEN' && !/^Missing , (or : )?between/.test(message)) return undefined;
  const before = tokens.closed.findLast(({ end }) => end <= start && /^[ \t]*$/.test(text.slice(end, start)));
  const closing = text[(before?.end ?? 0) - 1] ?? '';
  if (!before || (code !== 'UNEXPECTED_TOKEN' && !/^[^\s"'[{,\]}:]/.test(rest))) return undefined;
  const behind = isBetweenBrackets(fault) ? textInBrackets(rest) : /^.*?(?=:\s|:?$)/.exec(plainValue(rest))?.[0];
  if (!behind) return undefined;
  const whole = { start: before.start, end: start + behind.length };
  const said = `\`${shown(behind)}\` stands after the closing \`${closing}\`. Put quotes round the whole text.`;
  const edit = quoted(whole, withoutQuotes(text.slice(whole.start, whole.end)));
  return syntax(fault, { start, end: whole.end }, said, choice('Put quotes round the whole text', edit));
};

/** Text up to the comma or bracket that ends it; undefined where a name starts, before which a comma is missing. */
function textInBrackets(rest: string): string | undefined {
  const [whole] = /^(?:[^,\]}:#]|:(?!\s)|(?<!\s)#)*/.exec(rest) ?? [''];
  return rest[whole.length] === ':' ? undefined : whole.trimEnd();
}

/** `'It's here'` is meant to be `It's here`; `"It turns" he said` keeps its quotes as characters. */
function withoutQuotes(text: string): string {
  const [first] = text;
  return text.length > 1 && (first === "'" || first === '"') && text.endsWith(first) ? text.slice(1, -1) : text;
}

const badStart: Explain = (fault) => {
  const sign = fault.text[fault.start] ?? '';
  const value = plainValue(fault.rest);
  if (/^Not a YAML token/.test(fault.message)) return textAfterBlockSign(fault);
  const question = fault.code === 'BLOCK_AS_IMPLICIT_KEY' && sign === '?';
  if (fault.code !== 'BAD_SCALAR_START' && !question) return undefined;
  const place = { start: fault.start, end: fault.start + value.length };
  const number = /^%\s*(\d+(?:\.\d+)?)$/.exec(value)?.[1];
  const share = number === undefined ? [] : [choice(`Write ${number} %`, { ...place, text: `${number} %` })];
  const message = `A value cannot start with ${sign === '`' ? 'a backtick' : `\`${sign}\``}. Put quotes round it${number === undefined ? '' : `, or write \`${number} %\``}.`;
  return syntax(fault, place, message, ...share, choice('Put quotes round the text', quoted(place, value)));
};

function textAfterBlockSign(fault: Fault): Problem {
  const sign = /[|>][^\s]*\s*$/.exec(fault.before)?.[0] ?? '';
  const value = sign + plainValue(fault.rest);
  const place = { start: fault.start - sign.length, end: fault.start + plainValue(fault.rest).length };
  const message = `After \`${sign.trim() || '|'}\` text starts on the next line. Put quotes round text that starts with this sign.`;
  return syntax(fault, place, message, choice('Put quotes round the text', quoted(place, value)));
}

const escape: Explain = (fault) => {
  if (fault.code !== 'BAD_DQ_ESCAPE') return undefined;
  const sign = fault.text.slice(fault.start, fault.start + 2);
  const edit = { start: fault.start, end: fault.start, text: '\\' };
  const message = `\`${sign}\` means nothing inside double quotes. Write two backslashes for one, or use single quotes.`;
  return syntax(fault, { start: fault.start, end: fault.start + 2 }, message, choice('Double the backslash', edit));
};

const hashWithoutSpace: Explain = (fault) => {
  if (!/^Comments must be separated/.test(fault.message)) return undefined;
  const edit = { start: fault.start, end: fault.start, text: ' ' };
  return syntax(fault, fault, 'A comment needs a space before its `#`.', choice('Put a space before #', edit));
};

const anchorAlone: Explain = (fault) => {
  if (!['BAD_ALIAS', 'ALIAS_PROPS', 'MULTIPLE_ANCHORS', 'MULTIPLE_TAGS', 'BAD_PROP_ORDER'].includes(fault.code))
    return undefined;
  const value = plainValue(fault.rest);
  const place = { start: fault.start, end: fault.start + Math.max(value.length, 1) };
  const message = `\`${shown(value)}\` cannot stand here: \`&\` and \`*\` mark and repeat a value, once each. Put quotes round text that starts with one of them.`;
  return syntax(fault, place, message, choice('Put quotes round the text', quoted(place, value)));
};

const blockTextIndent: Explain = (fault) => {
  const [above] = linesAbove(fault.text, fault.start);
  const afterSign =
    above && /[|>][-+\d]*\s*$/.test(above.text) && fault.code === 'MISSING_CHAR' && fault.before.trim() === '';
  if (!afterSign && !/^Block scalar/.test(fault.message)) return undefined;
  const place = { start: fault.start, end: fault.start + Math.max(fault.rest.trimEnd().length, 1) };
  return syntax(
    fault,
    place,
    'The lines of text after `|` or `>` must start further in than the name before it, and evenly.',
  );
};

const nameAlone: Explain = (fault) => {
  const isAlone = fault.code === 'MULTILINE_IMPLICIT_KEY' || /^Implicit map keys need/.test(fault.message);
  const name = plainValue(fault.rest);
  if (!isAlone || name === '') return undefined;
  const place = { start: fault.start, end: fault.start + name.length };
  const equals = /^([\w-]+)\s*=\s*/.exec(name);
  if (equals) {
    const edit = { start: fault.start, end: fault.start + equals[0].length, text: `${equals[1]}: ` };
    const message = `A colon and a space stand between a name and its value, not \`=\`.`;
    return syntax(fault, place, message, choice('Write a colon', edit));
  }
  return aloneWithMore(fault, name) ?? missingColon(fault, name) ?? syntax(fault, place, textAlone(name));
};

/** `key` on a line of its own: with lines further in below it, only its colon is missing. */
function aloneWithMore(fault: Fault, name: string): Problem | undefined {
  if (!/^[\w-]+$/.test(name)) return undefined;
  const place = { start: fault.start, end: fault.start + name.length };
  const [own, below] = linesFrom(fault.text, fault.start);
  const isBlock = own && below && below.columns[0] > own.columns.at(-1)!;
  const fix = choice('Put a colon', { start: place.end, end: place.end, text: ':' });
  const rest = isBlock ? 'the lines below belong to it' : 'its value after it';
  const message = `\`${shown(name)}\` stands alone. Write a colon${isBlock ? ' after it:' : ' and'} ${rest}.`;
  return syntax(fault, place, message, ...(isBlock ? [fix] : []));
}

/** `iso 400`. */
function missingColon(fault: Fault, text: string): Problem | undefined {
  const [, name = '', value = ''] = /^([a-z][\w-]*)[ \t]+(\S.*)$/.exec(text) ?? [];
  if (!name || text.includes(': ') || /^[^\d{["'].*(?:\s\S+){3}/.test(value)) return undefined;
  const place = { start: fault.start, end: fault.start + text.length };
  const at = fault.start + name.length;
  const goesOn = isBelowValue(fault) ? ' If it goes on the line above, start it further in.' : '';
  const message = `\`${shown(text)}\` has no colon: write \`${shown(`${name}: ${value}`)}\`.${goesOn}`;
  return syntax(fault, place, message, choice(`Put a colon after ${name}`, { start: at, end: at, text: ':' }));
}

function isBelowValue({ text, start }: Fault): boolean {
  const [above] = linesAbove(text, start);
  return above !== undefined && /:\s+[^\s#]/.test(above.text);
}

function textAlone(text: string): string {
  return `\`${shown(text)}\` is neither a name with a colon nor the end of the text above it. Start it further in if it goes on the line above.`;
}

const longName: Explain = (fault) => {
  if (fault.code !== 'KEY_OVER_1024_CHARS') return undefined;
  return syntax(fault, fault, 'This name is longer than 1024 characters, which is the most that YAML allows.');
};

const afterDashes: Explain = (fault) => {
  if (!/^Block collection cannot start/.test(fault.message)) return undefined;
  const place = { start: fault.start, end: fault.start + plainValue(fault.rest).length };
  return syntax(fault, place, 'The first line starts below `---`, not beside it.');
};

/** The first that knows the fault explains it, so the particular ones come before the general ones. */
const explanations: readonly Explain[] = [
  tab,
  unclosedQuote,
  unclosedBracket,
  extraBracket,
  missingSpace,
  blockInBrackets,
  textAfterQuotes,
  missingComma,
  extraComma,
  noSpaceInBrackets,
  listSign,
  colonInText,
  tooDeepLine,
  listAmongNames,
  dashAfterColon,
  unevenIndent,
  leftOfTheFirstLine,
  badStart,
  escape,
  hashWithoutSpace,
  anchorAlone,
  blockTextIndent,
  nameAlone,
  longName,
  afterDashes,
];

/** Faults that make something else of the lines below them, so that only more of the same is believed there. */
const spoils: ReadonlySet<Explain> = new Set([tab, listSign, missingSpace]);
