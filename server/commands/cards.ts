/** `shootspec cards`: which cards may be wiped. It reads, and deletes nothing. */
import { resolve } from 'node:path';
import { judgeCards, type Verdict, type Volume } from '../core/cards.ts';
import { kindOf } from '../core/paths.ts';
import { bytesText, listText, quoted } from '../core/say.ts';
import { oneLine } from '../formats/escape.ts';
import { volumeAt } from '../footage/volume.ts';
import { isBelow } from '../ignored.ts';
import { placeOf, readText } from './check-file.ts';
import { parse, print, UsageError } from './usage.ts';

const example = 'shootspec cards box.takes.yaml --card /media/card --copy /mnt/one/box --copy /mnt/two/box';

export async function cards(args: string[]): Promise<number> {
  const { values, positionals } = parse(args, 'cards');
  if (positionals.length === 0 || !values.card || !values.copy)
    throw new UsageError(`Say the take sheets, the cards and the two copies: \`${example}\`.`);
  const clips = [...new Set(positionals.flatMap(clipsOf))];
  const [onCards, copies] = [values.card.map(volume), values.copy.map(volume)];
  assertApart([...onCards, ...copies]);
  const verdicts = await judgeCards(onCards, copies, clips);
  print(verdicts.map((one) => verdictText(one, copies, clips.length)).join(''));
  return verdicts.every(({ why }) => why.length === 0) ? 0 : 1;
}

/** All that a sheet names, bad takes too: somebody may think better of them. */
function clipsOf(path: string): string[] {
  if (kindOf(path) !== 'takes')
    throw new UsageError(`\`${path}\` is no take sheet: their names end in \`.takes.yaml\`.`);
  const file = resolve(path);
  const place = placeOf(file);
  const result = place.checker.check(place.path, readText(file));
  const sheet = result?.sheet?.sheet;
  const error = result?.findings.find(({ severity }) => severity === 'error');
  if (!sheet || error)
    throw new UsageError(`\`${path}\` can't be relied on: ${error?.message ?? 'its spec is not found.'}`);
  return sheet.takes.flatMap(({ clips, sound }) => [...clips, sound?.path].flatMap((one) => one?.value ?? []));
}

function volume(folder: string): Volume {
  const found = volumeAt(resolve(folder), folder);
  if (!found) throw new UsageError(`There is no folder \`${folder}\`.`);
  return found;
}

/** One in another would count a file as its own copy. */
function assertApart(volumes: readonly Volume[]): void {
  for (const [index, one] of volumes.entries())
    for (const other of volumes.slice(index + 1))
      if (one.root === other.root || isBelow(one.root, other.root) || isBelow(other.root, one.root))
        throw new UsageError(
          `\`${one.name}\` and \`${other.name}\` are in one another, so neither is a copy of the other.`,
        );
}

/** So many reasons are said. */
const mostReasons = 20;

function verdictText({ card, why, files, bytes }: Verdict, copies: readonly Volume[], clips: number): string {
  if (why.length === 0) {
    const where = listText(copies.map(({ name }) => quoted(name)));
    return `${oneLine(card)}: may be wiped. ${files} files (${bytesText(bytes)}) are on ${where}, byte for byte, and so are ${clips} clips of the take sheets.\n`;
  }
  const shown = why.slice(0, mostReasons).map((one) => `  ${oneLine(one)}\n`);
  const more = why.length > mostReasons ? `  and ${why.length - mostReasons} more\n` : '';
  return `${oneLine(card)}: not yet.\n${shown.join('')}${more}`;
}
