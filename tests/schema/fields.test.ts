import { describe, expect, it } from 'vitest';
import {
  blocksWith,
  childrenOf,
  type Field,
  fieldAt,
  fieldMarkdown,
  type FieldPath,
  type FileKind,
  lookUp,
  type RawField,
  rootOf,
  shapeOf,
  yamlText,
} from '../../server/core/schema/fields.ts';
import { quantities } from '../../server/core/quantities/table.ts';
import * as validators from '../../server/core/schema/generated/validate.js';
import { problemsOf } from './marks.ts';

const kinds: readonly FileKind[] = ['shoot', 'takes', 'kit', 'config'];

interface Visited {
  kind: FileKind;
  path: FieldPath;
  raw: RawField;
}

/** Every field of a kind of file, with a made-up name where names are the user's own. */
function everyField(kind: FileKind): Visited[] {
  const found: Visited[] = [];
  const visit = (raw: RawField, path: FieldPath) => {
    if (path.length > 0) found.push({ kind, path, raw });
    for (const [key, inner] of Object.entries(raw.properties ?? {})) visit(lookUp(kind, inner), [...path, key]);
    if (typeof raw.additionalProperties === 'object') visit(lookUp(kind, raw.additionalProperties), [...path, 'some']);
    if (raw.items && shapeOf(raw) === 'lines') visit(lookUp(kind, raw.items), [...path, 0]);
  };
  visit(rootOf(kind), []);
  return found;
}

const all = kinds.flatMap(everyField);
const name = ({ kind, path }: Visited) => `${kind}: ${path.join(' ')}`;
const isBlockItself = ({ path, raw }: Visited) =>
  (path.at(-1) === 0 || path.at(-1) === 'some') && raw.properties !== undefined;

describe('every field', () => {
  it('is there', () => {
    expect(all.length).toBeGreaterThan(400);
  });

  it('has a title and a description in whole sentences', () => {
    for (const each of all) {
      expect(each.raw.title, name(each)).toMatch(/^[A-Z]/);
      expect(each.raw.description, name(each)).toMatch(/^[A-Z0-9`].*[.]$/s);
    }
  });

  it('is described in British spelling and without jargon', () => {
    for (const each of all) {
      const words = `${each.raw.title} ${each.raw.description} ${each.raw['x-default'] ?? ''}`;
      expect(words, name(each)).not.toMatch(/\b(?:color|center|gray|schema|enum|boolean|string|array|object|null)\b/i);
    }
  });

  it('has an example that is right where it stands', () => {
    for (const each of all) {
      if (isBlockItself(each)) continue;
      expect(each.raw.examples?.length, name(each)).toBeGreaterThan(0);
      for (const example of each.raw.examples ?? [])
        expect(problemsWith(each, example), `${name(each)}: ${yamlText(example)}`).toEqual([]);
    }
  });

  it('says its unit where it is a quantity, and its default where it may be left out', () => {
    for (const each of all) {
      if (each.raw['x-quantity']) expect(each.raw['x-unit'], name(each)).toBeTruthy();
      const key = each.path.at(-1);
      const around = fieldRaw(each.kind, each.path.slice(0, -1));
      const needed = typeof key === 'string' && around?.required?.includes(key);
      const isNamed = around?.properties === undefined;
      if (!needed && !isNamed && typeof key === 'string') expect(each.raw['x-default'], name(each)).toBeTruthy();
    }
  });

  it('stands no deeper than four keys', () => {
    for (const each of all) {
      if (each.raw.properties) continue;
      expect(each.path.filter((step) => typeof step === 'string').length, name(each)).toBeLessThanOrEqual(4);
    }
  });

  it('allows the same words in a list as alone', () => {
    for (const each of all) {
      const words = each.raw.items?.enum;
      if (words) expect(each.raw.pattern, name(each)).toBe(`^(?:${words.join('|')})$`);
      else if (each.raw.items?.pattern) expect(each.raw.pattern, name(each)).toBe(each.raw.items.pattern);
    }
  });

  it('takes the special words that it names', () => {
    for (const each of all) {
      for (const word of each.raw['x-special'] ?? [])
        expect(problemsWith(each, word), `${name(each)}: ${word}`).toEqual([]);
    }
  });

  it('takes A to B exactly where it says so', () => {
    for (const each of all) {
      const example = each.raw.examples?.find(
        (value) => typeof value === 'string' && !value.includes(' to ') && !each.raw['x-special']?.includes(value),
      );
      if (!each.raw['x-quantity'] || example === undefined || /left|right/.test(String(example))) continue;
      const twice = problemsWith(each, `${String(example)} to ${String(example)}`);
      expect(twice.length === 0, name(each)).toBe(
        each.raw['x-ends'] !== undefined || ['path', 'beside', 'clip', 'master'].includes(each.raw['x-quantity']),
      );
    }
  });

  it('uses only words, kinds of quantity and names that are agreed', () => {
    const names = new Set(
      'lens camera lamp-place kit-lamp modifier filter screen support turntable microphone card battery reel shot set-up right part shown-thing deliverable rule'.split(
        ' ',
      ),
    );
    for (const each of all) {
      const quantity = each.raw['x-quantity'];
      if (quantity) expect(Object.hasOwn(quantities, quantity), `${name(each)}: ${quantity}`).toBe(true);
      for (const word of [each.raw['x-names'] ?? [], each.raw['x-defines'] ?? []].flat())
        expect(names.has(word), `${name(each)}: ${word}`).toBe(true);
    }
  });
});

function fieldRaw(kind: FileKind, path: FieldPath): RawField | undefined {
  return path.length === 0
    ? rootOf(kind)
    : all.find((each) => each.kind === kind && each.path.join('/') === path.join('/'))?.raw;
}

/** What is found at a value put where the field stands, by way of a whole file. */
function problemsWith({ kind, path }: Visited, value: unknown): string[] {
  const text = path.reduceRight<string>(
    (inner, step) => (typeof step === 'number' ? `[${inner}]` : `{ ${step}: ${inner} }`),
    yamlText(value, true),
  );
  return problemsOf(text, kind)
    .filter(({ rule }) => rule !== 'missing-key')
    .map(({ message }) => message);
}

describe('each key', () => {
  it.each(kinds)('has one shape in one kind of file: %s', (kind) => {
    const shapes = new Map<string, Set<string>>();
    for (const { path, raw } of everyField(kind)) {
      const key = path.at(-1);
      if (typeof key !== 'string' || key === 'some') continue;
      shapes.set(key, (shapes.get(key) ?? new Set()).add(shapeOf(raw)));
    }
    const several = [...shapes].filter(([, set]) => set.size > 1).map(([key, set]) => `${key}: ${[...set].join(', ')}`);
    expect(several).toEqual([]);
  });

  it('is small words joined by hyphens', () => {
    for (const { path } of all) {
      const key = path.at(-1);
      if (typeof key === 'string') expect(key).toMatch(/^[a-z0-9]+(?:-[a-z0-9]+)*$/);
    }
  });

  it('is never a word that YAML once took for true or false', () => {
    for (const { path, raw } of all) {
      for (const word of [path.at(-1), ...(raw.enum ?? []), ...(raw.items?.enum ?? [])]) {
        expect(String(word)).not.toMatch(/^(?:on|off|yes|no|true|false|y|n|null)$/);
      }
    }
  });
});

describe('the validators', () => {
  it.each(kinds)('agree with the schema on an empty file: %s', (kind) => {
    expect(validators[kind]({})).toBe((rootOf(kind).required ?? []).length === 0);
    const missing = (validators[kind].errors ?? []).map(({ params }) => params['missingProperty']);
    expect(missing).toEqual(rootOf(kind).required ?? []);
  });
});

describe('fieldAt', () => {
  it('follows keys, the names people give, and list positions', () => {
    expect(fieldAt('shoot', ['shots', 'reveal', 'camera', 'iso'])).toMatchObject({
      key: 'iso',
      title: 'ISO',
      special: ['auto'],
    });
    expect(fieldAt('shoot', ['cut', 3, 'zoom'])).toMatchObject({ quantity: 'times', ends: 'change' });
    expect(fieldAt('shoot', ['cut', 3, 'zoom-by', 'story'])).toMatchObject({ quantity: 'times', shape: 'value' });
    expect(fieldAt('kit', ['cameras', 'cam', 'modes', 0, 'rate', 1])).toMatchObject({ key: 'rate', shape: 'value' });
    expect(fieldAt('config', ['rules', 'cards-too-small', 'severity'])?.words).toContain('none');
  });

  it('tells blocks, lists and names', () => {
    expect(fieldAt('shoot', ['shots'])).toMatchObject({
      shape: 'named',
      isBlock: true,
      isList: false,
      defines: 'shot',
      required: true,
    });
    expect(fieldAt('shoot', ['cut'])).toMatchObject({ shape: 'lines', isBlock: true, isList: true });
    expect(fieldAt('shoot', ['cut', 0])).toMatchObject({ shape: 'block', isBlock: true });
    expect(fieldAt('shoot', ['shots', 'a', 'shows'])).toMatchObject({
      shape: 'values',
      isList: true,
      names: ['shown-thing'],
    });
    expect(fieldAt('kit', ['batteries', 'a', 'fits'])?.names).toEqual(['camera', 'kit-lamp']);
  });

  it('knows what the film needs and a shot does not', () => {
    expect(fieldAt('shoot', ['camera', 'distance'])?.required).toBe(true);
    expect(fieldAt('shoot', ['shots', 'a', 'camera', 'distance'])?.required).toBe(false);
  });

  it('is undefined where nothing may stand', () => {
    for (const path of [
      ['nonsense'],
      ['title', 'x'],
      ['cut', 'x'],
      ['camera', 'iso', 0],
      ['__proto__'],
      ['camera', 'constructor'],
    ]) {
      expect(fieldAt('shoot', path), path.join(' ')).toBeUndefined();
    }
  });
});

describe('childrenOf', () => {
  it('gives the fields of a block in their order', () => {
    expect(childrenOf('shoot', ['shots', 'x', 'turn']).map(({ key }) => key)).toEqual(['use', 'starts', 'by', 'speed']);
    expect(childrenOf('shoot', ['shots'])).toEqual([]);
    expect(childrenOf('shoot', ['title'])).toEqual([]);
    expect(childrenOf('config', []).map(({ key }) => key)).toEqual([
      'format',
      'region',
      'kit',
      'fail-at',
      'fees',
      'rules',
    ]);
  });
});

describe('fieldMarkdown', () => {
  it('tells what, unit, words, default and an example', () => {
    expect(fieldMarkdown(fieldAt('shoot', ['camera', 'focus']) as Field)).toBe(
      [
        '**Focus** · `focus`',
        '',
        'Where the camera is focused. `locked` is set once, on the subject, when the action starts; `follow` keeps to the subject. A distance counts from the front of the lens.',
        '',
        '- Unit: mm, cm, m (in, ft accepted)',
        '- Or: `locked` · `follow` · `auto`',
        '- `A to B`: it changes evenly from A to B',
        '- Left out: left to the camera, which is reported',
        '- Example: `focus: locked`',
      ].join('\n'),
    );
  });

  it('has something to say of every field', () => {
    for (const { kind, path } of all) {
      const field = fieldAt(kind, path);
      expect(field && fieldMarkdown(field)).toMatch(/^\*\*.+\*\*/);
    }
  });
});

describe('yamlText', () => {
  it('quotes what YAML would read otherwise', () => {
    expect(yamlText('#ffffff')).toBe('"#ffffff"');
    expect(yamlText('Poured, by hand')).toBe('Poured, by hand');
    expect(yamlText(['Poured, by hand', 'x'])).toBe('["Poured, by hand", x]');
    expect(yamlText({ a: 'Music: waltz', b: [1, 2] })).toBe('{ a: "Music: waltz", b: [1, 2] }');
  });
});

it('finds the blocks that have a key', () => {
  expect(blocksWith('shoot', 'iso')).toEqual(['camera']);
  expect(blocksWith('shoot', 'nonsense')).toEqual([]);
});
