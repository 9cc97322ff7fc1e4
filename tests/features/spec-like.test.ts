/** A new film from an old one: nothing changes but what was asked, and the checks find the same. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { Checker } from '../../server/core/checker.ts';
import { oldFilmOf, sizeTyped, specLike, stillOld } from '../../server/features/spec-like.ts';
import { NodeHost } from '../../server/node-host.ts';
import { rules } from '../../server/rules/index.ts';
import { checkSpec, spec } from '../helpers/workspace.ts';

const folder = join(import.meta.dirname, '../../sample-workspace');
const checker = new Checker(new NodeHost(folder), rules);
const samples = readdirSync(folder).filter((name) => name.endsWith('.shoot.yaml'));

/** Lines of the second text that the first has not. */
const changed = (before: string, after: string) => {
  const lines = after.split('\n');
  return lines.filter((line, index) => line !== before.split('\n')[index]);
};

describe('the samples', () => {
  test.each(samples)('%s with another name is the same film', (name) => {
    const text = readFileSync(join(folder, name), 'utf8');
    const old = checker.check(name, text)!;
    const made = specLike(old, { ...oldFilmOf(old)!, title: 'Oak top, no. 2' })!;
    expect(changed(text, made)).toEqual(['title: "Oak top, no. 2"']);
    const found = (of: typeof old) => of.findings.map(({ rule, message }) => `${rule}: ${message}`);
    expect(found(checker.check('oak-top-no-2.shoot.yaml', made)!)).toEqual(found(old));
  });

  test('client, size and all days, with every comment where it was', () => {
    const text = readFileSync(join(folder, 'music-box.shoot.yaml'), 'utf8');
    const old = checker.check('music-box.shoot.yaml', text)!;
    expect(oldFilmOf(old)).toEqual({
      title: 'Hand-cranked music box, opening film',
      client: 'Tinnabel, music-box makers',
      size: '9 x 6 x 7 cm',
      day: '2026-12-02',
    });
    // From 2 December to 1 March are 89 days.
    const asked = { title: 'Carillon', client: 'Velm & Sons', size: '12 x 8 x 9 cm', day: '2027-03-01' };
    const made = specLike(old, asked)!;
    expect(changed(text, made)).toEqual([
      'title: Carillon',
      '  client: "Velm & Sons"',
      '  due: 2027-03-09',
      '  size: 12 x 8 x 9 cm # wide, deep, high',
      '  arrives: 2027-02-27',
      '  returns: 2027-03-03',
      '    published: 2027-03-11 to 2028-03-09',
      expect.stringMatching(/^ {2}- \{ day: 2027-03-01, hours: 09:00 to 15:00/),
    ]);
    expect(made.match(/#.*/g)).toEqual(text.match(/#.*/g));
    expect(stillOld(old.film!)[0]).toBe('the words of the titles (`Turns by hand` and `Tinnabel`)');
  });
});

test('a film without a name gets one, and one without days or client is not asked for them', () => {
  const old = checkSpec(spec('').replace(/^title:.*\n/, ''));
  expect(oldFilmOf(old)).toEqual({ title: '', size: '9 x 6 x 7 cm' });
  expect(specLike(old, { title: 'Oak: top' })).toContain('\ntitle: "Oak: top"\n');
});

test('in braces, with CRLF and with a day that is none, only what can be is changed', () => {
  const text = spec('schedule: [{ day: 2026-13-01 }, { day: 2026-12-05 }]\n').replaceAll('\n', '\r\n');
  const made = specLike(checkSpec(text), { title: 'B', day: '2026-12-31' })!;
  expect(made).toContain('schedule: [{ day: 2026-13-01 }, { day: 2026-12-31 }]\r\n');
  expect(made.match(/\r\n/g)).toHaveLength(text.match(/\r\n/g)!.length);
});

test('what is no spec has no film', () => {
  expect(oldFilmOf(checkSpec('a: [b'))).toBeUndefined();
  expect(specLike(checkSpec('a: [b'), { title: 'B' })).toBeUndefined();
});

test.each([
  ['9x6x7cm', '9 x 6 x 7 cm'],
  [' 9 x 6 × 7 cm ', '9 x 6 x 7 cm'],
  ['9 x 6 cm', undefined],
  ['large', undefined],
])('%j is typed as %j', (typed, size) => {
  expect(sizeTyped(typed)).toBe(size);
});
