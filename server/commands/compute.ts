/** `shootspec compute`: one thing at a time, with its formula and source. */
import { run, topics } from '../compute/index.ts';
import * as text from '../compute/text.ts';
import { harmless } from '../formats/escape.ts';
import { asksHelp, isHelp } from './help.ts';
import { table } from './table.ts';
import { oneOf, parse, print, UsageError } from './usage.ts';

export function compute(args: string[]): number {
  // A topic has a help of its own.
  const asksTopic = asksHelp(args);
  const { values, positionals } = parse(asksTopic ? args.filter((arg) => !isHelp(arg)) : args, 'compute');
  const format = oneOf('--format', values.format ?? 'text', table.compute.options.format.words);
  const isJson = values.json === true || format === 'json';
  const [topic, ...given] = positionals;
  if (topic === undefined) return print(isJson ? text.topicsJson() : text.topicsText());
  const asked = asksTopic ? topics.find(({ id }) => id === topic) : undefined;
  if (asked) return print(text.topicText(asked));
  const answer = run(topic, given);
  if ('problem' in answer) throw new UsageError(harmless(answer.problem));
  return print(isJson ? text.answerJson(answer) : harmless(text.answerText(answer)));
}
