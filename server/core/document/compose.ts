/** From tokens to the first document as the YAML library sees it. */
import { Composer } from 'yaml';
import type { Document } from 'yaml';
import { type Tokens, tokenise } from './tokens.ts';

/** A lone \r ends a line in YAML 1.2 and in editors but not in the library; \n is as long, so offsets stay. */
export function withoutLoneReturns(text: string): string {
  return text.replace(/\r(?!\n)/g, '\n');
}

export function compose({ tokens }: Tokens, length: number): Document | undefined {
  const limit = Error.stackTraceLimit;
  // The library makes an error object for each fault; their stack traces, which nobody reads, would take seconds.
  Error.stackTraceLimit = 0;
  try {
    return [...new Composer(options).compose(tokens, true, length)][0];
  } finally {
    Error.stackTraceLimit = limit;
  }
}

/** How much of a text the library can't read. */
export function errorsIn(text: string): number {
  const tokens = tokenise(withoutLoneReturns(text));
  return tokens.tooDeep === undefined ? (compose(tokens, text.length)?.errors.length ?? 0) : Infinity;
}

const options = {
  version: '1.2',
  schema: 'core',
  // Tags are reported, so nothing has to be made of them.
  resolveKnownTags: false,
  merge: false,
  // The library compares every key with every other one; ours does it in one pass.
  uniqueKeys: false,
} as const;
