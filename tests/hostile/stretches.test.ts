/**
 * Specs put together from odd lines, and edited: read in stretches, they are what they are when read as a whole. No rule
 * runs here, so that many more shapes of text are tried than `live.test.ts` can.
 */
import { expect, test } from 'vitest';
import { byPlace } from '../../server/core/check.ts';
import { asMeant } from '../../server/core/document/as-meant.ts';
import type { LineStarts } from '../../server/core/document/lines.ts';
import { parseDocument } from '../../server/core/document/parse.ts';
import { Stretches } from '../../server/core/live/stretches.ts';
import { schemaFindings } from '../../server/core/schema/findings.ts';
import { Random } from './random.ts';
import { seed, times } from './sound.ts';

const sequences = 2000 * times;
const portion = 500;
const versions = 6;

const values = [
  '', ' ', ' a', ' "a"', ' a # c', ' a #1', ' #fff', ' # c', ' "a\n    b"', ' |\n      text\n       more', ' |+\n      text\n\n', ' |\n\n',
  ' >-\n      text\n\n      # text\n', ' |2\n        text', ' >\n', ' a\n      b', '\n\n# c\n\n      a', '\n#c\n      a', ' a: b', ' { a: 1,\n      b: 2 }',
  ' [a,\n    b]', ' [\n      a\n      ]', ' ~', ' -0 K', ' "\\u200b"', ' 12 s', ' Poured, by hand', ' ""', ' {}', ' { a: 1 }: b', ' &a b', ' "a', ' }',
]; // prettier-ignore
const behind = ['', '', '', '', ' # c', '  #1', ' #fff', ' #100 of them', ' ', '\t'];
const gaps = [
  '',
  '',
  '',
  '',
  '\n',
  '# c\n',
  '\n\n',
  '  # c\n',
  '    # d\n\n',
  '   \n',
  '# accept a: b\n',
  '\n# c\n\n',
  '      # e\n',
  '#fff\n',
];
const names = [
  'box',
  'lid',
  'drum',
  'arm',
  'Box',
  '1x',
  'a_b',
  'shots',
  'cut',
  '007',
  'true',
  '__proto__',
  '"q"',
  'é',
  'a b',
];
const keys = ['record', 'notes', 'takes', 'recrod', 'camera', 'lit', 'action', 'iso'];
const items = [
  ' ~',
  '',
  ' ',
  ' []',
  ' - a',
  ' a',
  ' # c',
  ' |\n      x',
  ' ""',
  ' {}',
  ' "a\n  b"',
  ' { shot: box, length: 3 s }',
];
const lists = [
  '  - text: a\n',
  '- text: a\n',
  '- text: a\n  at: 1 s\n- b\n',
  '-\n- a\n',
  '  a: 3 A\n',
  '  - a\n  # c\n  - b\n',
  '# c\n- a\n',
];

class Odd {
  constructor(private readonly random: Random) {}

  text(): string {
    const { random } = this;
    const heads = [
      'title: A',
      'product: { size: 9 x 6 x 7 cm }',
      'deliver:\n  film: { rate: 25 }',
      'camera:\n  lens: normal',
    ];
    const parts = heads.map(
      (head) => (this.once(8) ? `${head.split(':')[0]}:${random.of(values)}` : head) + this.end(),
    );
    for (const key of ['region', 'notes', 'key-to-fill'])
      if (this.once(5)) parts.push(`${key}:${random.of(values)}${this.end()}`);
    for (const key of ['titles', 'schedule', 'brief']) if (this.once(5)) parts.push(`${key}:\n${random.of(lists)}`);
    const indent = random.of(['  ', '  ', '  ', '    ', '']);
    parts.push(
      this.#section('shots', () => this.shot(indent)),
      this.#section('cut', () => this.line(indent)),
    );
    if (this.once(3)) parts.reverse();
    const text =
      random.of(['', '', '', '# c\n', '\n', '\ufeff']) + parts.map((part) => part + random.of(gaps)).join('');
    return this.once(10) ? text.trimEnd() : text;
  }

  #section(key: string, entry: () => string): string {
    const entries = Array.from({ length: this.random.below(5) }, entry).join('');
    return `${key}:${this.random.of(behind)}${this.end()}${this.random.of(gaps)}${entries}`;
  }

  shot(indent: string): string {
    const name = indent + this.random.of(names);
    if (this.once(3)) return `${name}: { record: 3 s }${this.random.of(behind)}${this.end()}`;
    if (this.once(6)) return `${name}:${this.random.of(values)}${this.end()}`;
    const pairs = Array.from({ length: 1 + this.random.below(3) }, () => `${indent}  ${this.#pair(keys)}`);
    return `${name}:${this.random.of(behind)}${this.end()}${pairs.join('')}`;
  }

  line(indent: string): string {
    if (this.once(3)) return `${indent}-${this.random.of(items)}${this.end()}`;
    return `${indent}- ${this.#pair(['shot'])}${this.once(2) ? `${indent}  ${this.#pair(['length', 'zoom'])}` : ''}`;
  }

  #pair(some: readonly string[]): string {
    return `${this.random.of(some)}:${this.random.of(values)}${this.end()}${this.random.of(gaps)}`;
  }

  edited(text: string): string {
    const { random } = this;
    const at = random.below(text.length + 1);
    const lines = text.match(/[^\n]*\n|[^\n]+$/g) ?? [];
    const place = random.below(lines.length + 1);
    const signs = ['\n', ' ', '  ', '#', ':', ': ', '- ', 'x', '\n  ', '\n- ', '"', '{', '}', '|', '\r', '...\n'];
    switch (random.below(5)) {
      case 0:
        return text.slice(0, at) + random.of(signs) + text.slice(at);
      case 1:
        return text.slice(0, at) + text.slice(at + 1 + random.below(6));
      case 2:
        return lines.toSpliced(place, 0, random.of([this.shot('  '), this.line('  '), random.of(gaps)])).join('');
      case 3:
        return lines.toSpliced(place, 1 + random.below(3)).join('');
      default:
        return lines.toSpliced(place, 0, ...lines.splice(random.below(lines.length), 1)).join('');
    }
  }

  end(): string {
    return this.once(30) ? this.random.of(['\r', '\r\n']) : '\n';
  }

  once(in_: number): boolean {
    return this.random.below(in_) === 0;
  }
}

const seeds = Array.from({ length: sequences / portion }, (_, index) => seed + index);

test.each(seeds)(`${portion} specs of odd lines, each edited ${versions - 1} times, seed %i`, (own) => {
  const odd = new Odd(new Random(own));
  let inStretches = 0;
  for (let count = 0; count < portion; count++) {
    let known: Stretches | undefined;
    for (let version = 0, text = odd.text(); version < versions; version++, text = odd.edited(text)) {
      const read = known ? known.with(text) : Stretches.of(text);
      if (!read) continue;
      inStretches++;
      known = read;
      expect({ text, ...said(read) }).toEqual({ text, ...saidAsAWhole(text) });
    }
  }
  // A test of nothing would pass too.
  expect(inStretches).toBeGreaterThan(portion / 5);
});

function said(read: Stretches) {
  const { written, meant, usual } = read.trees();
  const faults = read.faults().sort(byPlace);
  return {
    written,
    meant,
    usual,
    faults,
    comments: read.comments(),
    problems: read.problems(),
    ...linesIn(read.text, read),
  };
}

function saidAsAWhole(text: string) {
  const { root: written, broken, comments, problems, lines } = parseDocument(text);
  if (!written || broken) return { broken };
  const { findings, slips, doubts } = schemaFindings(written, 'shoot', problems);
  return {
    written,
    meant: asMeant(written, slips),
    usual: asMeant(asMeant(written, slips), doubts),
    faults: findings.sort(byPlace),
    comments,
    problems,
    ...linesIn(text, lines),
  };
}

/** Where the lines start, and in which of them each character is. */
function linesIn(text: string, lines: LineStarts) {
  return {
    starts: Array.from({ length: lines.count }, (_, line) => lines.start(line)),
    lineOfEach: Array.from({ length: text.length + 1 }, (_, offset) => lines.line(offset)),
  };
}
