import { describe, expect, it } from 'vitest';
import {
  capitalHeightPx,
  capitalMinutes,
  countCharacters,
  countWords,
  easyReading,
  holdS,
  leastLetterMinutes,
  letterHeight,
  lineWidthPx,
  usualReading,
  viewings,
  wordsReadIn,
} from '../../server/calc/reading.ts';

describe('reading time', () => {
  // BBC subtitle guidelines: 160 to 180 words a minute, 0.33 to 0.375 s a word; seven words 2.33 to 2.63 s.
  it('reads seven words in 2.33 to 2.63 s', () => {
    const text = 'Turns by hand, plays for a minute';
    expect(countWords(text)).toBe(7);
    expect(holdS(text)).toBeCloseTo(2.63, 2);
    expect(holdS(text, { ...usualReading, wordsPerMinute: 180 })).toBeCloseTo(2.33, 2);
    expect(holdS(text, easyReading)).toBeCloseTo(3.6, 1);
    expect(wordsReadIn(2)).toBe(5);
    expect(wordsReadIn(0.3)).toBe(0);
  });

  // Subtitling practice: 42 characters at 15 a second are 2.8 s; nothing under 5/6 s.
  it('reads 42 characters of few words in 2.8 s, and nothing under 5/6 s', () => {
    expect(holdS('Donaudampfschifffahrtsgesellschaftskapitän'.padEnd(42, 'e'))).toBeCloseTo(2.8, 9);
    expect(holdS('Tinnabel', easyReading)).toBeCloseTo(1 + 8 / 15, 9);
    expect(holdS('Go')).toBeCloseTo(5 / 6, 9);
  });

  it('counts words and characters as readers do', () => {
    expect(countWords('  One – two,\nthree & 4 ')).toBe(4);
    expect(countCharacters('  ab \n cd ')).toBe(5);
    expect(countCharacters('e\u0301')).toBe(1);
  });

  // Unicode UAX #29: what a reader takes for one character.
  it.each(['née', '👩‍👩‍👧‍👦 ok', '🇩🇪🇫🇷', '👍🏽!', '1️⃣', '🏴󠁧󠁢󠁥󠁮󠁧󠁿', 'हिमालय', 'می‌خواهم', 'q\u0307\u0323'])(
    'counts %s as people do',
    (text) => {
      expect(countCharacters(text)).toBe([...new Intl.Segmenter('en').segment(text)].length);
    },
  );

  it('counts a long text in no time', () => {
    expect(countCharacters('é👨‍👩‍👧x '.repeat(100_000))).toBe(399_999);
  });
});

describe('letter height', () => {
  // NUREG-0700 1.3.1-4: h = 6.283·D·MA ÷ 21600. ISO 9241-3 as quoted: at least 16′, 20 to 22′ preferred.
  it('is 15.1 and 20.7 px of 1080 lines at three picture heights', () => {
    expect(capitalHeightPx(1920, 1080, viewings.television, leastLetterMinutes)).toBeCloseTo(15.1, 1);
  });

  // NUREG's formula is the arc; the sheet's 57.3′ and 28.6′ are the same angles.
  it('sees 54 px under 57.3′ and 27 px under 28.6′ there', () => {
    expect(capitalMinutes(54, 1920, 1080, viewings.television)).toBeCloseTo(57.3, 1);
    expect(capitalMinutes(27, 1920, 1080, viewings.television)).toBeCloseTo(28.6, 1);
  });

  it('agrees with the tangent of the angle', () => {
    expect(letterHeight(350, 16)).toBeCloseTo(350 * Math.tan((16 / 60) * (Math.PI / 180)), 4);
  });

  // 68 mm wide at 35 cm: common practice, no source.
  it('is 26 px of a vertical and 46 px of a wide picture on an upright phone', () => {
    expect(capitalHeightPx(1080, 1920, viewings['phone-upright'], 16)).toBeCloseTo(25.9, 1);
    expect(capitalHeightPx(1920, 1080, viewings['phone-upright'], 16)).toBeCloseTo(46, 0);
    expect(capitalHeightPx(1920, 1080, viewings['phone-upright'], 22)).toBeCloseTo(63, 0);
    expect(capitalMinutes(38, 1920, 1080, viewings['phone-upright'])).toBeCloseTo(13, 0);
  });

  it('lets a picture fill a turned phone by its height', () => {
    // 1080 lines on 68 mm: the same as 1080 px across 68 mm upright.
    const sideways = capitalHeightPx(1920, 1080, viewings['phone-sideways'], 16);
    expect(sideways).toBeCloseTo(capitalHeightPx(1080, 1920, viewings['phone-upright'], 16), 9);
  });

  it('estimates a line by 0.6 of its height a letter (common practice, no source)', () => {
    expect(lineWidthPx('Tinnabel', 50)).toBeCloseTo(240, 9);
  });
});
