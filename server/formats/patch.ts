/** A unified diff of one file, as `diff -u`, `git diff` and `patch` have it. */
import { createTwoFilesPatch } from 'diff';
import { harmless, logLines, oneLine } from './escape.ts';

/** Empty where nothing differs. Characters that act are shown as `\u{…}`, so a patch of lines with such can't be applied. */
export function toPatch(file: string, before: string, after: string): string {
  if (before === after) return '';
  const name = oneLine(file);
  const patch = createTwoFilesPatch(`a/${name}`, `b/${name}`, before, after, undefined, undefined, {
    context: 3,
    headerOptions: { includeIndex: false, includeUnderline: false, includeFileHeaders: true },
  });
  return logLines(patch.split('\n').map(line).join('\n'));
}

/** A carriage return at the end of a line belongs to the line end. */
function line(text: string): string {
  return text.endsWith('\r') ? `${harmless(text.slice(0, -1))}\r` : harmless(text);
}
