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

describe('a value that can not be read', () => {
  test.each([
    // Without a height the camera would look straight at the front edge of the surface.
    ['height: 8 cm', 'height: x8', 'wrong-unit: x8'],
    ['size: 9 x 6 x 7 cm', 'size: 9 x', 'wrong-unit: 9 x'],
    ['size: 9 x 6 x 7 cm', 'size:', 'empty-value: size'],
    ['behind: 70 cm', 'behind: 70 kg', 'wrong-unit: 70 kg'],
    ['source: window', 'source: the moon', 'unknown-word: the moon'],
    ['level: 40 %', 'level: 400 %', 'out-of-range: 400 %'],
  ])('%s written %s is its one finding', (right, written, said) => {
    expect(slip(right, written).said).toEqual([said]);
  });

  test('what has nothing to do with it is said all the same', () => {
    const text = spec('cut:\n  - { shot: box, length: 8 s }\n').replace('height: 8 cm', 'height: x8');
    expect(checkSpec(text).findings.map(({ rule }) => rule)).toEqual(['length-off', 'wrong-unit']);
  });
});

describe('a value of which it is plain what it means', () => {
  test.each([
    ['record: 12 s', 'record: 12s'],
    ['record: 12 s', 'record: 12\u00a0s'],
  ])('%s written %j is read as that, and hides nothing', (right, written) => {
    const short = spec('cut:\n  - { shot: box, length: 20 s }\n');
    const rules = (text: string) => checkSpec(text).findings.map(({ rule }) => rule);
    expect(rules(short)).toContain('recording-too-short');
    expect(rules(short.replace(right, written))).toEqual(expect.arrayContaining(['wrong-unit', ...rules(short)]));
  });
});

test('a name that is defined nowhere is said once, however it is written', () => {
  const said = (text: string) =>
    checkSpec(text).findings.map(({ rule, start, end }) => `${rule}: ${text.slice(start, end)}`);
  expect(said(spec('').replace('lens: normal', 'lens: Normal'))).toEqual(['name-not-defined: Normal']);
  expect(said(spec('cut:\n  - { shot: Box, length: 10 s }\n'))).toEqual(['name-not-defined: Box']);
  const both = spec('shots:\n  Box: { record: 12 s }\ncut:\n  - { shot: Box, length: 10 s }\n');
  expect(said(both)).toEqual(['bad-name: Box', 'bad-name: Box']);
});
