/** The pages of the rules, which lie beside the bundles in one file, each behind a line with its rule's name. */
import { readFileSync } from 'node:fs';

export interface RulePage {
  readonly text: string;
  /** Where it starts in the file, from 1. */
  readonly line: number;
}

const name = /^<!-- page: ([a-z0-9-]+) -->\n/gm;

export function readPages(file: string): ReadonlyMap<string, RulePage> {
  const all = readFileSync(file, 'utf8');
  const starts = [...all.matchAll(name)];
  return new Map(
    starts.map((match, index) => {
      const from = match.index + match[0].length;
      const text = all.slice(from, starts[index + 1]?.index ?? all.length);
      return [match[1]!, { text, line: all.slice(0, from).split('\n').length }];
    }),
  );
}
