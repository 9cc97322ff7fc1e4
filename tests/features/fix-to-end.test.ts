/** Slips of one kind that somebody made all over a file are mended in one round. */
import { describe, expect, test } from 'vitest';
import { fixToEnd } from '../../server/features/fix-to-end.ts';
import { samples } from '../hostile/corpus.ts';
import { checkerFor } from '../helpers/workspace.ts';

const slips: Readonly<Record<string, (text: string) => string>> = {
  'no space after the colon': (text) => text.replace(/^( *(?:- )?[a-z][\w-]*:) (?=[^\s#])/gm, '$1'),
  'no space before the unit': (text) => text.replace(/^([^#\n]*: \d+) (?=(?:cm|mm|s|min|g|K)$)/gm, '$1'),
};

describe.each(Object.entries(slips))('%s', (_, slip) => {
  test.each(samples.filter(({ text }) => slip(text) !== text))('$name', ({ kind, text, files }) => {
    const checker = checkerFor(files);
    const check = (now: string) => checker.checkAs(kind, now);
    const safe = fixToEnd(text, check);
    const made = fixToEnd(slip(text), check);
    expect(made.passes).toBeLessThanOrEqual(1 + safe.passes);
    expect(made.text).toBe(safe.text);
  });
});

test('lines of a text that look like names are left alone', () => {
  const spoilt = 'title:A film\nnotes: |\n  iso:400\nbrief:\n  purpose: "what\n    turn:once"\n  client:Ana\n';
  const made = fixToEnd(spoilt, (now) => checkerFor().checkAs('shoot', now));
  expect(made.text).toBe(spoilt.replace('title:', 'title: ').replace('client:', 'client: '));
});

test('where others like it would break the file, one is mended by itself', () => {
  const spoilt = 'title:A film\nnotes: what was\n  said:so\n';
  const check = (now: string) => checkerFor().checkAs('shoot', now);
  expect(check(spoilt).findings[0]!.fixes[0]!.title).toBe('Put a space after the colon');
  expect(fixToEnd(spoilt, check).text).toBe(spoilt.replace('title:', 'title: '));
});
