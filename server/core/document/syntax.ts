/** The YAML library's errors in plain words, at the characters that a reader would point at. */
import type { YAMLParseError } from 'yaml';
import type { Problem } from './problem.ts';
import { problem } from './problem.ts';

export function syntaxProblems(errors: readonly YAMLParseError[], text: string): Problem[] {
  return errors.slice(0, 3).map((error) => {
    const start = Math.min(error.pos[0], text.length);
    return problem('syntax', { start, end: Math.max(start, Math.min(error.pos[1], text.length)) }, error.message);
  });
}
