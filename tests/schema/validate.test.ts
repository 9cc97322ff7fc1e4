/** The small validators against the library that they were made with, on the schemas as they are published. */
import fs from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type FileKind, lookUp, type RawField, rootOf } from '../../server/core/schema/fields.ts';
import * as validators from '../../server/core/schema/generated/validate.js';

const kinds: readonly FileKind[] = ['shoot', 'takes', 'kit', 'config'];

function library(kind: FileKind) {
  const text = fs.readFileSync(new URL(`../../schemas/${kind}.schema.json`, import.meta.url), 'utf8');
  // A take that stands alone is written out as a list before our validator sees it.
  const schema = JSON.parse(text, (key, value: unknown) => (key === 'anyOf' ? undefined : value)) as object;
  return new Ajv2020({ allErrors: true, strict: false }).compile(schema);
}

interface Told {
  keyword: string;
  instancePath: string;
  params: Record<string, unknown>;
}

/** Where and what, and which key; empty text is no matter of the validators. */
function told(errors: readonly Told[] | null | undefined): string[] {
  return (errors ?? [])
    .filter(({ keyword }) => keyword !== 'minLength')
    .map(({ keyword, instancePath, params }) => {
      const key = params['missingProperty'] ?? params['additionalProperty'] ?? params['propertyName'] ?? '';
      return `${instancePath} ${keyword} ${String(key)}`;
    })
    .sort();
}

/** Data in the shape of a file, some of it wrong. */
function dataFor(kind: FileKind, raw: RawField): fc.Arbitrary<unknown> {
  const wrong = fc.constantFrom<unknown>('no such thing', -1, 0.5, null, [], {}, ['x', 3], { x: 1 }, 'a to b', '');
  const right =
    (raw.examples ?? []).length > 0 && !raw.properties ? fc.constantFrom(...(raw.examples ?? [])) : undefined;
  let built: fc.Arbitrary<unknown> | undefined;
  if (raw.properties) {
    const parts = Object.entries(raw.properties).map(
      ([key, inner]) => [key, fc.constant(null).chain(() => dataFor(kind, lookUp(kind, inner)))] as const,
    );
    built = fc.record(Object.fromEntries(parts), { requiredKeys: [] });
    built = fc
      .tuple(built, fc.option(fc.constantFrom('wobble', 'Shot', '__proto', 'constructor'), { freq: 4 }))
      .map(([data, odd]) => (odd ? { ...(data as object), [odd]: 1 } : data));
  } else if (typeof raw.additionalProperties === 'object') {
    const inner = lookUp(kind, raw.additionalProperties);
    built = fc.dictionary(
      fc.constantFrom('a', 'b-2', 'none', 'product', 'A b', 'x/y~z'),
      fc.constant(null).chain(() => dataFor(kind, inner)),
      { maxKeys: 2 },
    );
  } else if (raw.items && raw.type === 'array') {
    const inner = lookUp(kind, raw.items);
    built = fc.array(
      fc.constant(null).chain(() => dataFor(kind, inner)),
      { maxLength: 2 },
    );
  }
  const likely = built ?? right ?? wrong;
  return fc.oneof(
    { arbitrary: likely, weight: 8 },
    { arbitrary: right ?? likely, weight: 2 },
    { arbitrary: wrong, weight: 1 },
  );
}

describe.each(kinds)('the validator of a %s file', (kind) => {
  const compiled = library(kind);

  it('finds what the library finds', () => {
    let wrong = 0;
    fc.assert(
      fc.property(dataFor(kind, rootOf(kind)), (data) => {
        const known = told((compiled(data), compiled.errors as Told[] | null));
        const own = told((validators[kind](data), validators[kind].errors as Told[] | null | undefined));
        expect(own).toEqual(known);
        if (known.length > 0) wrong++;
      }),
      { numRuns: 400, seed: 20261125 },
    );
    expect(wrong).toBeGreaterThan(50);
  });

  it('says whether anything is wrong', () => {
    expect(validators[kind](null)).toBe(false);
    expect(validators[kind]([])).toBe(false);
    const minimal = { shoot: undefined, takes: { spec: 'x.shoot.yaml' }, kit: { title: 'x' }, config: {} }[kind];
    if (minimal) expect(validators[kind](minimal)).toBe(true);
    else
      expect(
        validators[kind]({
          title: 'x',
          product: { size: '1 x 1 x 1 cm' },
          deliver: {},
          camera: { distance: '1 m', raster: '1x1', rate: 25 },
          shots: {},
        }),
      ).toBe(true);
  });
});
