/** A spec that is edited is judged again where it changed, and nowhere else. */
import { describe, expect, test } from 'vitest';
import { Checker } from '../../server/core/checker.ts';
import { LiveSpec } from '../../server/core/live/spec.ts';
import { defineRule } from '../../server/core/rule.ts';
import { rules } from '../../server/rules/index.ts';
import { memoryHost, spec } from '../helpers/workspace.ts';

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
