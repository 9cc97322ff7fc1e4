/** Every sample, cut off after every sixteenth of its characters, as it is while somebody types it; another seed takes others. */
import { describe, expect, test } from 'vitest';
import { samples } from './corpus.ts';
import { checkerOf, checkText, expectFinding, seed } from './sound.ts';

describe.each(samples)('cut off: $name', (sample) => {
  const { kind, text, files } = sample;
  const checker = checkerOf(files);

  test('anywhere, it is read', () => {
    for (let end = Math.abs(seed % 16); end <= text.length; end += 16) {
      const cut = text.slice(0, end);
      for (const finding of checkText({ ...sample, text: cut }, checker).findings)
        expectFinding(finding, cut, files, false);
    }
  });

  test('before its first character, it is empty', () => {
    expect(checker.checkAs(kind, '').findings.map(({ rule }) => rule)).toEqual(['empty-file']);
  });
});
