/** All computations, and `run`: words as they were typed in, plain data or a problem in plain words out. */
import { nearest } from '../core/nearest.ts';
import { listText, quoted } from '../core/say.ts';
import { careTopics } from './care.ts';
import { dataTopics } from './data.ts';
import { exposureTopics } from './exposure.ts';
import { lensTopics } from './lens.ts';
import { lightTopics } from './light.ts';
import { pictureTopics } from './picture.ts';
import { shutterTopics } from './shutter.ts';
import { timeTopics } from './time.ts';
import { titleTopics } from './titles.ts';
import type { AnyTopic, Key, Outcome, Problem, Value } from './topic.ts';

export const topics: readonly AnyTopic[] = [
  ...lensTopics,
  ...exposureTopics,
  ...shutterTopics,
  ...lightTopics,
  ...pictureTopics,
  ...timeTopics,
  ...dataTopics,
  ...titleTopics,
  ...careTopics,
];

export interface Answer {
  readonly topic: AnyTopic;
  /** As they were written, usual values filled in; a list where a key may be written more than once. */
  readonly inputs: Readonly<Record<string, string | readonly string[]>>;
  /** Keys that were left out and whose usual value was taken. */
  readonly assumed: readonly string[];
  /** Numbers in the units that the names end in; null where there is none. */
  readonly results: Readonly<Record<string, Value>>;
  readonly notes: readonly string[];
}

/** Carries a problem out of the reading of the words. */
class Unusable extends Error {}

/** @param args `key=value` each, values as in specs or without the space before the unit: `focal=50mm` */
export function run(topicId: string, args: readonly string[]): Answer | Problem {
  const topic = topics.find(({ id }) => id === topicId);
  if (!topic)
    return {
      problem: unknown(
        `no computation ${quoted(topicId)}`,
        topicId,
        topics.map(({ id }) => id),
      ),
    };
  try {
    const given = split(topic, args);
    checkComplete(topic, given);
    const assumed = Object.keys(topic.keys).filter(
      (name) => !given.has(name) && key(topic, name).otherwise !== undefined,
    );
    for (const name of assumed) given.set(name, [key(topic, name).otherwise!]);
    const outcome: Outcome<string> | Problem = topic.compute(values(topic, given));
    if ('problem' in outcome) return outcome;
    return {
      topic,
      inputs: inputs(topic, given),
      assumed,
      results: plainly(outcome.results),
      notes: outcome.notes ?? [],
    };
  } catch (error) {
    if (error instanceof Unusable) return { problem: error.message };
    throw error;
  }
}

type Given = Map<string, string[]>;

function key(topic: AnyTopic, name: string): Key<unknown> {
  return topic.keys[name];
}

/** The words by their keys, in the order of the topic's keys. */
function split(topic: AnyTopic, args: readonly string[]): Given {
  const names = Object.keys(topic.keys);
  const given: Given = new Map();
  for (const arg of args) {
    // A yes-or-no key needs no `=yes`.
    const said = names.includes(arg) && key(topic, arg).words?.includes('yes') ? `${arg}=yes` : arg;
    const cut = said.indexOf('=');
    if (cut < 1) throw new Unusable(noKey(topic, arg));
    const [name, text] = [said.slice(0, cut).trim(), shortened(said.slice(cut + 1).trim())];
    if (!names.includes(name)) throw new Unusable(unknown(`no ${quoted(name)} in ${topic.id}`, name, names));
    const before = given.get(name) ?? [];
    if (before.length > 0 && key(topic, name).need !== 'several') {
      throw new Unusable(`${quoted(name)} is written twice: keep one.`);
    }
    given.set(name, [...before, text]);
  }
  return given;
}

/** Scripts hand over all the decimals that they have; nine are read. */
function shortened(text: string): string {
  return text.replace(/(\.\d{9})\d+/g, '$1');
}

function noKey(topic: AnyTopic, arg: string): string {
  const example = topic.example[0]!;
  return (
    `${quoted(arg)} is no key and value, such as ${quoted(example)}. A value with a space in it goes into quotation ` +
    'marks together with its key, or is written without the space.'
  );
}

function unknown(what: string, word: string, known: readonly string[]): string {
  const near = nearest(word, known);
  return `There is ${what}.${near ? ` Did you mean ${quoted(near.word)}?` : ` There are ${listText(known)}.`}`;
}

/** That nothing is missing, and one of several ways is used, completely. */
function checkComplete(topic: AnyTopic, given: Given): void {
  const missing = Object.keys(topic.keys).filter(
    (name) => !given.has(name) && key(topic, name).need !== 'optional' && key(topic, name).otherwise === undefined,
  );
  const ways = (topic.ways ?? []) as readonly (readonly string[])[];
  const used = ways.filter((way) => way.some((name) => given.has(name)));
  if (used.length > 1) {
    const said = used.map((way) => quoted(way.find((name) => given.has(name))!));
    throw new Unusable(`${listText(said)} do not go together: give ${waysText(ways)}.`);
  }
  const [way] = used;
  if (way) missing.push(...way.filter((name) => !given.has(name)));
  const lacks = [...missing.map(quoted), ...(ways.length > 0 && !way ? [waysText(ways)] : [])];
  if (lacks.length > 0) {
    throw new Unusable(`${topic.id} wants ${listText(lacks)}. For example: ${exampleText(topic)}`);
  }
}

function waysText(ways: readonly (readonly string[])[]): string {
  return listText(
    ways.map((way) => way.map(quoted).join(' with ')),
    'or',
  );
}

/** As a shell takes it. */
export function exampleText(topic: AnyTopic): string {
  return [topic.id, ...topic.example.map((word) => (/[ #;]/.test(word) ? `"${word}"` : word))].join(' ');
}

function values(topic: AnyTopic, given: Given): Record<string, unknown> {
  return Object.fromEntries(
    Object.keys(topic.keys).map((name) => {
      const all = (given.get(name) ?? []).map((text) => value(name, key(topic, name), text));
      return [name, key(topic, name).need === 'several' ? all : all[0]];
    }),
  );
}

function value(name: string, { read, refuse, words, example }: Key<unknown>, text: string): unknown {
  const found = read(text) ?? read(spaced(text));
  const written = quoted(`${name}=${text}`);
  if (found === undefined) {
    const wanted = words ? `takes ${listText(words, 'or')}` : `is written like ${quoted(`${name}=${example}`)}`;
    throw new Unusable(`${written} cannot be read: ${quoted(name)} ${wanted}.`);
  }
  const refused = refuse?.(found);
  if (refused) throw new Unusable(`${written} ${refused}.`);
  return found;
}

/** One space between each number and its unit. */
function spaced(text: string): string {
  return text.replace(/(\d)\s*(?=[A-Za-z%])/g, '$1 ');
}

function inputs(topic: AnyTopic, given: Given): Answer['inputs'] {
  const written = Object.keys(topic.keys).filter((name) => given.has(name));
  return Object.fromEntries(
    written.map((name) => [name, key(topic, name).need === 'several' ? given.get(name)! : given.get(name)![0]!]),
  );
}

/** Numbers without end are no numbers to hand on. */
function plainly(results: Outcome<string>['results']): Answer['results'] {
  return Object.fromEntries(
    Object.entries(results).map(([name, found]) => [
      name,
      typeof found === 'number' && !Number.isFinite(found) ? null : found,
    ]),
  );
}
