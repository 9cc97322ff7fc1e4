/** Voices and the words that they say. */
import { describe, expect, test } from 'vitest';
import { countWords, sayingS } from '../../server/calc/reading.ts';
import { marked, messages, titles } from '../helpers/findings.ts';
import { spec } from '../helpers/workspace.ts';

const text = 'Turn the crank slowly and the comb begins to sing, eighteen notes, each of them tuned by hand.';
const film = (sound: string) =>
  spec(`music: { tempo: 100 bpm }\nsounds:\n  - { at: 1 s, ${sound}, words: "${text}" }\n`);

test('saying a text takes its words at the pace', () => {
  expect(countWords(text)).toBe(18);
  // 150 words a minute are two and a half a second (common practice, no source).
  expect(sayingS(text, 150)).toBeCloseTo(7.2, 9);
});

describe('voice-too-fast', () => {
  const rule = 'voice-too-fast';

  test('says the pace, and offers the time that is enough', () => {
    const fast = film('length: 4 s, gain: 12 dB');
    expect(messages(fast, rule)).toEqual([
      `\`${shortened}\` has 18 words in 4 s: 270 a minute, and over 180 nobody follows. Give it 7.2 s, or cut it to 10 words.`,
    ]);
    expect(titles(fast, rule)).toEqual(['Give it 7.2 s']);
  });

  test('a length in beats stays in beats', () => {
    // 7.2 s at 100 beats a minute are 12 beats.
    expect(titles(film('length: 6 beats, gain: 12 dB'), rule)).toEqual(['Give it 12 beats']);
  });

  test.each(['length: 6 s', 'length: 9 s'])('is silent at 180 words a minute and less: %s', (length) =>
    expect(messages(film(`${length}, gain: 12 dB`), rule)).toEqual([]),
  );
});

describe('voice-under-music', () => {
  const rule = 'voice-under-music';

  test.each([
    ['length: 8 s, gain: -3 dB', '-3 dB'],
    ['length: 8 s', `"${text}"`],
  ])('%s', (sound, at) => expect(marked(film(sound), rule)).toEqual([at]));

  test('a voice over nothing, and an effect, need no gain', () => {
    expect(messages(film('length: 8 s').replace('music: { tempo: 100 bpm }\n', ''), rule)).toEqual([]);
    expect(messages(film('length: 8 s').replace(`, words: "${text}"`, ''), rule)).toEqual([]);
    expect(messages(film('length: 8 s, gain: 10 dB'), rule)).toEqual([]);
  });
});

const shortened = `${text.slice(0, 79)}…`;
