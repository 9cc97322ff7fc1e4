/** `shootspec letter`: letters that ask for what a film still has no paper for. */
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { listText, quoted } from '../core/say.ts';
import { lettersOf } from '../features/request-letter.ts';
import { harmless } from '../formats/escape.ts';
import { checkedSpec } from './spec-file.ts';
import { parse, print, Refused, UsageError } from './usage.ts';
import { writeNew } from './write.ts';

export async function letter(args: string[]): Promise<number> {
  const { values, positionals } = parse(args, 'letter');
  const [path, ...names] = positionals;
  const { film } = await checkedSpec(path === undefined ? [] : [path], 'shootspec letter music-box.shoot.yaml');
  const letters = lettersOf(film);
  const unknown = names.find((name) => !letters.some((one) => one.name === name));
  if (unknown !== undefined)
    throw new UsageError(
      `${quoted(unknown)} lacks no paper in this film. ${letters.length > 0 ? `These do: ${listText(letters.map((one) => quoted(one.name)))}.` : 'Nothing does.'}`,
    );
  const asked = names.length > 0 ? letters.filter(({ name }) => names.includes(name)) : letters;
  if (asked.length === 0) return print('Everything in this film has its paper: there is nothing to ask for.\n');
  const { output } = values;
  if (output === undefined) return print(harmless(asked.map(({ text }) => text).join('\n')));
  folder(output);
  const files = asked.map(({ name, text }) => ({ file: join(output, `${fileOf(name)}.letter.md`), text }));
  for (const { file, text } of files) writeNew(file, text);
  return print(
    `Wrote ${listText(files.map(({ file }) => file))}. Fill in the blanks before they go out; this is not legal advice.\n`,
  );
}

/** A name that is used may have been written with any signs. */
function fileOf(name: string): string {
  return name.replace(/[^A-Za-z0-9-]+/g, '-').replace(/^-+|-+$/g, '') || 'right';
}

function folder(path: string): void {
  try {
    mkdirSync(path, { recursive: true });
  } catch (error) {
    throw new Refused(path, 'written', error);
  }
}
