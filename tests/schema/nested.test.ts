/** Blocks whose lines stand at their key's own column: one finding each, and the fix indents them. */
import { describe, expect, it } from 'vitest';
import { Checker } from '../../server/core/checker.ts';
import { applyEdits } from '../../server/core/document/edits.ts';
import { kindOf } from '../../server/core/paths.ts';
import { acceptActions } from '../../server/features/actions.ts';
import { memoryHost } from '../helpers/workspace.ts';

/** Without rules, what is left is about the form. */
const checker = new Checker(memoryHost({}), []);

function check(text: string, path = 'a.shoot.yaml') {
  const result = checker.checkAs(kindOf(path)!, text);
  return { ...result, told: result.findings.map(({ start, end, message }) => `${text.slice(start, end)}: ${message}`) };
}

function fixed(text: string, path?: string): string {
  const edits = check(text, path).findings.flatMap(({ fixes }) => fixes[0]?.edits ?? []);
  return applyEdits(text, edits)!;
}

const head = 'title: A film\nproduct: { size: 9 x 6 x 7 cm }\ndeliver: { film: { raster: 1920x1080, rate: 25 } }\n';
const rest = 'shots: { a: { record: 10 s } }\ncut: [{ shot: a, length: 6 s }]\n';
const camera = `${head}camera: # all
distance: 75 cm
# as recorded
raster: 3840x2160
rate: 25

shutter: 1/50 s
${rest}`;

describe('a block at the column of its key', () => {
  it('is one finding with one fix, and is read as it is meant', () => {
    const { told, findings, film } = check(camera);
    expect(told).toEqual([
      'camera: The 5 lines below `camera` start at its own column, so nothing stands in `camera`. Indent these 5 lines.',
    ]);
    expect(findings[0]!.fixes[0]!.title).toBe('Indent these 5 lines below `camera`');
    expect(film!.shots.get('a')!.camera.distance!.value.from).toBe(750);
    expect(fixed(camera)).toBe(
      `${head}camera: # all\n  distance: 75 cm\n  # as recorded\n  raster: 3840x2160\n  rate: 25\n\n  shutter: 1/50 s\n${rest}`,
    );
    expect(check(fixed(camera)).told).toEqual([]);
  });

  it.each([
    ['one line', 'product:\nsize: 9 x 6 x 7 cm\ntitle: A\n', 'product:\n  size: 9 x 6 x 7 cm\ntitle: A\n'],
    [
      'names of one’s own',
      'lamps:\nkey: { use: panel }\nfill:\n  use: tube\n',
      'lamps:\n  key: { use: panel }\n  fill:\n    use: tube\n',
    ],
    [
      'two steps at once',
      'deliver:\nfilm:\nraster: 1920x1080\nrate: 25\nstory: { raster: 1080x1920, rate: 25 }\n',
      'deliver:\n  film:\n    raster: 1920x1080\n    rate: 25\n  story: { raster: 1080x1920, rate: 25 }\n',
    ],
    [
      'a shot',
      'shots:\n  a:\n  record: 10 s\n  b:\n    record: 5 s\n',
      'shots:\n  a:\n    record: 10 s\n  b:\n    record: 5 s\n',
    ],
    [
      'an item',
      'cut:\n  - shot: a\n    zoom-by:\n    film: 1.4\n',
      'cut:\n  - shot: a\n    zoom-by:\n      film: 1.4\n',
    ],
    [
      'a key that another block has too',
      'timeline:\nrate: 25\ncamera:\nrate: 25\niso: 100\n',
      'timeline:\n  rate: 25\ncamera:\n  rate: 25\n  iso: 100\n',
    ],
    ['Windows line ends', 'camera:\r\niso: 100\r\nrate: 25\r\n', 'camera:\r\n  iso: 100\r\n  rate: 25\r\n'],
  ])('with %s', (_, text, expected) => {
    expect(fixed(text)).toBe(expected);
    expect(
      check(text).findings.filter(({ rule }) => ['unknown-key', 'name-twice', 'empty-value'].includes(rule)),
    ).toEqual([]);
  });

  it('in a kit', () => {
    const text = 'title: A kit\nlamps:\npanel:\noutput: 1400 lx at 1 m\ntemperature: 5600 K\n';
    expect(fixed(text, 'a.kit.yaml')).toBe(
      'title: A kit\nlamps:\n  panel:\n    output: 1400 lx at 1 m\n    temperature: 5600 K\n',
    );
  });

  it('keeps a slip of the keys for a finding of its own', () => {
    const { told } = check(camera.replace('shutter:', 'shuter:'));
    expect(told).toEqual([
      expect.stringMatching(/^camera: The 5 lines/),
      expect.stringMatching(/^shuter: `shuter` means nothing in `camera`\. Did you mean `shutter`/),
    ]);
  });

  it.each([
    ['a block that is only empty', `${head}camera:\n${rest}`],
    ['a line that means nothing there either', `${head}camera:\nsomething: 3\n${rest}`],
    ['a shot that is only empty', `${head}camera: { iso: 100 }\nshots:\n  a:\n  turn: { record: 10 s }\n`],
  ])('and not %s', (_, text) => {
    expect(check(text).told.filter((one) => one.includes('own column'))).toEqual([]);
  });
});

describe('faults of form', () => {
  it.each(['camra: { iso: 100 }\n', 'camera:\niso: 100\n', 'camera: { iso: 10O }\n', 'title: B\n'])(
    'are not offered for accepting: %s',
    (line) => {
      const result = check(head + line + rest);
      const offered = result.findings.flatMap((one) => acceptActions(one, result));
      expect(result.findings.length).toBeGreaterThan(0);
      expect(offered).toEqual([]);
    },
  );
});
