/** Many files that are checked one after the other have the findings that each has alone, however alike they are. */
import { describe, expect, test, vi } from 'vitest';
import type { CheckResult } from '../../server/core/checker.ts';
import { cut } from '../../server/core/live/cut.ts';
import { inTurn } from '../../server/core/live/in-turn.ts';
import { checkerFor, kits, spec } from '../helpers/workspace.ts';

const shots = (...names: readonly string[]) =>
  spec(`deliver:
  film: { raster: 1920x1081, rate: 25, length: ${3 * names.length} s, codec: h264, bitrate: 16 Mb/s, sound: none }
shots:
${names.map((name) => `  ${name}: { record: 9 s, turn: { speed: 2 rpm }, notes: "${name} at last" }\n`).join('')}cut:
${names.map((name) => `  - { shot: ${name}, length: 3 s } # ${name}\n`).join('')}`);

const text = shots('crank', 'lid', 'drum');
const fast = text.replace('shutter: 1/50 s', 'shutter: 1/200 s');
const specs: readonly (readonly [string, string])[] = [
  ['the first', text],
  ['the same', text],
  ['another title', text.replace('Music box', 'Glass bell')],
  ['findings that all shots share', fast],
  ['findings and another title', fast.replace('Music box', 'Glass bell')],
  ['a longer block before them', fast.replace('finish: satin', 'finish: satin, note: a comb of eighteen teeth')],
  [
    'a finding that is accepted',
    fast.replace('1/200 s', '1/200 s # accept shutter-off-half-frame: as the client asked'),
  ],
  ['a word for what is meant', `on-purpose: staccato-motion\n${fast}`],
  ['one shot less', shots('crank', 'drum')],
  ['other shots', shots('spring', 'comb', 'lid')],
  ['a slip of a key', fast.replace('focus: locked', 'focsu: locked')],
  ['a key that is missing', fast.replace(/^title: .*\n/, '')],
  ['text that is broken', text.replace('"lid at last"', '"lid at last')],
  ['mended', text],
  ['other line ends', text.replaceAll('\n', '\r\n')],
  ['nothing', ''],
];

const plain = ({ findings, silenced, dependsOn, doc }: CheckResult) =>
  JSON.parse(JSON.stringify({ findings, silenced, dependsOn, comments: doc.comments, root: doc.root })) as unknown;

describe.each([
  ['with fixes', true],
  ['without fixes', false],
])('%s', (_, forFixes) => {
  test('each file has the findings, fixes and places that it has alone', () => {
    const checker = checkerFor();
    const settings = checker.settings();
    const check = inTurn(checker, forFixes);
    // Forward, backward and forward again: each comes after several others, and all of it is known by then.
    for (const [name, one] of [...specs, ...specs.toReversed(), ...specs]) {
      expect(plain(check('shoot', one, settings)), name).toEqual(plain(checker.checkAs('shoot', one, settings)));
    }
    const kit = kits['kits/camera.kit.yaml']!.replace('format: 1', 'format: 2');
    expect(plain(check('kit', kit, settings))).toEqual(plain(checker.checkAs('kit', kit, settings)));
  });

  test('films of two kinds by turns, and in pairs', () => {
    const checker = checkerFor();
    const settings = checker.settings();
    const check = inTurn(checker, forFixes);
    const [one, other] = [fast, shots('spring', 'comb').replace(/^(\S*:)/gm, '$1 # of another maker')];
    for (const next of [one, other, one, other, other, one, one, other, other]) {
      expect(plain(check('shoot', next, settings))).toEqual(plain(checker.checkAs('shoot', next, settings)));
    }
  });

  test('settings that change between files that are alike', () => {
    const checker = checkerFor();
    const lowered = checker.settings().with(new Map([['shutter-off-half-frame', 'none' as const]]));
    const check = inTurn(checker, forFixes);
    for (const settings of [checker.settings(), checker.settings(), lowered, lowered, checker.settings()]) {
      expect(plain(check('shoot', fast, settings))).toEqual(plain(checker.checkAs('shoot', fast, settings)));
    }
  });

  test('what most of a file was met before in is not read again', async () => {
    const { parseDocument, readPart, watchedChecker, watchedInTurn } = await withReadingWatched();
    const checker = watchedChecker();
    const settings = checker.settings();
    const check = watchedInTurn(checker, forFixes);
    const titled = (title: string) => text.replace('Music box, a first look', title);
    const read = (one: string) => {
      vi.mocked(parseDocument).mockClear();
      vi.mocked(readPart).mockClear();
      check('shoot', one, settings);
      return {
        whole: vi.mocked(parseDocument).mock.calls.some(([read]) => read === one),
        stretches: vi.mocked(readPart).mock.calls.length,
      };
    };
    expect(read(titled('One'))).toEqual({ whole: true, stretches: 0 });
    expect(read(titled('Two'))).toEqual({ whole: false, stretches: cut(text)!.length });
    expect(read(titled('Three'))).toEqual({ whole: false, stretches: 1 });
    const other = text.replace(/^(\S*:)/gm, '$1 # of another maker');
    expect(read(other)).toEqual({ whole: true, stretches: 0 });
  });

  /** Modules of this test alone, in which every reading of a text is taken down: those of other tests in the same process are not. */
  async function withReadingWatched() {
    const parse = '../../server/core/document/parse.ts';
    vi.resetModules();
    vi.doMock(parse, async (original) => {
      const real = await original<typeof import('../../server/core/document/parse.ts')>();
      return { ...real, parseDocument: vi.fn(real.parseDocument), readPart: vi.fn(real.readPart) };
    });
    const { parseDocument, readPart } = await import('../../server/core/document/parse.ts');
    const { checkerFor: watchedChecker } = await import('../helpers/workspace.ts');
    const { inTurn: watchedInTurn } = await import('../../server/core/live/in-turn.ts');
    vi.doUnmock(parse);
    vi.resetModules();
    return { parseDocument, readPart, watchedChecker, watchedInTurn };
  }
});
