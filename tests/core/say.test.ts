import { expect, test } from 'vitest';
import { lengthsText } from '../../server/core/say.ts';

test('two lengths of one thing have one unit, that of the larger', () => {
  expect(lengthsText(13_800, 7770)).toBe('13.8 m x 7.8 m');
  expect(lengthsText(450, 253)).toBe('45 cm x 25.3 cm');
  expect(lengthsText(120, 68)).toBe('12 cm x 6.8 cm');
  expect(lengthsText(90, 51)).toBe('90 mm x 51 mm');
});
