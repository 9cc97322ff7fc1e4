/** A comparison as text for a terminal, Markdown for a comment, JSON for scripts. */
import { type Paint, plain } from '../formats/text.ts';
import { json, logLines, markdown, oneLine } from '../formats/escape.ts';
import { type ComparedFinding, type Comparison, isQuiet } from './comparison.ts';
import type { ChangedPicture } from './pictures.ts';
import { aboutText, changeText, findingText } from './change-text.ts';

/** One file in two versions. */
export interface ComparedFile {
  /** The file's name now, or the last that it had. */
  readonly file: string;
  /** What it was called before, where that is another name. */
  readonly was?: string;
  readonly what: 'changed' | 'added' | 'removed';
  readonly comparison: Comparison;
  /** Where they are asked for. */
  readonly pictures?: readonly ChangedPicture[];
}

export const nothing = 'Nothing in the plan changed.';
export const brokenText = { before: 'could not be read before', after: 'can not be read now' };

export function headOf({ file, was, what }: ComparedFile): string {
  const named = was === undefined ? file : `${file}, was ${was}`;
  return what === 'changed' ? named : `${named}: ${what === 'added' ? 'new' : 'taken out'}`;
}

/** The files of which there is something to say. */
export function loud(files: readonly ComparedFile[]): ComparedFile[] {
  return files.filter((one) => one.what !== 'changed' || one.was !== undefined || !isQuiet(one.comparison));
}

// -- text ------------------------------------------------------------------------------------------------------------

export function comparedText(files: readonly ComparedFile[], paint: Paint = plain): string {
  const blocks = loud(files).map((one) => textOf(one, paint));
  return logLines(blocks.length === 0 ? `${nothing}\n` : blocks.join('\n'));
}

function textOf(one: ComparedFile, paint: Paint): string {
  const { comparison } = one;
  const plan = comparison.plan.map((change) => {
    const [about, said] = [oneLine(aboutText(change)), oneLine(changeText(change))];
    return `  ${paint.strong(`${about}:`)} ${said}`;
  });
  const finding = (word: string, found: ComparedFinding, note = '') =>
    `  ${word} ${paint.severity(found.severity, found.severity)} ${oneLine(found.message)} ${paint.dim(`[${oneLine(found.rule)}]`)}${note}`;
  return [
    paint.strong(oneLine(headOf(one))),
    ...comparison.broken.map((side) => `  The file ${brokenText[side]}.`),
    ...plan,
    ...comparison.new.map((found) => finding('new:', found)),
    ...comparison.changed.map(
      ({ before, after }) => `${finding('now:', after)}\n      was: ${oneLine(findingText(before))}`,
    ),
    ...comparison.gone.map((found) => finding('gone:', found)),
    ...comparison.accepted.map((found) => finding('taken as meant:', found, ` (${oneLine(found.by)})`)),
    `  ${countsOf(comparison)}`,
    '',
  ].join('\n');
}

export function countsOf({ new: fresh, gone, changed, kept }: Comparison): string {
  const counts = [`${fresh.length} new`, `${gone.length} gone`, `${kept.length + changed.length} kept`];
  return `Findings: ${counts.join(', ')}.`;
}

// -- Markdown --------------------------------------------------------------------------------------------------------

/** @param addressOf where the picture of a shot is, to be shown from the text */
export function comparedMarkdown(files: readonly ComparedFile[], addressOf: AddressOf = () => ''): string {
  const blocks = loud(files).map((one) => markdownOf(one, addressOf));
  return blocks.length === 0 ? `${nothing}\n` : blocks.join('\n');
}

export type AddressOf = (file: Pick<ComparedFile, 'file'>, picture: ChangedPicture, side: 'before' | 'after') => string;

/** A table of two columns for each shot. */
function picturesMarkdown(one: ComparedFile, addressOf: AddressOf): string[] {
  return (one.pictures ?? []).flatMap((picture) => {
    const cell = (side: 'before' | 'after') =>
      picture[side] ? `![${markdown(picture.shot)}, ${side}](${addressOf(one, picture, side)})` : 'no picture';
    return [
      '',
      `| ${markdown(picture.shot)} before | after |`,
      '| --- | --- |',
      `| ${cell('before')} | ${cell('after')} |`,
    ];
  });
}

function markdownOf(one: ComparedFile, addressOf: AddressOf): string {
  const { comparison } = one;
  const plan = comparison.plan.map((change) => `- **${markdown(aboutText(change))}**: ${markdown(changeText(change))}`);
  const finding = (found: ComparedFinding, note = '') =>
    `- ${markdown(findingText(found))} (${markdown(found.rule)}, line ${found.line})${note}`;
  const section = (title: string, lines: readonly string[]) =>
    lines.length === 0 ? [] : ['', `**${title}**`, '', ...lines];
  return [
    `### ${markdown(headOf(one))}`,
    ...section(
      'Not compared',
      comparison.broken.map((side) => `- The file ${brokenText[side]}.`),
    ),
    ...(plan.length > 0 ? ['', ...plan] : []),
    ...picturesMarkdown(one, addressOf),
    ...section(
      'New findings',
      comparison.new.map((found) => finding(found)),
    ),
    ...section(
      'Findings with other numbers',
      comparison.changed.map(({ before, after }) => finding(after, `, was: ${markdown(findingText(before))}`)),
    ),
    ...section(
      'Gone',
      comparison.gone.map((found) => finding(found)),
    ),
    ...section(
      'Taken as meant',
      comparison.accepted.map((found) => finding(found, `, ${markdown(found.by)}`)),
    ),
    '',
    countsOf(comparison),
    '',
  ].join('\n');
}

// -- JSON ------------------------------------------------------------------------------------------------------------

export function comparedJson(files: readonly ComparedFile[]): string {
  return json({
    files: files.map(({ comparison, file, was, what }) => ({
      file,
      was,
      what,
      ...comparison,
      plan: comparison.plan.map((change) => ({ ...change, text: `${aboutText(change)}: ${changeText(change)}` })),
    })),
  });
}
