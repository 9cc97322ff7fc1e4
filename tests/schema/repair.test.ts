import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { childrenOf, type FileKind, lookUp, oneOf, type RawField, rootOf } from '../../server/core/schema/fields.ts';
import { asKey, distance, nearest } from '../../server/core/nearest.ts';
import { fits, repair } from '../../server/core/schema/repair.ts';
import { quantityNamed } from '../../server/core/quantities/table.ts';
import { ends, lengthMm } from '../../server/core/units.ts';

const kinds: readonly FileKind[] = ['shoot', 'takes', 'kit', 'config'];

/** Every field with a quantity, seen as one value. */
function quantities(): { name: string; field: RawField; examples: string[] }[] {
  const found = new Map<string, { name: string; field: RawField; examples: string[] }>();
  const visit = (kind: FileKind, raw: RawField, name: string) => {
    if (raw['x-quantity']) {
      const examples = (raw.examples ?? []).flat().map(String);
      found.set(`${kind} ${name}`, { name: `${kind} ${name}`, field: oneOf(raw), examples });
    }
    for (const [key, inner] of Object.entries(raw.properties ?? {})) visit(kind, lookUp(kind, inner), `${name} ${key}`);
    if (raw.items?.$ref) visit(kind, lookUp(kind, raw.items), name);
    if (typeof raw.additionalProperties === 'object') visit(kind, lookUp(kind, raw.additionalProperties), `${name} *`);
  };
  for (const kind of kinds) visit(kind, rootOf(kind), '');
  return [...found.values()];
}

/** Texts made of what people write in such places. */
const number = fc.oneof(
  fc.integer({ min: -300, max: 10_000 }).map(String),
  fc.double({ min: -50, max: 500, noNaN: true }).map((value) => value.toFixed(2)),
  fc.constantFrom('0', '0.0', '1/50', '1,5', '1,600', '.5', '025', '1e3', '+2'),
);
const unit = fc.constantFrom(
  ...'mm cm m in ft s ms min h beats beat frames ° K mired stops stop lx cd lm cd/m² Hz kHz bpm rpm mm/s cm/s m/s % kb/s Mb/s MB/s GB GiB LUFS LKFS dBTP dB A W kW Wh g kg oz lb °C'.split(
    ' ',
  ),
  '° left',
  '° right',
  'lx at 1 m',
);
const one = fc.tuple(number, fc.constantFrom(' ', ''), unit).map((parts) => parts.join(''));
const written = fc.oneof(
  one,
  number,
  fc.tuple(one, fc.constantFrom(' to ', '-', ' - ', ' x '), one).map((parts) => parts.join('')),
  fc.tuple(number, number, number, unit).map(([a, b, c, end]) => `${a} x ${b} x ${c} ${end}`),
  fc.tuple(fc.nat(5000), fc.nat(5000)).map(([a, b]) => `${a}x${b}`),
  fc.constantFrom(
    'f/8',
    'f/0',
    'f8',
    '00:00:12:10',
    '10:61:00:00',
    '2026-02-28',
    '2026-13-01',
    '09:00 to 15:00',
    '25:00',
    'DE',
    'JP 60 Hz',
    'BR 220 V 60 Hz',
    '#ffffff',
  ),
);

describe('what a field takes', () => {
  const fields = quantities();

  it('is of a kind that has a reader, but for words and paths', () => {
    const kindsOf = new Set(fields.map(({ field }) => field['x-quantity']!));
    expect([...kindsOf].filter((kind) => !quantityNamed(kind)?.read).sort()).toEqual([
      'beside',
      'chroma',
      'clip',
      'country',
      'master',
      'path',
    ]);
  });

  it.each(fields.map((each) => [each.name, each] as const))('can be read: %s', (_name, { field, examples }) => {
    const read = quantityNamed(field['x-quantity'])?.read;
    if (!read) return;
    const reader = field['x-ends'] ? ends(read) : read;
    const special = field['x-special'] ?? [];
    for (const example of examples) if (!special.includes(example)) expect(reader(example), example).toBeDefined();
    fc.assert(
      fc.property(written, (text) => {
        if (fits(field, text) && !special.includes(text)) expect(reader(text), text).toBeDefined();
      }),
      { numRuns: 150, seed: 20261125 },
    );
  });

  it.each(fields.map((each) => [each.name, each] as const))('is what a repair makes: %s', (_name, { field }) => {
    fc.assert(
      fc.property(written, (text) => {
        const meant = repair(field, text);
        if (meant) expect(fits(field, meant.text), `${text} → ${meant.text}`).toBe(true);
      }),
      { numRuns: 150, seed: 20261125 },
    );
  });

  it('is found again when only a space is missing', () => {
    for (const { name, field, examples } of fields) {
      for (const example of examples) {
        const squeezed = example.replace(/(\d) ([a-zA-Z%°])/g, '$1$2').replace(/(?<=[a-z°])to(?=\d)/g, ' to ');
        if (squeezed === example || / to |left|right|^[A-Z]/.test(example)) continue;
        expect(repair(field, squeezed), `${name}: ${squeezed}`).toMatchObject({ text: example, safe: true });
      }
    }
  });
});

describe('a safe repair keeps the value', () => {
  const height = quantities().find(({ name }) => name === 'shoot  camera height')!.field;

  it('is found', () => expect(height['x-quantity']).toBe('length'));

  it('of any length, whatever way it is spelt', () => {
    const ways = fc.constantFrom(
      ['mm', 'mm', 1],
      ['millimetres', 'mm', 1],
      ['CM', 'cm', 10],
      ['metres', 'm', 1000],
      ['"', 'in', 25.4],
      ['feet', 'ft', 304.8],
    );
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 99_999 }),
        ways,
        fc.constantFrom('', ' '),
        (hundredths, [way, , mm], space) => {
          const value = hundredths / 100;
          const comma = String(value).replace('.', ',');
          if (/,\d{3}$/.test(comma)) return;
          const meant = repair(height, `${comma}${space}${way}`);
          if (!meant) return expect(fits(height, `${comma}${space}${way}`)).toBe(true);
          expect(meant.safe).toBe(true);
          expect(lengthMm(meant.text)).toBeCloseTo(value * Number(mm), 6);
        },
      ),
      { seed: 20261125 },
    );
  });
});

describe('nearest', () => {
  it('counts edits, a swap as one', () => {
    expect(distance('shutter', 'shutter', 3)).toBe(0);
    expect(distance('shuter', 'shutter', 3)).toBe(1);
    expect(distance('recrod', 'record', 3)).toBe(1);
    expect(distance('kitten', 'sitting', 3)).toBe(3); // the textbook pair
    expect(distance('', 'abc', 3)).toBe(3);
  });

  it('is the same both ways', () => {
    const word = fc.stringMatching(/^[a-e]{0,7}$/);
    fc.assert(fc.property(word, word, (a, b) => distance(a, b, 9) === distance(b, a, 9)));
  });

  it('finds the word itself in other spellings', () => {
    const keys = childrenOf('shoot', ['camera']).map(({ key }) => key);
    for (const key of keys) {
      expect(nearest(key.replaceAll('-', '_').toUpperCase(), keys)).toEqual({ word: key, sure: true });
    }
    expect(asKey('  White Balance ')).toBe('white-balance');
    expect(nearest('x'.repeat(10_000), keys)).toBeUndefined();
    expect(nearest('banana', keys)).toBeUndefined();
  });
});
