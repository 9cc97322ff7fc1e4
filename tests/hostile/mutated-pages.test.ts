/**
 * The specs on the rules' pages spoiled in many ways: each holds something that its rule minds. What is found in them and
 * in the whole corpus is a SARIF log that its schema lets through.
 */
import { afterAll, describe, expect, test } from 'vitest';
import type { CheckResult } from '../../server/core/checker.ts';
import { type FileReport, reportOf } from '../../server/formats/report.ts';
import { toSarif } from '../../server/formats/sarif.ts';
import { sarifFaults } from '../helpers/sarif.ts';
import { corpus, pageSpecs } from './corpus.ts';
import { figures } from './figures.ts';
import { fuzz } from './fuzz.ts';
import { checkerOf, expectSound } from './sound.ts';

describe('any answer is sound', () => {
  fuzz('spoilt specs', pageSpecs, figures.spoilt.pages, (one) => expectSound(one));
});

describe('and valid SARIF', () => {
  // A log for each takes long, and one for all hides which it is.
  let waiting: FileReport[] = [];
  const faults = (some: readonly FileReport[]) => sarifFaults(toSarif(some, '1.0.0', () => undefined));
  const expectValid = () => {
    const reports = waiting;
    waiting = [];
    if (faults(reports).length > 0) for (const one of reports) expect(faults([one]), one.file).toEqual([]);
  };

  test.each(corpus)('$name', ({ name, kind, text, files }) => {
    expect(faults([report(name, checkerOf(files).checkAs(kind, text))])).toEqual([]);
  });
  fuzz(
    'gently spoilt specs',
    pageSpecs,
    figures.spoilt.pagesGently,
    (one) => {
      if (waiting.push(report(one.name, expectSound(one, true))) >= 50) expectValid();
    },
    true,
  );
  afterAll(expectValid);
});

function report(file: string, result: CheckResult): FileReport {
  return reportOf(result, { file, failAt: 'error', fileOf: (path) => path, fixesOf: ({ fixes }) => fixes });
}
