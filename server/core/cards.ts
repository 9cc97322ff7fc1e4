/**
 * What may be wiped from cards. A card may when two copies on two other drives have every byte of it, and every clip that the take sheets
 * name is in both. Whatever is not sure is no.
 */
import { bytesText, quoted } from './say.ts';

export interface FileOn {
  /** Below the volume's root, with forward slashes. */
  readonly path: string;
  readonly bytes: number;
  readonly changedMs: number;
}

export interface Volume {
  /** As it was named. */
  readonly name: string;
  readonly root: string;
  /** Two volumes of one drive are lost together. */
  readonly drive: string;
  readonly files: readonly FileOn[];
  /** Links, folders too deep and what could not be looked at. */
  readonly unread: readonly string[];
  /** Of all bytes of a file; undefined where it can't be read. */
  hash(file: FileOn): Promise<string | undefined>;
}

export interface Verdict {
  readonly card: string;
  /** What keeps it from being wiped, in words; empty where it may be. */
  readonly why: readonly string[];
  readonly files: number;
  readonly bytes: number;
}

/** @param clips what the take sheets name, by their path below the footage folder */
export async function judgeCards(
  cards: readonly Volume[],
  copies: readonly Volume[],
  clips: readonly string[],
): Promise<Verdict[]> {
  const missing = clips.length > 0 ? await missingClips(copies, clips) : ['the take sheets name no clip'];
  const verdicts: Verdict[] = [];
  for (const card of cards) {
    const why = [...badCopies(card, copies), ...otherCard(card, clips), ...(await lacking(card, copies)), ...missing];
    const bytes = card.files.reduce((sum, one) => sum + one.bytes, 0);
    verdicts.push({ card: card.name, why: [...new Set(why)], files: card.files.length, bytes });
  }
  return verdicts;
}

/** Two drives that are not the card's own. */
function badCopies(card: Volume, copies: readonly Volume[]): string[] {
  const why = copies
    .filter(({ drive }) => drive === card.drive)
    .map(({ name }) => `the copy ${quoted(name)} lies on the same drive as the card`);
  const drives = new Set(copies.map(({ drive }) => drive));
  if (copies.length < 2) why.push(`there ${copies.length === 1 ? 'is one copy' : 'is no copy'}, and two are wanted`);
  else if (drives.size < 2) why.push('both copies lie on one drive, and are lost with it');
  return why;
}

/** A card that no sheet knows of may hold what nobody has looked at. */
function otherCard({ files }: Volume, clips: readonly string[]): string[] {
  const named = new Set(clips.map(nameOf));
  if (files.length === 0 || clips.length === 0 || files.some(({ path }) => named.has(nameOf(path)))) return [];
  return ['no clip that the take sheets name is on it: is it a card of another day?'];
}

/** What of the card is not in two copies. */
async function lacking(card: Volume, copies: readonly Volume[]): Promise<string[]> {
  const why = card.unread.map((path) => `${quoted(path || '/')} could not be looked at`);
  if (card.files.length === 0) why.push('there is no file on it: is it the right folder?');
  for (const file of card.files) {
    if (file.bytes === 0) continue;
    const hash = await card.hash(file);
    if (hash === undefined) {
      why.push(`${quoted(file.path)} could not be read to its end`);
      continue;
    }
    for (const copy of copies) {
      const fault = await faultIn(copy, file, hash);
      if (fault) why.push(fault);
    }
  }
  return why;
}

/** What is wrong with the copy of a file; undefined where one of the same bytes is there, under whatever name. */
async function faultIn(copy: Volume, file: FileOn, hash: string): Promise<string | undefined> {
  const same = copy.files.filter(({ bytes }) => bytes === file.bytes);
  const named = copy.files.filter(({ path }) => nameOf(path) === nameOf(file.path));
  // Those of its name first: each of the others takes as long to read.
  for (const one of [...same.filter((it) => named.includes(it)), ...same.filter((it) => !named.includes(it))])
    if ((await copy.hash(one)) === hash) return undefined;
  const [other] = named;
  if (!other) return `${quoted(file.path)} is not on ${quoted(copy.name)}`;
  const size = other.bytes === file.bytes ? '' : ` (${bytesText(other.bytes)} instead of ${bytesText(file.bytes)})`;
  return `${quoted(file.path)} is another file than ${quoted(other.path)} on ${quoted(copy.name)}${size}`;
}

/** Clips of the sheets that are not the same in both copies. */
async function missingClips(copies: readonly Volume[], clips: readonly string[]): Promise<string[]> {
  const why: string[] = [];
  for (const clip of clips) {
    const hashes = new Set<string>();
    for (const copy of copies) {
      const [file, ...others] = filesOf(copy, clip);
      const hash = file && others.length === 0 ? await copy.hash(file) : undefined;
      if (!file) why.push(`the take sheet names ${quoted(clip)}, which is not on ${quoted(copy.name)}`);
      else if (others.length > 0)
        why.push(`several files on ${quoted(copy.name)} could be ${quoted(clip)} of the take sheet`);
      else if (hash === undefined)
        why.push(`${quoted(file.path)} on ${quoted(copy.name)} could not be read to its end`);
      else hashes.add(hash);
    }
    if (hashes.size > 1) why.push(`${quoted(clip)} of the take sheet is not the same in both copies`);
  }
  return why;
}

/** The file at that path, below whatever folder; else all of its name. */
function filesOf({ files }: Volume, clip: string): FileOn[] {
  const whole = clip.toLowerCase();
  const below = files.filter(({ path }) => path.toLowerCase() === whole || path.toLowerCase().endsWith(`/${whole}`));
  return below.length > 0 ? below : files.filter(({ path }) => nameOf(path) === nameOf(clip));
}

/** Cards and drives do not tell large letters from small ones. */
function nameOf(path: string): string {
  return path.slice(path.lastIndexOf('/') + 1).toLowerCase();
}
