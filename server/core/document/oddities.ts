/** Text that YAML reads without a word, but not as its writer meant it. */
import type { Fix } from '../finding.ts';
import { quote } from './edits.ts';
import type { Comment, Node, Pair, Range, ScalarNode } from './node.ts';
import type { Problem } from './problem.ts';
import { problem } from './problem.ts';
import { shown } from '../say.ts';
import { looseNames, noSpaceAfterColon } from './missing-spaces.ts';

/** Characters that nobody sees or types on purpose, lone halves of surrogate pairs among them. */
const odd =
  // eslint-disable-next-line no-control-regex -- these are what is looked for
  /[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u061c\u200b\u200e\u200f\u2028-\u202e\u2060-\u206f\ufeff\ufff9-\ufffd]|\p{Cs}/u;
const oddRuns = new RegExp(`(?:${odd.source})+`, 'gu');

/** Zero-width and direction marks may stand in text on purpose, for instance in Arabic or Hebrew. */
const seldomHarmful = /^[\u061c\u200b\u200e\u200f\u2060]+$/;

/** More than these are not told apart; a file full of them needs no list. */
const mostOdd = 100;

/** Runs of characters that cannot be seen. A byte order mark at the very start is fine. */
export function oddCharacters(text: string): Problem[] {
  const found: Problem[] = [];
  for (const match of text.matchAll(oddRuns)) {
    const start = match.index === 0 && text[0] === '\ufeff' ? 1 : match.index;
    const end = match.index + match[0].length;
    if (start < end) found.push(oddRun(text, { start, end }));
    if (found.length === mostOdd) break;
  }
  return found;
}

/** What a terminal takes together with the escape character before it, such as `[31m`. */
const restOfSequence = /^\[[0-?]{0,16}[ -/]{0,4}[@-~]/;

function oddRun(text: string, place: Range): Problem {
  const run = text.slice(place.start, place.end);
  const rest = run.endsWith('\x1b') ? (restOfSequence.exec(text.slice(place.end, place.end + 24))?.[0] ?? '') : '';
  const message = `${oddNames(run)} stands here, which cannot be seen. Delete it, or write what you mean.`;
  const title = `Delete ${oddNames(run)}${rest && ` and the \`${rest}\` that belongs to it`}`;
  const fix: Fix = { title, edits: [{ start: place.start, end: place.end + rest.length, text: '' }], safe: false };
  const severity = seldomHarmful.test(run) ? 'warning' : 'error';
  return problem('odd-character', place, message, { severity, fixes: [fix] });
}

/** The characters as `U+202E`, at most three of them. */
function oddNames(run: string): string {
  const names = [...new Set(run)].map((character) => {
    const code = (character.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0');
    return code === 'FFFD' ? 'U+FFFD (a byte that is not UTF-8)' : `U+${code}`;
  });
  return names.slice(0, 3).join(', ') + (names.length > 3 ? ' and more' : '');
}

/** An odd character written as an escape in double quotes: the file looks clean, the value is not. */
export function oddEscape(text: string, node: ScalarNode): Problem | undefined {
  const value = odd.exec(node.text)?.[0];
  if (value === undefined || odd.test(text.slice(node.start, node.end))) return undefined;
  const message = `An escape in this text stands for ${oddNames(value)}, which cannot be seen. Write what you mean.`;
  return problem('odd-character', node, message);
}

const hexColour = /^#(?:[0-9a-f]{6}|[0-9a-f]{3})(?![0-9a-z])/i;

/** `text: Batch #7` and `colour: #fff`: what looks like part of the value is a comment to YAML. */
export function textCutByHash(text: string, root: Node, comments: readonly Comment[]): Problem[] {
  const suspects = new Map<number, Comment>();
  for (const comment of comments) {
    const behind = text.slice(comment.start, comment.start + 8);
    if (!comment.alone && (/^#\d/.test(behind) || hexColour.test(behind))) {
      suspects.set(endOfValueBefore(text, comment), comment);
    }
  }
  if (suspects.size === 0) return [];
  return [...scalarsOf(root)].flatMap(({ key, value }) => {
    const comment = suspects.get(value.end);
    if (!comment || value.quoted || value.alias !== undefined) return [];
    if (value.start === value.end) return key ? (emptyBeforeColour(text, key, comment) ?? []) : [];
    return typeof value.value === 'string' ? (textBeforeHash(text, value, comment) ?? []) : [];
  });
}

function endOfValueBefore(text: string, comment: Comment): number {
  let at = comment.start;
  while (text[at - 1] === ' ' || text[at - 1] === '\t') at--;
  return at;
}

function textBeforeHash(text: string, value: ScalarNode, comment: Comment): Problem | undefined {
  // Whoever means a comment leaves two spaces before it, or one after its sign.
  if (comment.start !== value.end + 1) return undefined;
  const whole = text.slice(value.start, comment.end);
  const message = `\` #\` starts a comment, so only \`${shown(value.text)}\` is read. Put quotes round the text if \`${shown(text.slice(comment.start, comment.end))}\` belongs to it.`;
  const edit = { start: value.start, end: comment.end, text: quote(whole) };
  const fix: Fix = { title: 'Put quotes round the whole text', edits: [edit], safe: false };
  return problem('text-cut-by-hash', comment, message, { severity: 'warning', fixes: [fix] });
}

function emptyBeforeColour(text: string, key: ScalarNode, comment: Comment): Problem | undefined {
  const colour = hexColour.exec(text.slice(comment.start, comment.end))?.[0];
  if (!colour) return undefined;
  const place = { start: comment.start, end: comment.start + colour.length };
  const message = `\`#\` starts a comment, so \`${shown(key.text)}\` has no value. Put the colour in quotes: \`"${colour}"\`.`;
  // Words behind the colour were a comment, and stay one.
  const isFollowed = /^[ \t]*[^\s#]/.test(text.slice(place.end, comment.end));
  const edit = { ...place, text: quote(colour) + (isFollowed ? ' #' : '') };
  const fix: Fix = { title: `Put ${colour} in quotes`, edits: [edit], safe: true };
  return problem('text-cut-by-hash', { start: key.start, end: place.end }, message, { fixes: [fix] });
}

/** Every value that is written out as one text, with its name if it has one. */
function* scalarsOf(node: Node, key?: ScalarNode): Generator<{ key: ScalarNode | undefined; value: ScalarNode }> {
  // What an alias stands for is walked where it is written.
  if (node.alias !== undefined) return;
  if (node.kind === 'scalar') yield { key, value: node };
  else if (node.kind === 'list') for (const item of node.items) yield* scalarsOf(item);
  else for (const pair of node.pairs) yield* scalarsOf(pair.value, pair.key);
}

/** What a comma in braces cut off, and the value as it is meant where that is a number. */
interface CutByComma {
  readonly problem: Problem;
  readonly meant: ScalarNode | undefined;
}

/** `{ text: Poured, by hand }`, `{ hold: 0,5 s }`: the comma ends the value, and `names` stand alone. */
export function cutByComma(text: string, value: ScalarNode, names: readonly ScalarNode[]): CutByComma {
  const [first] = names;
  const last = names.at(-1) ?? value;
  const place = { start: first?.start ?? value.start, end: last.end };
  const whole = { start: value.start, end: last.end };
  const written = text.slice(whole.start, whole.end);
  const meant = numbersMeant(written);
  if (meant.length > 0) return numberCutByComma(value, whole, meant);
  // Words alone may be several names, `shows: crank, comb`, which only the field knows: what does not do is not offered.
  const isNames = [value, ...names].every(({ text, quoted }) => !quoted && /^[a-z][\w-]*$/i.test(text));
  const how = isNames
    ? `Several names stand in brackets, \`[${shown(written)}]\`, a text in quotes`
    : `Put quotes round \`${shown(written)}\``;
  const message = `Inside braces a comma ends the text, so only \`${shown(value.text)}\` is read. ${how}.`;
  const instead = (title: string, text: string): Fix => ({ title, edits: [{ ...whole, text }], safe: false });
  const fixes = [
    ...(isNames ? [instead('Put brackets round the names', `[${written}]`)] : []),
    instead('Put quotes round the whole text', quote(written)),
    ...(first && first === last ? missingColon(first) : []),
  ];
  return { problem: problem('comma-in-braces', place, message, { fixes }), meant: undefined };
}

/** `{ lasts: 5 s, mov }`: a name that is being typed, or has no value yet, and no second half of a text. */
export function isNameAfterNumber(value: ScalarNode, name: ScalarNode): boolean {
  return numbers.test(value.text) && /^[a-z][a-z-]*$/.test(name.text);
}

/** `{ angle: 45°, height 40 cm }`, and no sentence that goes on after its comma: a number follows, or a word such as `top-left`. */
function missingColon({ start, text }: ScalarNode): Fix[] {
  const name = /^[a-z][\w-]*(?= +\S*[\d-]\S*(?: \S+){0,2}$)/.exec(text)?.[0];
  if (name === undefined) return [];
  const at = start + name.length;
  return [{ title: `Put a colon after ${name}`, edits: [{ start: at, end: at, text: ':' }], safe: false }];
}

const numberWithUnit = String.raw`(?:f/|1/)?[-+]?\d+(?:[.,]\d+)*(?: ?[^\s\d,]\S*)?`;
/** A number with or without a unit, or several: `0,5 s`, `f/2,8`, `1,5 to 2 s`, `9,5 x 6 x 7 cm`. */
const numbers = new RegExp(`^${numberWithUnit}(?: (?:to|x|at) ${numberWithUnit})*$`);

/** What `0,5 s` may mean, the likeliest first; none where it is no number. */
function numbersMeant(written: string): string[] {
  const text = written.replace(/(?<=\d),[ \t]+(?=\d)/g, ',');
  if (text.length > 80 || !numbers.test(text) || /\d[.,]\d+[.,]\d/.test(text)) return [];
  const decimal = text.replaceAll(',', '.');
  // Three digits may be the thousands of a larger number.
  const isThousands = /(?<![\d.])[1-9]\d{0,2},\d{3}(?!\d)/.test(text) && !/,\d{1,2}(?!\d)|,\d{4}/.test(text);
  return isThousands ? [text.replaceAll(',', ''), decimal] : [decimal];
}

function numberCutByComma(value: ScalarNode, whole: Range, [first = '', ...others]: readonly string[]): CutByComma {
  const fixes = [first, ...others].map((text): Fix => {
    return { title: `Write \`${text}\``, edits: [{ ...whole, text }], safe: others.length === 0 };
  });
  const how = others[0]
    ? `Write \`${first}\`, with nothing between thousands, or \`${others[0]}\`, with a point for decimals.`
    : `Write decimals with a point: \`${first}\`.`;
  const number = Number(first);
  const meant: ScalarNode = { ...value, ...whole, text: first, value: Number.isFinite(number) ? number : first };
  const found = problem('comma-in-braces', whole, `Inside braces a comma ends the value. ${how}`, { fixes });
  return { problem: found, meant };
}

const nameAndValue = /^([a-z][\w-]*):([^\s/:].*)/i;

/** `{ iso:100 }`: a name in braces that holds its value because a space is missing. */
export function looseName(name: ScalarNode): Problem | undefined {
  const found = name.quoted ? null : nameAndValue.exec(name.text);
  return found ? noSpaceAfterColon({ start: name.start, name: found[1] ?? '', value: found[2] ?? '' }) : undefined;
}

/** A value on a line of its own that looks like a name or a list item without its space. */
export function looseLine(text: string, key: Pair['key'], value: Node): Problem | undefined {
  if (value.kind !== 'scalar' || value.quoted || value.alias !== undefined || value.end === value.start)
    return undefined;
  if (!/[\r\n]/.test(text.slice(key.end, value.start))) return undefined;
  const line = /^[^\r\n]*/.exec(text.slice(value.start, value.end))?.[0] ?? '';
  const found = nameAndValue.exec(line);
  if (found)
    return noSpaceAfterColon(
      { start: value.start, name: found[1] ?? '', value: found[2] ?? '' },
      looseNames(text, value.start, value.end),
    );
  return /^-[a-z]/i.test(line) ? noSpaceAfterDash(text, value) : undefined;
}

function noSpaceAfterDash(text: string, value: ScalarNode): Problem {
  const dashes = text.slice(value.start, value.end).matchAll(/(?<=^|[\r\n][ ]*)-(?=[a-z])/gi);
  const edits = [...dashes].map(({ index }) => {
    const at = value.start + index + 1;
    return { start: at, end: at, text: ' ' };
  });
  const fix: Fix = { title: 'Put a space after each dash', edits, safe: true };
  return problem('syntax', value, 'A space is missing after the dash of a list item.', { fixes: [fix] });
}
