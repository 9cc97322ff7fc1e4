/** Messages of the rules in another language: what a translation may be, and what is said where it is none. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { textsOf } from '../../scripts/generate/texts.ts';
import { Checker } from '../../server/core/checker.ts';
import { rules } from '../../server/rules/index.ts';
import { inLanguage } from '../../server/rules/language.ts';
import { memoryHost, spec } from '../helpers/workspace.ts';

const rule = 'cut-off-beat';
const source = JSON.parse(readFileSync(new URL('../../l10n/findings.json', import.meta.url), 'utf8'));

/** The templates of one rule with translations laid over them. */
function messages(texts: unknown): Readonly<Record<string, string>> {
  return textsOf(inLanguage(rules, texts))[rule]!;
}

const [key, own] = Object.entries(textsOf(rules)[rule]!)[0]!;
const names = [...own.matchAll(/\{(\w+)\}/g)].map((match) => match[0]);
const translated = `Übersetzt: ${names.toReversed().join(' ')}`;

describe('the file for translators', () => {
  it('holds every template of every rule: `npm run generate` writes it', () => {
    expect(source).toEqual(textsOf(rules));
    expect(Object.keys(source)).toHaveLength(rules.length);
  });
});

describe('a translated template', () => {
  it('takes the place of the rule’s own, with its names in any order', () => {
    expect(names.length).toBeGreaterThan(1);
    expect(messages({ [rule]: { [key]: translated } })).toEqual({ ...textsOf(rules)[rule], [key]: translated });
  });

  it('leaves the other rules, and what a rule does, as they are', () => {
    const all = inLanguage(rules, { [rule]: { [key]: translated } });
    expect(textsOf(all)).toEqual({ ...textsOf(rules), [rule]: messages({ [rule]: { [key]: translated } }) });
    const doing = (language: typeof rules) => language.map((one) => ({ ...one, messages: {} }));
    expect(doing(all)).toEqual(doing(rules));
  });

  it.each([
    ['lacks a name', translated.replace(names[0]!, '')],
    ['has a name too many', `${translated} {reason}`],
    ['has a name that is spelt in another way', translated.replace(names[0]!, names[0]!.toUpperCase())],
    ['has a name in which something else stands', `${translated} {__proto__} {0}`],
    ['is empty', ' '],
    ['is no text', 12],
    ['is nothing', null],
    ['is a list', [translated]],
  ])('is not used where it %s', (_, template) => {
    expect(messages({ [rule]: { [key]: template } })).toEqual(textsOf(rules)[rule]);
  });

  it.each([
    ['nothing', undefined],
    ['no object', 'texts'],
    ['a list', [{ [key]: translated }]],
    ['rules that are none', { 'no-such-rule': { [key]: translated }, [rule]: { 'no-such-message': translated } }],
    ['a rule that is no object', { [rule]: translated }],
    ['a rule in the prototype', Object.create({ [rule]: { [key]: translated } })],
  ])('is not used where the file holds %s', (_, texts) => {
    expect(textsOf(inLanguage(rules, texts))).toEqual(textsOf(rules));
  });
});

it('finds the same in every language', () => {
  const texts = Object.fromEntries(
    Object.entries(textsOf(rules)).map(([id, templates]) => [
      id,
      Object.fromEntries(Object.entries(templates).map(([name, template]) => [name, `« ${template} »`])),
    ]),
  );
  const text = spec('shots:\n  spin: { record: 12 s, turn: { speed: 2 rpm }, camera: { shutter: 1/200 s } }\n');
  const found = (language: typeof rules) => new Checker(memoryHost({}), language).checkAs('shoot', text).findings;
  const [english, other] = [found(rules), found(inLanguage(rules, texts))];
  const plain = ({ rule: id, severity, start, end }: (typeof english)[number]) => ({ id, severity, start, end });
  expect(english.length).toBeGreaterThan(0);
  expect(other.map(plain)).toEqual(english.map(plain));
  const ofRules = new Set(rules.map(({ id }) => id));
  expect(other.map((one) => one.message)).toEqual(
    english.map((one) => (ofRules.has(one.rule) ? `« ${one.message} »` : one.message)),
  );
});
