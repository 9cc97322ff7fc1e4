/** Runs one computation from words as they are typed in. */
import { run, type Answer } from '../../server/compute/index.ts';

export function answer(topic: string, words: string): Answer {
  const found = run(topic, words.split(/\s+(?=[a-z-]+=)/));
  if ('problem' in found) throw new Error(found.problem);
  return found;
}

/** The results of `topic key=value …`; values may hold blanks. */
export function results(topic: string, words: string): Answer['results'] {
  return answer(topic, words).results;
}

export function result(topic: string, words: string, name: string): number {
  const found = results(topic, words)[name];
  if (typeof found !== 'number') throw new Error(`${topic} ${words}: ${name} is ${JSON.stringify(found)}`);
  return found;
}

export function problem(topic: string, ...args: string[]): string {
  const found = run(topic, args);
  if (!('problem' in found)) throw new Error(`${topic} ${args.join(' ')} was answered`);
  return found.problem;
}
