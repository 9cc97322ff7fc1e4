/** One slip makes one finding: what else would be said about it is not said. */
import { describe, expect, test } from 'vitest';
import { applyEdits } from '../../server/core/document/edits.ts';
import { checkSpec, spec } from '../helpers/workspace.ts';

/** The findings of the spec without findings, with one text in place of another, and the text after their fixes. */
function slip(right: string, written: string) {
  const base = spec('');
  expect(base).toContain(right);
  const text = base.replace(right, written);
  const { findings } = checkSpec(text);
  return {
    said: findings.map(({ rule, start, end }) => `${rule}: ${text.slice(start, end)}`),
    mended: applyEdits(
      text,
      findings.flatMap(({ fixes }) => fixes[0]?.edits ?? []),
    ),
  };
}

describe('a decimal comma in braces', () => {
  test.each([
    ['length: 10 s, codec', '10,0 s', '10.0 s'],
    ['level: 40 %, distance', '40,0 %', '40.0 %'],
    ['size: 9 x 6 x 7 cm', '9,0 x 6,0 x 7 cm', '9.0 x 6.0 x 7 cm'],
    ['weight: 420 g', '420,0 g', '420.0 g'],
  ])('%s', (right, comma, point) => {
    const written = right.replace(/(?<=: )[^:,]+/, comma);
    const { said, mended } = slip(right, written);
    expect(said).toEqual([`comma-in-braces: ${comma}`]);
    expect(mended).toBe(spec('').replace(right, right.replace(/(?<=: )[^:,]+/, point)));
  });
});
