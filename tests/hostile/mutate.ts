/** Ways to spoil a text: what typing, merging and copying do to a file, and what nobody would do to one. */
import fc from 'fast-check';
import { corpus, type Text } from './corpus.ts';

/** One change: `at` picks the place, `pick` what is put there. Both are any whole numbers. */
type Step = (text: string, at: number, pick: number, other: string) => string;

const token = /[^\s,[\]{}]+/g;
const number = /\d+(?:\.\d+)?/g;
const unit =
  /(?<=\d ?)(?:mm|cm|m|in|ms|s|min|h|K|lx|W|kW|V|A|mA|Hz|kHz|kb\/s|Mb\/s|GB|MB|kg|g|°C|°|%|stops?|beats?|frames?|bars?|rpm|dB|LUFS|bpm|px)(?![\w/])/g;
const line = /[^\n]*\n?/g;

export const numbers = [
  '0',
  '-0',
  '-1',
  '0.0000001',
  '1e400',
  '1e308',
  '-1e308',
  '1e-320',
  '.inf',
  '-.inf',
  '.nan',
  '9007199254740993',
  '99999999999999999999',
  '4294967296',
  '1/0',
  '0/0',
  '00',
  '0x10',
  '1_000',
  '1,5',
  '5 to 0',
  '0 to 0',
  '1 to 1e12',
  '5 to 5',
];

export const units = [
  'mm', 'cm', 'm', 'in', 'ms', 's', 'min', 'h', 'K', 'lx', 'W', 'kW', 'V', 'mA', 'Hz', 'kHz', 'kb/s', 'Mb/s', 'Tb/s', 'GB',
  'kg', 'g', '°', '°C', '%', 'stops', 'beats', 'frames', 'bars', 'rpm', 'dB', 'LUFS', '', 'µm', 'parsec', '° left', '° right',
]; // prettier-ignore

export const oddities = [
  '\u202e', '\u200b', '\u200d', '\ufeff', '\u2028', '\u0085', '\u00a0', '\ud83c', '\udfff', '🎵', 'é', 'ﷺ', '\u0301\u0301\u0301', '\u001b[31m',
  '\u0007', '\0', '\t', '\r', '"', "'", '`', '{', '}', '[', ']', ',', ': ', ':', '- ', ' #', '#', '&a ', '*a ', '!t ', '| ', '>', '%', '@', '? ',
  '<<: ', '---\n', '...\n', '~', 'null', 'true', 'no', '[]', '{}', '""', 'locked', 'auto', 'follow', 'all', 'A to B', '\n', '\r\n', '\n\n', '__proto__',
  'constructor', 'toString', 'hasOwnProperty', '𝟚', '½', '١', '×', '−', '\\', '\\u0000', '${x}', '%s', '$&', "$'", '=',
]; // prettier-ignore

const steps: Readonly<Record<string, Step>> = {
  cutOff: (text, at) => text.slice(0, at % (text.length + 1)),
  cutHead: (text, at) => text.slice(at % (text.length + 1)),
  leaveOut: (text, at, pick) => splice(text, at % (text.length + 1), 1 + (pick % 24), ''),
  leaveOutToken: (text, at) => swap(text, token, at, () => ''),
  leaveOutLine: (text, at) => swap(text, line, at, () => ''),
  leaveOutLines: (text, at, pick) => {
    const lines = text.match(line) ?? [];
    lines.splice(at % lines.length, 1 + (pick % 12));
    return lines.join('');
  },
  lineTwice: (text, at) => swap(text, line, at, (one) => one + one),
  lineElsewhere: (text, at, pick) => {
    const lines = text.match(line) ?? [];
    const [moved = ''] = lines.splice(at % lines.length, 1);
    lines.splice(pick % (lines.length + 1), 0, moved);
    return lines.join('');
  },
  indent: (text, at, pick) => swap(text, line, at, (one) => ' '.repeat(1 + (pick % 4)) + one),
  outdent: (text, at, pick) => swap(text, line, at, (one) => one.replace(new RegExp(`^ {1,${1 + (pick % 4)}}`), '')),
  tabs: (text, at) => swap(text, line, at, (one) => one.replace(/^ +/, '\t')),
  tokenOfHere: (text, at, pick) => swap(text, token, at, () => nth(text.match(token), pick)),
  tokenOfOther: (text, at, pick, other) => swap(text, token, at, () => nth(other.match(token), pick)),
  swapTokens: (text, at, pick) => {
    const found = [...text.matchAll(token)];
    if (found.length < 2) return text;
    const two = [found[at % found.length]!, found[pick % found.length]!].sort((a, b) => a.index - b.index);
    const [a, b] = two as [RegExpExecArray, RegExpExecArray];
    return a === b ? text : splice(splice(text, b.index, b[0].length, a[0]), a.index, a[0].length, b[0]);
  },
  lineOfOther: (text, at, pick, other) => swap(text, line, at, (one) => one + nth(other.match(line), pick)),
  blockOfOther: (text, at, pick, other) => swap(text, /^\S[^\n]*\n(?:[ #-][^\n]*\n)*/gm, at, (one) =>
    (pick & 1 ? one : '') + nth(other.match(/^\S[^\n]*\n(?:[ #-][^\n]*\n)*/gm), pick >> 1)), // prettier-ignore
  number: (text, at, pick) => swap(text, number, at, () => nth(numbers, pick)),
  scale: (text, at, pick) =>
    swap(text, number, at, (one) => String(Number((Number(one) * 10 ** ((pick % 13) - 6)).toPrecision(6)))),
  nudge: (text, at, pick) => swap(text, number, at, (one) => String(Number(one) + ((pick % 7) - 3))),
  change: (text, at, pick) => swap(text, number, at, (one) => `${one} to ${(Number(one) * (pick % 9)) / 4}`),
  unit: (text, at, pick) => swap(text, unit, at, () => nth(units, pick)),
  oddity: (text, at, pick) => splice(text, at % (text.length + 1), 0, nth(oddities, pick)),
  oddValue: (text, at, pick) => swap(text, /(?<=: )[^\n{[]+/g, at, () => nth(oddities, pick)),
  nameAgain: (text, at, pick) => {
    const names = text.match(/[\w-]+(?=:)/g);
    return swap(text, /[\w-]+(?=:)/g, at, () => nth(names, pick));
  },
  emptyValue: (text, at) => swap(text, /(?<=: )[^\n]+/g, at, () => ''),
  inList: (text, at) => swap(text, /(?<=: )[^\n{[#]+/g, at, (one) => `[${one}, ${one}]`),
  inBraces: (text, at) => swap(text, /(?<=: )[^\n{[#]+/g, at, (one) => `{ a: ${one} }`),
  quoted: (text, at) => swap(text, token, at, (one) => `"${one}"`),
  accept: (text, at, pick, other) =>
    swap(text, line, at, (one) => `# accept ${nth(other.match(/[a-z]+(?:-[a-z]+)+/g), pick)}: why not\n${one}`),
  lineEnds: (text, _, pick) => text.replaceAll('\n', pick & 1 ? '\r\n' : '\r'),
  someLineEnds: (text, at) => swap(text, /\n/g, at, () => '\r\n'),
  noFinalEnd: (text) => text.trimEnd(),
  mark: (text, at) => `\ufeff${at & 1 ? text : text.trimStart()}`,
  merge: (text, at, pick, other) => swap(text, line, at, (one) =>
    `<<<<<<< HEAD\n${one}${pick & 1 ? '=======\n' : ''}${nth(other.match(line), pick)}${pick & 2 ? '>>>>>>> b\n' : ''}`), // prettier-ignore
  alias: (text, at, pick) => {
    const marked = swap(text, /(?<=: )[^\n]+/g, at, (one) => `&x ${one}`);
    return swap(marked, /(?<=: )[^\n]+/g, pick, () => '*x');
  },
  long: (text, at, pick) => swap(text, token, at, (one) => one.repeat(1 + (pick % 400))),
};

const names = Object.keys(steps);
/** These leave most of a text readable, so that the rules have something to read. */
const gentle = names.filter((name) =>
  ['leaveOutLine', 'leaveOutLines', 'lineTwice', 'lineElsewhere', 'tokenOfHere', 'tokenOfOther', 'swapTokens', 'lineOfOther', 'blockOfOther',
   'number', 'scale', 'nudge', 'change', 'unit', 'oddValue', 'emptyValue', 'inList', 'accept', 'lineEnds', 'nameAgain', 'noFinalEnd', 'alias'].includes(name),
); // prettier-ignore

export interface Mutated extends Text {
  /** What was done to it, for the report of a failure. */
  readonly done: readonly string[];
}

/** Any text of `bases`, spoiled in one to `most` ways; with `gently`, mostly still a file that can be read. */
export function mutated(bases: readonly Text[], most = 4, gently = false): fc.Arbitrary<Mutated> {
  const number = fc.nat({ max: 0xffff });
  const step = fc.record({
    name: fc.constantFrom(...(gently ? gentle : names)),
    at: number,
    pick: number,
    other: number,
  });
  const base = fc.nat({ max: bases.length - 1 });
  return fc.tuple(base, fc.array(step, { minLength: 1, maxLength: most })).map(([index, made]) => {
    const start = bases[index]!;
    const others = corpus.filter(({ kind }) => kind === start.kind);
    let { text } = start;
    for (const { name, at, pick, other } of made)
      if (text !== '') text = steps[name]!(text, at * 7919, pick, others[other % others.length]!.text);
    return { ...start, text: text.slice(0, 200_000), done: made.map(({ name }) => name) };
  });
}

export interface Edited extends Text {
  /** The text after each edit; `text` is what it was before the first. */
  readonly versions: readonly string[];
}

/**
 * Any text of `bases` as somebody edits it: mostly small changes that leave it readable, now and then one that breaks it,
 * and often one that is taken back.
 */
export function edited(bases: readonly Text[], least: number, most: number): fc.Arbitrary<Edited> {
  const number = fc.nat({ max: 0xffff });
  const name = fc.oneof(
    { weight: 5, arbitrary: fc.constantFrom('nudge', 'scale', 'change', 'unit', 'tokenOfHere', 'nameAgain', 'oddity') },
    { weight: 3, arbitrary: fc.constantFrom(...gentle) },
    { weight: 1, arbitrary: fc.constantFrom(...names) },
    { weight: 3, arbitrary: fc.constant('undo') },
  );
  const step = fc.record({ name, at: number, pick: number, other: number });
  const made = fc.array(step, { minLength: least, maxLength: most });
  return fc.tuple(fc.nat({ max: bases.length - 1 }), made).map(([index, all]) => {
    const start = bases[index]!;
    const versions: string[] = [];
    for (const { name: how, at, pick, other } of all) {
      const now = versions.at(-1) ?? start.text;
      const before = versions.at(-2) ?? start.text;
      const text =
        how === 'undo' ? before : steps[how]!(now || start.text, at * 7919, pick, bases[other % bases.length]!.text);
      versions.push(text.slice(0, 200_000));
    }
    return { ...start, versions };
  });
}

function splice(text: string, start: number, length: number, put: string): string {
  return text.slice(0, start) + put + text.slice(start + length);
}

/** The text with one match replaced. */
function swap(text: string, pattern: RegExp, at: number, by: (found: string) => string): string {
  const found = [...text.matchAll(pattern)].filter((match) => match[0] !== '');
  const one = found[at % found.length];
  return one ? splice(text, one.index, one[0].length, by(one[0])) : text;
}

function nth(all: ArrayLike<string> | null | undefined, index: number): string {
  return all && all.length > 0 ? all[index % all.length]! : '';
}
