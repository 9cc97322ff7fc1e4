/** The pages of the rules, which lie beside the bundles in one file, each behind a line with its rule's name. */
import type { RulePage } from './features/hover.ts';

const name = /^<!-- page: ([a-z0-9-]+) -->\n/gm;

/**
 * @param all the text of that file
 * @param address where a reader can open it
 */
export function pagesIn(all: string, address?: string): ReadonlyMap<string, RulePage> {
  const starts = [...all.matchAll(name)];
  return new Map(
    starts.map((match, index) => {
      const from = match.index + match[0].length;
      const text = all.slice(from, starts[index + 1]?.index ?? all.length);
      const line = all.slice(0, from).split('\n').length;
      return [match[1]!, { text, ...(address !== undefined && { address: `${address}#L${line}` }) }];
    }),
  );
}
