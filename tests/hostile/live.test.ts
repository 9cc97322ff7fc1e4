/** A spec that is edited says, after every edit, what a check of its new text says, and in fact looks only at what changed. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { Checker, type CheckResult } from '../../server/core/checker.ts';
import { LiveSpec } from '../../server/core/live/spec.ts';
import { rules } from '../../server/rules/index.ts';
import { memoryHost } from '../helpers/workspace.ts';
import { specOfShots } from '../bench/specs.ts';
import { pageSpecs, samples, type Text } from './corpus.ts';
import { figures } from './figures.ts';
import { type Edited, edited } from './mutate.ts';
import { checkerOf, said, seed, times } from './sound.ts';

const long: Text = { name: 'a long spec', kind: 'shoot', text: specOfShots(12), files: {} };

describe('after every edit a spec that is edited says what a fresh check says', () => {
  sequences('of the specs on the rules’ pages', pageSpecs, figures.sequences.ofPages, 8);
  sequences(
    'of the samples',
    samples.filter(({ kind }) => kind === 'shoot'),
    figures.sequences.ofSamples,
    8,
  );
  sequences('of a long spec', [long], figures.sequences.ofLongSpec, 8);
});

function sequences(what: string, bases: readonly Text[], count: number, most: number): void {
  const portion = 100;
  const seeds = Array.from({ length: Math.ceil((count * times) / portion) }, (_, index) => seed + index);
  test.each(seeds)(`${portion} sequences of edits ${what}, seed %i`, (own) =>
    fc.assert(fc.property(edited(bases, 2, most), expectSame), { numRuns: portion, seed: own }),
  );
}

function expectSame({ text, files, versions }: Edited): void {
  const checker = checkerOf(files);
  const settings = checker.settings();
  const live = new LiveSpec(checker);
  live.update(text, settings);
  for (const [index, version] of versions.entries()) {
    const edited = live.update(version, settings);
    const fresh = checker.checkAs('shoot', version, settings);
    expect(said(edited)).toEqual(said(fresh));
    if (index < versions.length - 1) continue;
    expect(edited.findings.map(({ fixes }) => fixes)).toEqual(fresh.findings.map(({ fixes }) => fixes));
    expect(read(edited)).toEqual(read(fresh));
  }
}

/** What features read, but for the film, which is resolved from the tree. */
function read({ doc }: CheckResult) {
  const { text, root, comments, problems, broken, lines } = doc;
  return {
    text,
    root,
    comments,
    problems,
    broken,
    lines: lines.range({ start: 0, end: text.length }),
    count: lines.count,
  };
}

test('most edits are judged without reading the file again', () => {
  let whole = 0;
  let all = 0;
  class Counting extends Checker {
    override checkAs(...args: Parameters<Checker['checkAs']>) {
      whole++;
      return super.checkAs(...args);
    }
  }
  const checker = new Counting(memoryHost({}), rules);
  for (const { text, versions } of fc.sample(edited([long, ...pageSpecs], 2, 8), { numRuns: 40, seed })) {
    const live = new LiveSpec(checker);
    for (const version of [text, ...versions]) {
      all++;
      live.update(version, checker.settings());
    }
  }
  expect(whole / all).toBeLessThan(0.3);
});
