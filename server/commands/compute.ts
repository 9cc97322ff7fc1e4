/** `shootspec compute`: one thing at a time, with its formula and source. */
import { run, topics } from '../compute/index.ts';
import * as text from '../compute/text.ts';
import { harmless } from '../formats/escape.ts';
import { parse, print, UsageError } from './usage.ts';

export function compute(args: string[]): number {
  const { values, positionals } = parse(args, { json: { type: 'boolean' }, help: { type: 'boolean', short: 'h' } });
  const [topic, ...given] = positionals;
  if (topic === undefined) return print(values.json ? text.topicsJson() : text.topicsText());
  const asked = values.help ? topics.find(({ id }) => id === topic) : undefined;
  if (asked) return print(text.topicText(asked));
  const answer = run(topic, given);
  if ('problem' in answer) throw new UsageError(harmless(answer.problem));
  return print(values.json ? text.answerJson(answer) : harmless(text.answerText(answer)));
}
