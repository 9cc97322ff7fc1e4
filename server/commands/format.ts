/** `shootspec format`: files laid out as they lie, or only named. */
import { resolve } from 'node:path';
import { readFrom } from '../bytes.ts';
import { applyEdits } from '../core/document/edits.ts';
import { parseDocument } from '../core/document/parse.ts';
import { oneLine } from '../formats/escape.ts';
import { formatEdits } from '../features/format/index.ts';
import { pathFrom } from '../node-host.ts';
import { mostRead } from './check-file.ts';
import { expand } from './files.ts';
import { parse, print, readBytes, sayWhy, UsageError } from './usage.ts';
import { replaceFile } from './write.ts';

export async function format(args: string[]): Promise<number> {
  const { values, positionals } = parse(args, 'format');
  const { check = false, quiet = false } = values;
  if (positionals.includes('-')) return formatInput(positionals, check);
  let undone = false;
  const say = (why: Error) => {
    undone = true;
    sayWhy(why);
  };
  const changed: string[] = [];
  for (const file of await expand(positionals.length === 0 ? ['.'] : positionals, say)) {
    try {
      if (formatFile(file, check)) changed.push(file);
    } catch (error) {
      if (!(error instanceof UsageError)) throw error;
      say(error);
    }
  }
  if (!quiet) print(changed.map((file) => `${oneLine(pathFrom(process.cwd(), file))}\n`).join(''));
  if (undone) return 2;
  return check && changed.length > 0 ? 1 : 0;
}

/** True where it was, or would be, changed. */
function formatFile(file: string, check: boolean): boolean {
  const bytes = readBytes(file, mostRead);
  const text = bytes.toString('utf8');
  const now = laidOut(text);
  if (now === text) return false;
  if (!Buffer.from(text).equals(bytes))
    throw new UsageError(`\`${pathFrom(process.cwd(), file)}\` is not in UTF-8, so it was left as it is.`);
  if (!check) replaceFile(resolve(file), bytes, now);
  return true;
}

function formatInput(positionals: readonly string[], check: boolean): number {
  if (positionals.length > 1) throw new UsageError('`-` reads standard input and stands alone.');
  const text = readFrom(0, mostRead).toString('utf8');
  const now = laidOut(text);
  if (check) return now === text ? 0 : 1;
  return print(now);
}

function laidOut(text: string): string {
  return applyEdits(text, formatEdits(parseDocument(text))) ?? text;
}
