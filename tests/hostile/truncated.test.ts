/** Every sample, cut off after every thirty-second of its characters, as it is while somebody types it; another seed takes others. */
import { describe, expect, test } from 'vitest';
import { samples } from './corpus.ts';
import { checkerOf, checkText, expectFinding, seed, times } from './sound.ts';

const step = times > 1 ? 8 : 32;

describe.each(samples)('cut off: $name', (sample) => {
  const { kind, text, files } = sample;
  const checker = checkerOf(files);

  test('anywhere, it is read', () => {
    for (let end = Math.abs(seed % step); end <= text.length; end += step) {
      const cut = text.slice(0, end);
      for (const finding of checkText({ ...sample, text: cut }, checker).findings)
        expectFinding(finding, cut, files, false);
    }
  });

  test('before its first character, it is empty', () => {
    expect(checker.checkAs(kind, '').findings.map(({ rule }) => rule)).toEqual(['empty-file']);
  });
});
