import { expect, test } from 'vitest';
import { brighterText, lengthsText, luxText, num, shutterText, stopsText } from '../../server/core/say.ts';

test('two lengths of one thing have one unit, that of the larger', () => {
  expect(lengthsText(13_800, 7770)).toBe('13.8 m x 7.8 m');
  expect(lengthsText(450, 253)).toBe('45 cm x 25.3 cm');
  expect(lengthsText(120, 68)).toBe('12 cm x 6.8 cm');
  expect(lengthsText(90, 51)).toBe('90 mm x 51 mm');
});

test('no number is written with an exponent, nor as one without an end', () => {
  const odd = [Infinity, -Infinity, 1e300, 1e21, 1e-7, 1.75e-16, Number.MIN_VALUE, 123_456_789.123];
  for (const value of odd)
    for (const said of [
      num(value),
      num(value, 9),
      stopsText(value),
      brighterText(value),
      luxText(value),
      shutterText(1 / value),
    ])
      expect(said, String(value)).not.toMatch(/\de[-+]?\d|Infinity|NaN/);
});

test('what is far too bright, dark or different is said so', () => {
  expect(brighterText(-Infinity)).toBe('more than 40 stops darker');
  expect(brighterText(-39.5)).toBe('39.5 stops darker');
  expect(luxText(1.75e-16)).toBe('less than 0.001 lx');
  expect(luxText(0)).toBe('0 lx');
  expect(luxText(0.00123)).toBe('0.00123 lx');
  expect(luxText(12_345)).toBe('12300 lx');
});
