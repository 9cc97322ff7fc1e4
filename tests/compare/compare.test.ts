/** Two versions of a film: what changed in it, said as its maker would say it. */
import { describe, expect, test } from 'vitest';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Checker } from '../../server/core/checker.ts';
import type { Node, ScalarNode } from '../../server/core/document/node.ts';
import { NodeHost } from '../../server/node-host.ts';
import { rules } from '../../server/rules/index.ts';
import { planChanges } from '../../server/compare/plan.ts';
import { compare } from '../../server/compare/compare.ts';
import type { Comparison } from '../../server/compare/comparison.ts';
import { comparedJson, comparedMarkdown, comparedText } from '../../server/compare/output.ts';
import { aboutText, changeText } from '../../server/compare/change-text.ts';
import { acting, hostileTexts, logCommand } from '../helpers/hostile.ts';
import { checkerFor, checkSpec, kits, spec } from '../helpers/workspace.ts';

const said = ({ plan }: Comparison) => plan.map((change) => `${aboutText(change)}: ${changeText(change)}`);

const changes = (before: string, after: string) => said(compare(checkSpec(before), checkSpec(after)));

/** The base spec after some replacements. */
function changed(text: string, ...replacements: readonly (readonly [string, string])[]): string[] {
  const after = replacements.reduce((all, [from, to]) => {
    if (!all.includes(from)) throw new Error(`\`${from}\` is not there`);
    return all.replace(from, to);
  }, text);
  return changes(text, after);
}

const two = spec(`shots:
  reveal: { record: 12 s, turn: { speed: 2 rpm } }
  spin: { record: 20 s, takes: 2, camera: { distance: 90 cm } }
cut:
  - { shot: reveal, length: 4 s }
  - { shot: spin, length: 3 s }
  - { shot: reveal, length: 3 s, zoom: 1 to 1.2 }
titles:
  - { text: Winds for a minute, at: 1 s, hold: 3 s }
  - { text: Made in one room, at: 6 s, hold: 3 s }
rights:
  tune: { kind: music, proof: rights/tune.md }
`);

describe('one shot', () => {
  const one = spec(
    'shots:\n  reveal: { record: 12 s, camera: { shutter: 1/50 s } }\ncut:\n  - { shot: reveal, length: 10 s }\n',
  );

  test('a shutter: the angle and the light, and nothing of the depth, which stays', () => {
    // 360° × 25 × 1/50 s = 180° and half of it; half the time is one stop (ISO 2721 and every handbook).
    expect(changed(one, ['{ shutter: 1/50 s }', '{ shutter: 1/100 s }'])).toEqual([
      'reveal: shutter 1/50 s → 1/100 s, 180° → 90°, 1 stop darker',
    ]);
  });

  test('an aperture: the depth changes with it', () => {
    const [line] = changed(one, ['aperture: f/8', 'aperture: f/4']);
    // About half of it in the close-up regime, where the depth goes with the f-number (2 N c (m + 1) / m²).
    expect(line).toBe('reveal: aperture f/8 → f/4, 2 stops brighter; depth of field 11.8 cm → 59 mm');
  });

  test('a lamp: its own line, and what it does to the light', () => {
    const lines = changed(one, ['level: 40 %', 'level: 80 %']);
    expect(lines).toContain('lamp key: level 40 % → 80 %');
    expect(lines.find((line) => line.startsWith('reveal: '))).toMatch(
      /^reveal: 0\.\d stop brighter; light on the subject \d+ lx → \d+ lx$/,
    );
  });

  test('a lamp more is lit in all shots that do not say which', () => {
    const lamp =
      '  rim: { use: panel, temperature: 5000 K, level: 5 %, distance: 90 cm, angle: 180°, height: 60 cm }\n';
    const lines = changed(one, ['lamps:\n', `lamps:\n${lamp}`]);
    expect(lines).toContain('reveal: lit key, fill → rim, key, fill');
    expect(lines.find((line) => line.startsWith('lamp rim: new: '))).toContain('level 5 %');
  });

  test('a distance: the picture, nearer', () => {
    const [line] = changed(one, ['distance: 60 cm', 'distance: 45 cm']);
    expect(line).toMatch(
      /^reveal: distance 60 cm → 45 cm; depth of field .* → .*; picture at the subject .* x .* → .* x .*$/,
    );
  });

  test('a field that is taken out, and one that is new', () => {
    expect(changed(one, ['record: 12 s,', 'record: 12 s, takes: 3,'])[1]).toContain('reveal: takes 3');
    expect(changed(one, ['  iso: 400\n', ''])).toEqual([expect.stringContaining('reveal: iso 400 → not said')]);
  });
});

describe('several shots', () => {
  test('what the top of the file changes is said once for all of them', () => {
    const lines = changed(two, ['shutter: 1/50 s', 'shutter: 1/100 s']);
    expect(lines).toEqual(['reveal and spin: shutter 1/50 s → 1/100 s, 180° → 90°, 1 stop darker']);
  });

  test('what a shot says itself is not changed by the top', () => {
    const lines = changed(two, ['distance: 60 cm', 'distance: 50 cm']);
    expect(lines).toHaveLength(1);
    expect(lines[0]).toMatch(/^reveal: distance 60 cm → 50 cm/);
  });

  test('many are counted', () => {
    const names = ['a-1', 'a-2', 'a-3', 'a-4', 'a-5'];
    const many = spec(
      `shots:\n${names.map((name) => `  ${name}: { record: 4 s }\n`).join('')}cut:\n  - { shot: a-1, length: 2 s }\n`,
    );
    expect(changed(many, ['rate: 25\n  bits', 'rate: 50\n  bits'])).toEqual([
      expect.stringMatching(/^film: all takes together/),
      expect.stringMatching(/^all 5 shots: rate 25 → 50, 180° → 360°; recorded/),
    ]);
  });

  test('a new one, one taken out, another name, another order', () => {
    const lines = changed(two, ['  spin: {', '  spin-slow: {'], ['{ shot: spin,', '{ shot: spin-slow,']);
    expect(lines).toContain('spin-slow: was called spin');
    expect(changed(two, ['shots:\n', 'shots:\n  crank: { record: 5 s }\n'])).toEqual([
      expect.stringMatching(/^film: all takes together .* → /),
      'crank: new: record 5 s',
    ]);
    const order = changed(
      two,
      ['shots:\n', 'shots:\n  spin: { record: 20 s, takes: 2, camera: { distance: 90 cm } }\n'],
      ['  spin: { record: 20 s, takes: 2, camera: { distance: 90 cm } }\ncut', 'cut'],
    );
    expect(order).toEqual(['film: order of shots reveal, spin → spin, reveal']);
  });
});

describe('the cut', () => {
  test('a length changes the piece and the film', () => {
    const lines = changed(two, ['{ shot: spin, length: 3 s }', '{ shot: spin, length: 4 s }']);
    expect(lines).toContain('piece 2, spin: length 3 s → 4 s');
    expect(lines).toContain('film: the cut runs 10 s → 11 s');
    expect(lines).toContain('deliverable film: the cut gives it 10 s → 11 s; size of the picture 20 MB → 22 MB');
  });

  test('the order', () => {
    const lines = changed(two, [
      '  - { shot: reveal, length: 4 s }\n  - { shot: spin, length: 3 s }\n',
      '  - { shot: spin, length: 3 s }\n  - { shot: reveal, length: 4 s }\n',
    ]);
    expect(lines).toHaveLength(1);
    expect(lines[0]).toMatch(/^piece \d, (?:spin|reveal): was piece \d$/);
  });

  test('a piece more and a piece less', () => {
    expect(changed(two, ['  - { shot: spin, length: 3 s }\n', ''])).toContain('piece 2, spin: taken out');
    expect(changed(two, ['cut:\n', 'cut:\n  - { colour: "#000000", length: 1 s }\n'])).toContain(
      'piece 1, #000000: new: colour `#000000`, length 1 s'.replace('`#000000`', '#000000'),
    );
  });

  test('a push-in shows what it costs in pixels', () => {
    expect(changed(two, ['zoom: 1 to 1.2', 'zoom: 1 to 2.4'])).toEqual([
      // What is enlarged shows its blur twice as large.
      'reveal: depth of field 98 mm → 49 mm',
      // 3840 across, 2.4 times nearer, is 1600 for 1920: 0.833 of them, a fifth too few.
      'piece 3, reveal: zoom 1 to 1.2 → 1 to 2.4; in film 1.67 times the pixels it needs → enlarged by 20 %',
    ]);
  });
});

describe('everything else', () => {
  test.each([
    [
      'a title in other words',
      ['Winds for a minute', 'Winds for an hour'],
      'title 1, Winds for an hour: text `Winds for a minute` → `Winds for an hour`',
    ],
    ['a title at another time', ['at: 6 s', 'at: 5 s'], 'title 2, Made in one room: at 6 s → 5 s'],
    [
      'a deliverable',
      ['bitrate: 16 Mb/s', 'bitrate: 8 Mb/s'],
      /^deliverable film: bitrate 16 Mb\/s → 8 Mb\/s; bits for each pixel 0\.309 → 0\.154; size of the picture 20 MB → 10 MB$/,
    ],
    ['a right', ['rights/tune.md', 'rights/tune-2.md'], 'right tune: proof rights/tune.md → rights/tune-2.md'],
    ['the product', ['9 x 6 x 7 cm', '9 x 6 x 8 cm'], 'film: product size 9 x 6 x 7 cm → 9 x 6 x 8 cm'],
    ['the region', ['region: DE', 'region: US'], 'film: region DE → US'],
    ['the backdrop', ['behind: 70 cm', 'behind: 40 cm'], /^reveal and spin: backdrop behind 70 cm → 40 cm/],
  ] as const)('%s', (_, replacement, expected) => {
    const lines = changed(two, replacement);
    expect(lines).toEqual(
      expect.arrayContaining([typeof expected === 'string' ? expected : expect.stringMatching(expected)]),
    );
  });

  test('what is only written differently is no change', () => {
    expect(
      changed(
        two,
        ['distance: 60 cm', 'distance: 600 mm'],
        ['iso: 400', 'iso: 400 # base'],
        ['aperture: f/8', 'aperture: "f/8"'],
      ),
    ).toEqual([]);
  });

  test('a kit: the gear, and what it does to the shots', () => {
    const kit = kits['kits/camera.kit.yaml']!;
    const double = kit.replace(/output: ([\d.]+) lx at 1 m/g, (_, lux) => `output: ${2 * Number(lux)} lx at 1 m`);
    expect(double).not.toBe(kit);
    const lines = said(
      compare(
        checkerFor({}).check('a.shoot.yaml', two),
        checkerFor({ 'kits/camera.kit.yaml': double }).check('a.shoot.yaml', two),
      ),
    );
    expect(lines).toContainEqual(expect.stringMatching(/^kit lamps \w+: output \d+ lx at 1 m → \d+ lx at 1 m$/));
    expect(lines).toContainEqual(expect.stringMatching(/^(?:reveal|spin|reveal and spin): .*brighter/));
  });

  test('a settings file', () => {
    const checker = checkerFor({});
    const before = checker.check('shootspec.yaml', 'fail-at: error\n');
    const after = checker.check(
      'shootspec.yaml',
      'fail-at: error\nregion: US\nrules:\n  mixed-light: { severity: info }\n',
    );
    expect(said(compare(before, after))).toEqual(['settings: region US, rules mixed-light severity info']);
  });

  test.each(['music-box.shoot.yaml', 'tea-pour.shoot.yaml'])('every value of %s shows when it changes', (name) => {
    const root = join(import.meta.dirname, '../../sample-workspace');
    const checker = new Checker(new NodeHost(root), rules);
    const text = readFileSync(join(root, name), 'utf8');
    const before = checker.check(name, text)!;
    // Every eighth one: each takes two checks.
    const silent = scalars(before.doc.root!).flatMap((node, index) => {
      if (index % 8 !== 0) return [];
      // Far enough from the word itself not to be read as a slip for it.
      const other = /\d/.test(node.text)
        ? text.slice(node.start, node.end).replace(/\d/, (digit) => `${(Number(digit) + 1) % 10}`)
        : `${text.slice(node.start, node.end)}-xxxx`.replace(/"-xxxx$/, '-xxxx"');
      const after = checker.check(name, text.slice(0, node.start) + other + text.slice(node.end))!;
      if (after.doc.broken) return [];
      return planChanges(before, after).length === 0 ? [`${text.slice(node.start, node.end)} → ${other}`] : [];
    });
    expect(silent).toEqual([]);
  });
});

/** Every value that is written in the file itself. */
function scalars(node: Node): ScalarNode[] {
  if (node.kind === 'scalar') return node.end > node.start && node.alias === undefined ? [node] : [];
  return (node.kind === 'list' ? node.items : node.pairs.map((pair) => pair.value)).flatMap(scalars);
}

describe('findings', () => {
  const slow = two.replace('shutter: 1/50 s', 'shutter: 1/80 s');

  test('new, gone, kept, and kept in other words', () => {
    const there = compare(checkSpec(two), checkSpec(slow));
    expect(there.new.map((one) => one.rule)).toContain('shutter-off-half-frame');
    const back = compare(checkSpec(slow), checkSpec(two));
    expect(back.gone.map((one) => one.rule)).toEqual(there.new.map((one) => one.rule));
    const more = compare(checkSpec(slow), checkSpec(slow.replace('1/80 s', '1/100 s')));
    expect(more.changed.map(({ after }) => after.rule)).toContain('shutter-off-half-frame');
    expect([more.new, more.gone].flat().map((one) => one.rule)).not.toContain('shutter-off-half-frame');
    const same = compare(checkSpec(slow), checkSpec(`# moved down\n\n${slow}`));
    expect([same.new, same.gone, same.changed, same.accepted].flat()).toEqual([]);
    expect(same.kept.length).toBe(checkSpec(slow).findings.length);
  });

  test('what somebody accepts is told apart from what is mended', () => {
    const accepted = slow.replace('shutter: 1/80 s', 'shutter: 1/80 s # accept shutter-off-half-frame: for the sparks');
    const { accepted: list } = compare(checkSpec(slow), checkSpec(accepted));
    expect(list).toContainEqual(
      expect.objectContaining({ rule: 'shutter-off-half-frame', by: 'accepted: for the sparks' }),
    );
  });

  test('a version that can not be read, and a file that is new', () => {
    expect(compare(checkSpec('a: [\n'), checkSpec(two))).toMatchObject({ broken: ['before'], plan: [] });
    const fresh = compare(undefined, checkSpec(slow));
    expect([fresh.gone, fresh.new.length]).toEqual([[], checkSpec(slow).findings.length]);
  });
});

describe('outputs', () => {
  const file = (before: string, after: string) => ({
    file: 'films/a.shoot.yaml',
    what: 'changed' as const,
    comparison: compare(checkSpec(before), checkSpec(after)),
  });
  const slow = file(two, two.replace('shutter: 1/50 s', 'shutter: 1/80 s'));

  test('text and Markdown say the same', () => {
    expect(comparedText([slow])).toContain('  reveal and spin: shutter 1/50 s → 1/80 s, 180° → 112.5°');
    expect(comparedMarkdown([slow])).toContain('- **reveal and spin**: shutter 1/50 s → 1/80 s, 180° → 112.5°');
    expect(comparedMarkdown([slow])).toMatch(/\*\*New findings\*\*\n\n- info .*shutter-off-half-frame, line \d+\)/);
  });

  test('nothing changed is one line, and json is whole', () => {
    expect(comparedText([file(two, `${two}# a comment\n`)])).toBe('Nothing in the plan changed.\n');
    const { files } = JSON.parse(comparedJson([slow])) as { files: { plan: { names: string[] }[] }[] };
    expect(files[0]!.plan[0]!.names).toEqual(['reveal', 'spin']);
  });

  // GitHub Flavored Markdown 0.29, Autolinks (extension): `www.` links by itself at the start of a line and after a blank, `*`, `_`, `~` and `(`.
  test.each(['www.example.org', 'x_www.example.org', 'x*www.example.org', 'x~www.example.org', 'x(www.example.org'])(
    'the name %s is no link in Markdown',
    (name) => {
      const linked = file(two, two.replaceAll('reveal', JSON.stringify(name)).replace('takes: 2', 'takes: 3'));
      const output = comparedMarkdown([linked, { ...linked, file: `films/${name}.shoot.yaml` }]);
      expect(output).not.toMatch(/www\.\w/);
      // In the name of the file, in that of the shot, and in what is found of it.
      expect(output.split('www.<!-- -->example').length).toBeGreaterThan(3);
    },
  );

  test('nothing in a spec acts in them', () => {
    for (const text of hostileTexts) {
      const hostile = file(
        two,
        two
          .replace('Winds for a minute', JSON.stringify(text).replaceAll('\\u007f', ''))
          .replace('text: Winds', 'text: ')
          .replace('  reveal:', `  ${JSON.stringify(text)}: { record: 4 s }\n  reveal:`),
      );
      for (const output of [comparedText([hostile]), comparedMarkdown([hostile]), comparedJson([hostile])]) {
        expect(output).not.toMatch(acting);
        expect(output).not.toMatch(logCommand);
      }
    }
  });
});
