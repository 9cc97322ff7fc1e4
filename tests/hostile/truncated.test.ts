/** Every sample, cut off after each of its characters, as it is while somebody types it. */
import { describe, expect, test } from 'vitest';
import { checkerFor } from '../helpers/workspace.ts';
import { samples } from './corpus.ts';
import { expectFinding } from './sound.ts';

describe('cut off at every place', () => {
  test.each(samples)('$name', ({ kind, text, files }) => {
    const checker = checkerFor(files);
    for (let end = 0; end <= text.length; end++) {
      const cut = text.slice(0, end);
      const { findings } = checker.checkAs(kind, cut);
      for (const finding of findings) expectFinding(finding, cut, files, false);
      if (end === 0) expect(findings.map(({ rule }) => rule)).toEqual(['empty-file']);
    }
  });
});
