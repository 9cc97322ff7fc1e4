/** The resolved film as JSON: its shipped JSON Schema (2020-12), read by ajv, says exactly what is written. */
import { readdirSync, readFileSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { expect, it, test } from 'vitest';
import { handed, sampleHanded } from '../helpers/handed.ts';
import { spec } from '../helpers/workspace.ts';

const schema = JSON.parse(
  readFileSync(new URL('../../schemas/hand-over.schema.json', import.meta.url), 'utf8'),
) as object;
const validate = new Ajv2020({ allErrors: true, formats: { date: /^\d{4}-\d{2}-\d{2}$/ } }).compile(schema);

const samples = readdirSync(new URL('../../sample-workspace', import.meta.url)).filter((name) =>
  name.endsWith('.shoot.yaml'),
);

it.each(samples)('%s is as the schema says', (name) => {
  validate(JSON.parse(sampleHanded(name, 'json').text));
  expect(validate.errors).toBeNull();
});

/** What no sample says. */
const more = spec(`shots:
  box: { record: 12 s }
cut:
  - { shot: box, length: 8 s }
  - { footage: clouds, length: 2 s }
titles:
  - { text: Turns, at: 1 s, hold: 3 s, letters: 8 %, only-in: film }
sounds:
  - { track: voice, at: 1 s, length: 3 s, words: It turns by hand. }
rights:
  clouds: { kind: footage, file: clouds.mp4 }
`);

test('the schema names nothing that is never written', () => {
  const written = new Set<string>();
  const collect = (value: unknown): void => {
    if (Array.isArray(value)) value.forEach(collect);
    else if (value !== null && typeof value === 'object')
      for (const [key, inner] of Object.entries(value)) {
        written.add(key);
        collect(inner);
      }
  };
  for (const name of samples) collect(JSON.parse(sampleHanded(name, 'json').text));
  collect(JSON.parse(handed('json', { takes: 'takes:\n  box: { clip: C0001.MP4, piece: 1 }\n' }, more).text));
  const named = new Set<string>();
  const properties = (value: unknown): void => {
    if (value === null || typeof value !== 'object') return;
    for (const [key, inner] of Object.entries(value)) {
      if (key === 'properties') for (const name of Object.keys(inner as object)) named.add(name);
      properties(inner);
    }
  };
  properties(schema);
  expect([...named].filter((name) => !written.has(name))).toEqual([]);
});

test('a film that says almost nothing is one, too', () => {
  const { text } = handed('json', {}, 'title: Bare\n');
  validate(JSON.parse(text));
  expect(validate.errors).toBeNull();
  expect(JSON.parse(text)).toMatchObject({ title: 'Bare', shots: [], cut: [] });
});

test('numbers are those of the plan', () => {
  const film = JSON.parse(sampleHanded('music-box.shoot.yaml', 'json').text) as {
    shots: { name: string; measures: { name: string; value: number }[] }[];
    deliverables: { name: string; runsS: number }[];
  };
  const opening = film.shots.find(({ name }) => name === 'opening')!;
  // 1/50 s at 25 frames a second: 360° · 25 / 50 (the shutter angle of any handbook; by definition).
  expect(opening.measures.find(({ name }) => name === 'shutter angle')?.value).toBeCloseTo(180, 9);
  // 40 beats of a hundred a minute.
  expect(film.deliverables[0]!.runsS).toBeCloseTo(24, 9);
});
