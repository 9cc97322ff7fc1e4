/** Lines that start at a column, or with a sign, that YAML does not take there. */
import type { Edit } from '../finding.ts';
import { startOfLine } from './edits.ts';
import type { Explain, Fault, Line } from './fault.ts';
import { choice, isBetweenBrackets, linesAbove, linesFrom, plainValue, syntax } from './fault.ts';
import type { Problem } from './problem.ts';
import { quoted, shown } from '../say.ts';

export const tab: Explain = (fault) => {
  const { text, code, lineStart: from } = fault;
  const blanks = /^[ \t]*/.exec(text.slice(from, from + 200))?.[0] ?? '';
  const inIndent = blanks.includes('\t') && (code === 'TAB_AS_INDENT' || code === 'BAD_INDENT');
  if (!inIndent) return undefined;
  const place = { start: from + blanks.indexOf('\t'), end: from + blanks.lastIndexOf('\t') + 1 };
  const spaces = { start: from, end: from + blanks.length, text: blanks.replaceAll('\t', '  ') };
  const message =
    'A tab stands at the start of this line, and YAML takes only spaces there: two for each step inwards.';
  return syntax(fault, place, message, choice('Put two spaces for each tab', spaces));
};

/** `iso: 100` and below it, further in, another name: the library sees a value that goes on. */
export const tooDeepLine: Explain = (fault) => {
  if (fault.code !== 'BLOCK_AS_IMPLICIT_KEY') return undefined;
  const next = /^[^\r\n]*(?:\r\n|\n|\r)(?:[ ]*(?:#[^\r\n]*)?(?:\r\n|\n|\r))*([ ]*)([^\s#][^\r\n]*)/.exec(
    fault.text.slice(fault.start),
  );
  const name = /^([\w-]+|"[^"]*"|'[^']*')\s*:/.exec(next?.[2] ?? '')?.[1];
  const above = /^(\s*(?:- +)*)([\w-]+)\s*:/.exec(fault.before);
  if (!next || !name || !above) return undefined;
  const start = fault.start + next[0].length - (next[2]?.length ?? 0);
  const left = tooFarLeft(fault, start);
  if (left) return left;
  const indent = { start: start - (next[1]?.length ?? 0), end: start, text: ' '.repeat(above[1]?.length ?? 0) };
  const message = `\`${shown(name)}\` stands further in than \`${above[2]}\` above it, which has a value already. Start both at the same column.`;
  return syntax(
    fault,
    { start, end: start + name.length },
    message,
    choice(`Start ${shown(name)} below ${above[2]}`, indent),
  );
};

export const listAmongNames: Explain = (fault) => {
  const dash = /^\s*-(?=\s|$)/.exec(fault.rest);
  const atStart = /^\s*$/.test(fault.before);
  if (!dash || !atStart || !['BLOCK_AS_IMPLICIT_KEY', 'MULTILINE_IMPLICIT_KEY'].includes(fault.code)) return undefined;
  const start = fault.start + dash[0].length - 1;
  const message =
    'This dash does not stand below the dashes or names it belongs to. Items of one list start at the same column.';
  return syntax(fault, { start, end: start + 1 }, message);
};

export const unevenIndent: Explain = (fault) => {
  const isMap = /same column/.test(fault.message);
  const isList = /^Sequence item without/.test(fault.message);
  if (!isMap && !isList) return undefined;
  const line = /^[ \t]*([^\r\n]*)/.exec(fault.rest);
  const start = fault.start + fault.rest.length - (line?.[1]?.length ?? 0);
  const name = /^[^\s:]+/.exec(line?.[1] ?? '')?.[0] ?? '';
  const left = tooFarLeft(fault, start);
  if (left) return left;
  const place = { start, end: start + Math.max(name.length, 1) };
  const column = start - startOfLine(fault.text, start) + 1;
  const [above] = linesAbove(fault.text, start);
  const indent = above?.columns[0] ?? 0;
  if (above && /^-\s/.test(above.text) && !name.startsWith('-')) {
    const message = `\`${shown(name)}\` starts at column ${column}, where it belongs to no item of the list above. Start it with a dash, or below the first name of its item.`;
    return syntax(fault, place, message);
  }
  const message = `\`${shown(name)}\` starts at column ${column}, and the lines above it at column ${indent + 1}. Lines of one block start at the same column.`;
  const edit = { start: startOfLine(fault.text, start), end: start, text: ' '.repeat(indent) };
  return syntax(fault, place, message, choice(`Start ${shown(name)} at column ${indent + 1}`, edit));
};

export const leftOfTheFirstLine: Explain = (fault) => {
  const first = /^\ufeff?(?:[ \t]*(?:#[^\r\n]*)?(?:\r\n|\n|\r))*( +)\S/.exec(fault.text);
  if (!/at node end$/.test(fault.message) || !first || fault.before !== '') return undefined;
  const place = { start: fault.start, end: fault.start + plainValue(fault.rest).length };
  const message = `This line starts further left than the first line of the file, which is indented by ${first[1]?.length}. Start both at the same column.`;
  return syntax(fault, place, message);
};

/** A name without a value on its line. */
const opensBlock = /:\s*(?:#.*)?$/;

/** So many lines that stand wrong are taken for one slip. */
const mostLines = 20;

/**
 * Lines that end the block above them, which then goes on below: `turn:` at column 1 among the lines of a shot.
 * @param at where the first of the lines below starts, without its blanks
 */
function tooFarLeft(fault: Fault, at: number): Problem | undefined {
  const { text } = fault;
  const column = at - startOfLine(text, at);
  const above = linesAbove(text, at);
  const end = above.findIndex(({ columns }) => columns.at(-1)! >= column);
  const last = above[end];
  const lines = end < 0 ? above : above.slice(0, end);
  const opener = lines.findIndex(({ text: line }) => opensBlock.test(line));
  if (opener > 0 && opener <= mostLines) return notIndented(fault, lines.slice(0, opener), lines[opener]!, column);
  const first = lines.at(-1);
  if (!last || !first || lines.length > mostLines) return undefined;
  const around = above.slice(end).find(({ columns }) => columns[0] <= column);
  if (!around?.columns.includes(column) || lines.some(({ columns }) => columns[0] < first.columns[0])) return undefined;
  const target = last.columns.at(-1)! + (opensBlock.test(last.text) ? 2 : 0);
  const name = /^[^\s:]+/.exec(first.text)?.[0] ?? '';
  const start = first.start + first.columns[0];
  const edits = lines.map((line) => indented(line, target - first.columns[0]));
  const message = `\`${shown(name)}\` starts at column ${first.columns[0] + 1} and so ends the block above it, which goes on below it. Start it at column ${target + 1}.`;
  const fix = choice(`Start ${shown(name)} at column ${target + 1}`, ...edits);
  return syntax(fault, { start, end: start + name.length }, message, fix);
}

/** `shots:`, and below it the first shots at the same column, the next further in. */
function notIndented(fault: Fault, lines: readonly Line[], opener: Line, column: number): Problem | undefined {
  const at = opener.columns[0];
  const first = lines.at(-1)!;
  if (lines.some(({ columns }) => columns[0] < at) || first.columns[0] !== at) return undefined;
  const [name, block] = [first, opener].map(({ text }) => /^[^\s:]+/.exec(text)?.[0] ?? '') as [string, string];
  const start = first.start + at;
  const edits = lines.map((line) => indented(line, column - at));
  const message = `\`${shown(name)}\` starts at column ${at + 1}, as \`${shown(block)}\` above it does, so it is no part of that. Start it at column ${column + 1}, as the next does.`;
  const fix = choice(`Start ${shown(name)} at column ${column + 1}`, ...edits);
  return syntax(fault, { start, end: start + name.length }, message, fix);
}

function indented({ start }: Line, by: number): Edit {
  return { start, end: start, text: ' '.repeat(by) };
}

/** `-{ shot: a }`, `1. shot: a`, `* shot: a`: what looks like a line of a list and is none. */
const sign =
  /^(?:-(?=[^\s-])|(?:\d{1,3}[.)]|[*\u2022\u00b7\u2013\u2014\u2212\u2010\u2011])[ \t]*)(?=[{["']|[\w-]+:(?:\s|$))/;

export const listSign: Explain = (fault) => {
  const { text, lineStart } = fault;
  const [line, ...below] = linesFrom(text, lineStart);
  const found = line?.start === lineStart && !isBetweenBrackets(fault) ? sign.exec(line.text)?.[0] : undefined;
  if (!line || found === undefined) return undefined;
  const start = line.start + line.columns[0];
  const end = below.findIndex(({ columns }) => columns[0] < line.columns[0]);
  const edits = withDashes([line, ...(end < 0 ? below : below.slice(0, end))], line.columns[0]);
  const place = { start, end: start + Math.max(found.trimEnd().length, 1) };
  if (found === '-') {
    const title = edits.length > 1 ? 'Put a space after each dash' : 'Put a space after the dash';
    return syntax(fault, place, 'A space is missing after the dash of a list item.', choice(title, ...edits));
  }
  const message = `${quoted(found.trimEnd())} starts no line of a list: a dash and a space do.`;
  return syntax(fault, place, message, choice(edits.length > 1 ? 'Write dashes' : 'Write a dash', ...edits));
};

/** What stands behind a sign stays at its column, or moves with the lines below it. */
function withDashes(lines: readonly Line[], column: number): Edit[] {
  let [by, inner] = [0, 0];
  return lines.flatMap((line, index) => {
    if (line.columns[0] > column) return by > 0 && line.columns[0] >= inner ? [indented(line, by)] : [];
    const found = sign.exec(line.text)?.[0];
    by = 0;
    if (found === undefined) return [];
    const start = line.start + line.columns[0];
    by = Math.max(0, 2 - found.length);
    inner = column + found.length;
    const isOverLines = (lines[index + 1]?.columns[0] ?? column) > column;
    return [{ start, end: start + found.length, text: isOverLines ? '-'.padEnd(Math.max(found.length, 2)) : '- ' }];
  });
}
