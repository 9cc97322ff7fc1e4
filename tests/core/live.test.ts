/** A spec that is edited is judged again where it changed, and nowhere else. */
import { describe, expect, test } from 'vitest';
import { Checker, type CheckResult } from '../../server/core/checker.ts';
import { LiveSpec } from '../../server/core/live/spec.ts';
import { defineRule } from '../../server/core/rule.ts';
import { rules } from '../../server/rules/index.ts';
import { kits, memoryHost, spec } from '../helpers/workspace.ts';

const text = spec(`shots:
  crank: { record: 6 s }
  # The lid opens by hand.
  lid:
    record: 7 s
  drum: { record: 8 s, takes: 3 }
cut:
  - { shot: crank, length: 3 s }
  - { shot: drum, length: 3 s, zoom: 1.2 }
  - { shot: lid, length: 4 s }
`);

/** Takes down what is visited. */
function spy() {
  const visited: string[] = [];
  const rule = defineRule({
    id: 'spy',
    family: 'names',
    summary: '',
    severity: 'info',
    sources: [],
    messages: {},
    shot: ({ name }) => void visited.push(name),
    piece: ({ index }) => void visited.push(`line ${index + 1}`),
  });
  const live = new LiveSpec(new Checker(memoryHost({}), [rule]));
  const settings = live.checker.settings();
  return (from: string, to: string) => {
    live.update(from, settings);
    visited.length = 0;
    live.update(to, settings);
    return visited.join(', ');
  };
}

describe('visited again', () => {
  test.each([
    [
      'a shot that is edited, and the lines that show it with those beside them',
      'record: 7 s',
      'record: 9 s',
      'lid, line 2, line 3',
    ],
    ['a shot that grows', 'record: 7 s', 'record: 7 s\n    takes: 2', 'lid, line 2, line 3'],
    ['a line of the cut, its shot, and the lines beside it', 'zoom: 1.2', 'zoom: 1.25', 'drum, line 1, line 2, line 3'],
    ['what stands before a comment, which is read with it', 'by hand', 'by two hands', 'crank, line 1, line 2'],
    ['all when the camera changes', 'iso: 400', 'iso: 200', 'crank, lid, drum, line 1, line 2, line 3'],
    [
      'all when a line of the cut moves the others',
      'length: 3 s }',
      'length: 2 s }',
      'crank, lid, drum, line 1, line 2, line 3',
    ],
  ])('%s', (_, from, to, visited) => {
    expect(spy()(text, text.replace(from, to))).toBe(visited);
  });

  test('a shot alone where lists start below the first letter of their key', () => {
    const listed = `${text.replaceAll('  - ', '- ')}titles:\n- text: Turns by hand\n  at: 1 s\n- text: And stops\n`;
    expect(spy()(listed, listed.replace('record: 7 s', 'record: 9 s'))).toBe('lid, line 2, line 3');
  });
});

/** All that a result says, its fixes and its tree included. */
function said({ findings, silenced, dependsOn, doc }: CheckResult) {
  const { root, comments, problems, broken, lines } = doc;
  const fixes = findings.map((finding) => finding.fixes);
  return {
    findings: findings.map((finding) => ({ ...finding })),
    fixes,
    silenced,
    dependsOn,
    root,
    comments,
    problems,
    broken,
    count: lines.count,
  };
}

describe('says what a check of the whole text says', () => {
  const many = (count: number, one: string) => `[${Array.from({ length: count }, () => one).join(', ')}]`;
  test.each([
    ['of a key at the top that is no name of a shot', 'shots:\n', 'shots:\nLid: { record: 7 s }\nbrief:\n'],
    ['of a shot below a line that ends in a lone return', 'shots:\n', 'shots:\n  # one more\r  arm: { record: 2 s }\n'],
    ['of a file that ends at a lone return', 'spare: it\n', 'spare: it\r...\n'],
    ['of a section with a comment that could be a colour', 'shots:\n', 'shots: #100 of them\n'],
    ['of a value that stands as a name', 'takes: 3 }', 'takes: 3 }: |-\n   and more'],
    ['of text that goes on over the next line', 'record: 7 s', 'record:\n\n# as long as it takes\n\n      7 s'],
    ['of a colour that became a comment on the next line', '  lid:\n    record: 7 s\n', '  lid:\n  lad: #fff\n'],
    [
      'of more values than are looked at',
      '6 s }',
      `6 s, shows: ${many(60_000, 'x')} }\n  arm: { shows: ${many(60_000, 'x')} }`,
    ],
    ['of more faults than are put into words', '6 s }', `6 s, on-purpose: ${many(700, '{}')} }`],
  ])('%s', (_, from, to) => {
    const before = `${text.replace('length: 4 s', 'length: x')}notes: |\n  spare: it\n`;
    const checker = new Checker(memoryHost({}), rules);
    const live = new LiveSpec(checker);
    const settings = checker.settings();
    const first = live.update(before, settings);
    const after = before.replace(from, to);
    expect(after).not.toBe(before);
    expect(said(live.update(after, settings))).toEqual(said(checker.checkAs('shoot', after)));
    expect(said(live.update(before, settings))).toEqual(said(checker.checkAs('shoot', before)));
    expect(said(first)).toEqual(said(checker.checkAs('shoot', before)));
  });

  test('when a kit, the settings, or a paper that is named are others', () => {
    const files: Record<string, string> = {};
    const checker = new Checker(
      { ...memoryHost({}), read: (path) => read(path), exists: (path) => path in files },
      rules,
    );
    const read = (path: string) => {
      const found = files[path] ?? kits[path];
      return found === undefined ? { problem: 'missing' as const } : { text: found };
    };
    const live = new LiveSpec(checker);
    const right = '{ kind: artwork, proof: papers/lid.pdf, shown-on: all, territory: worldwide }';
    const papers = `${text.replace('record: 7 s', 'record: 7 s\n    shows: label')}rights:\n  label: ${right}\n`;
    const seen = new Set<string>();
    const compare = () => {
      const settings = checker.settings();
      const edited = live.update(papers.replace('record: 7 s', `record: ${7 + seen.size} s`), settings);
      expect(said(edited)).toEqual(said(checker.checkAs('shoot', edited.doc.text, settings)));
      seen.add(JSON.stringify(edited.findings.map(({ rule, severity }) => [rule, severity])));
    };
    compare();
    files['papers/lid.pdf'] = '';
    compare();
    files['kits/camera.kit.yaml'] = kits['kits/camera.kit.yaml']!.replaceAll('tripod', 'stand');
    compare();
    files['shootspec.yaml'] = 'format: 1\nrules: { cut-jars: { severity: info } }\n';
    compare();
    expect(seen.size).toBe(4);
  });
});

test('findings behind an edit stand at their new places, with their fixes', () => {
  const checker = new Checker(memoryHost({}), rules);
  const live = new LiveSpec(checker);
  const settings = checker.settings();
  const wrong = text.replace('takes: 3', 'takes: 3, action: { what: the drum turns }, camera: { shutter: 1/200 s }');
  live.update(wrong, settings);
  const longer = wrong.replace('record: 6 s', 'record: 6 s, notes: The crank comes to rest at the front');
  const edited = live.update(longer, settings);
  const finding = edited.findings.find(({ rule }) => rule === 'shutter-off-half-frame')!;
  expect(longer.slice(finding.start, finding.end)).toBe('1/200 s');
  expect(finding.fixes[0]?.edits.map(({ start, end, text: put }) => [longer.slice(start, end), put])).toEqual([
    ['1/200 s', '1/50 s'],
  ]);
});

test('while the text is broken its fault alone is said; mended, it is as before', () => {
  const checker = new Checker(memoryHost({}), rules);
  const live = new LiveSpec(checker);
  const settings = checker.settings();
  const before = live.update(text, settings).findings;
  expect(live.update(text.replace('8 s, takes', '"8 s, takes'), settings).findings.map(({ rule }) => rule)).toEqual([
    'syntax',
  ]);
  expect(live.update(text, settings).findings).toEqual(before);
});
