/** `shootspec completion`: what a shell completes, as a script for that shell. */
import { topics } from '../compute/index.ts';
import { rules } from '../rules/index.ts';
import { scriptFor } from './completion-scripts.ts';
import { shells } from './table.ts';
import { oneOf, parse, print, UsageError } from './usage.ts';

export function completion(args: string[]): number {
  const { positionals } = parse(args, 'completion');
  const [named] = positionals;
  if (named === undefined)
    throw new UsageError(`Say for which shell, ${shells.join(', ')}: \`source <(shootspec completion bash)\`.`);
  const names = {
    rule: rules.map(({ id }) => id),
    family: [...new Set(rules.map(({ family }) => family))],
    topic: topics.map(({ id }) => id),
  };
  return print(scriptFor(oneOf('completion', named, shells), names));
}
