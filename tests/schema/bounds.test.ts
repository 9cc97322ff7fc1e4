/** Every bound of every quantity: what lies on it is taken, what lies beyond is refused by its least and its most. */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { type Quantity, quantities } from '../../server/core/quantities/table.ts';
import { outOfBounds } from '../../server/core/schema/bounds.ts';
import { checkSpec, spec } from '../helpers/workspace.ts';

/** A value with its number so many times as large, written without an exponent. */
function times(factor: number, text: string): string {
  const number = (value: number) => value.toFixed(9).replace(/\.?0+$/, '');
  const fraction = /^1\/(\d+)/.exec(text);
  if (fraction) return text.replace(fraction[0], `1/${number(Number(fraction[1]) / factor)}`);
  return text.replace(/[\d.]+/, (one) => number(Number(one) * factor));
}

/** Quantities that are written in two parts: how a bound of one part stands with the other. */
const whole: Readonly<Record<string, (part: string) => string>> = {
  'light-output': (part) =>
    /lx$/.test(part) ? `${part} at 1 m` : /m$/.test(part) && !/lm$/.test(part) ? `100 lx at ${part}` : part,
  region: (part) => (/V$/.test(part) ? `${part} 50 Hz` : `230 V ${part}`),
};

const all: readonly (readonly [string, Quantity])[] = Object.entries(quantities);
const bounded = all.flatMap(([name, { bounds = [] }]) =>
  bounds.map((one) => ({ name, least: one.least, most: one.most, read: one.read })),
);

describe('a bound', () => {
  test.each(bounded)('of $name, from $least to $most', ({ name, least, most, read }) => {
    const asWritten = whole[name] ?? ((part: string) => part);
    for (const inside of [least, most]) {
      expect(read(asWritten(inside)), inside).toBeGreaterThan(0);
      expect(outOfBounds(name, asWritten(inside)), inside).toBeUndefined();
    }
    for (const beyond of [times(0.5, least), times(2, most)])
      expect(outOfBounds(name, asWritten(beyond)), beyond).toBe(`it is from \`${least}\` to \`${most}\``);
  });

  test('counts for each side of a size and each end of a change', () => {
    expect(outOfBounds('box', '9 x 6 x 99999999 cm')).toMatch(/^it is from/);
    expect(outOfBounds('box', '9 x 6 x 7 cm')).toBeUndefined();
    expect(outOfBounds('length', '40 cm to 99999999 m')).toMatch(/^it is from/);
  });

  test.each(['0.000000001 bpm', '999999999 bpm'])('is told at the value that is beyond it: %s', (tempo) => {
    const text = spec(`music: { tempo: ${tempo} }\n`);
    const found = checkSpec(text).findings.filter(({ start, end }) => text.slice(start, end) === tempo);
    expect(found.map(({ message }) => message).join()).toMatch(/from `[\d.]+ bpm` to `\d+ bpm`/);
  });
});

/** Other editors know our schemas and nothing else of us. */
describe('the schemas themselves', () => {
  interface Field {
    readonly type?: string | readonly string[];
    readonly pattern?: string;
    readonly maximum?: number;
    readonly 'x-quantity'?: string;
    readonly 'x-range'?: string;
    readonly [key: string]: unknown;
  }
  const fields = ['shoot', 'kit'].flatMap((kind) =>
    fieldsIn(JSON.parse(readFileSync(new URL(`../../schemas/${kind}.schema.json`, import.meta.url), 'utf8'))),
  );

  function fieldsIn(value: unknown): Field[] {
    if (typeof value !== 'object' || value === null) return [];
    const inner = Object.values(value).flatMap(fieldsIn);
    return 'x-quantity' in value ? [value as Field, ...inner] : inner;
  }

  const ofQuantity = (name: string) => fields.filter((field) => field['x-quantity'] === name);
  const texts = (name: string) => ofQuantity(name).filter((field) => field.type === 'string' && field.pattern);
  // Of these a part alone is no value; their numbers are limited by the checker alone.
  const simple = bounded.filter(({ name, most }) => !whole[name] && !/x|^1\//.test(most) && texts(name).length > 0);

  test('there are many of them', () => {
    expect(simple.length).toBeGreaterThan(20);
  });

  test.each(simple.filter(({ name }) => name !== 'shutter'))(
    'take a $name of $most, and none of far more',
    ({ name, most }) => {
      const asWritten = /^(?:size|box)$/.test(name)
        ? (one: string) => one.replace(/^\S+/, '$& x $&')
        : (one: string) => one;
      for (const field of texts(name)) {
        const pattern = new RegExp(field.pattern!, 'u');
        if (name !== 'share') expect(asWritten(most)).toMatch(pattern);
        expect(asWritten(most.replace(/[\d.]+/, '999999999'))).not.toMatch(pattern);
      }
    },
  );

  test.each(['rate', 'times', 'number'])('have a most for each %s', (name) => {
    const numbers = ofQuantity(name).filter(({ type }) => [type].flat().some((one) => one === 'number'));
    expect(numbers.length).toBeGreaterThan(0);
    for (const field of numbers) expect(field.maximum).toBeGreaterThan(0);
  });
});
