/** What a hover says: the field's meaning, the numbers that the plan implies there, and why a rule minds. */
import type { CheckResult } from '../core/checker.ts';
import type { Range } from '../core/document/node.ts';
import { fieldAt, fieldMarkdown } from '../core/schema/fields.ts';
import { cursorAt } from './cursor.ts';
import { deliverableNumbers, filmNumbers, lampNumbers, musicNumbers, pieceNumbers, shotNumbers } from './numbers.ts';

export interface Hover {
  readonly markdown: string;
  readonly range: Range;
}

/** @param page the Markdown page of a rule, where there is one */
export function hoverAt(
  result: CheckResult,
  offset: number,
  page: (rule: string) => string | undefined,
): Hover | undefined {
  const cursor = cursorAt(result.doc.root, offset);
  const findings = result.findings.filter((finding) => finding.start <= offset && offset <= finding.end);
  if (!cursor && findings.length === 0) return undefined;
  const field = cursor && fieldAt(result.kind, cursor.path);
  const numbers = cursor ? numbersAt(result, cursor.path) : [];
  const why = [...new Set(findings.map((finding) => finding.rule))].flatMap((rule) => whyText(rule, page(rule)) ?? []);
  const parts = [
    ...(field ? [fieldMarkdown(field)] : []),
    ...(numbers.length > 0 ? [numbers.map((line) => `- ${escape(line)}`).join('\n')] : []),
    ...why,
  ];
  const range = cursor?.range ?? findings[0]!;
  return parts.length > 0
    ? { markdown: parts.join('\n\n---\n\n'), range: { start: range.start, end: range.end } }
    : undefined;
}

/** The numbers for what a path leads through: the innermost thing that has any. */
function numbersAt({ film }: CheckResult, path: readonly (string | number)[]): string[] {
  if (!film) return [];
  const [block, name] = path;
  if (block === 'shots' && typeof name === 'string') {
    const shot = film.shots.get(name);
    return shot ? shotNumbers(shot) : [];
  }
  if (block === 'lamps' && typeof name === 'string') {
    const lamp = film.lamps.get(name);
    return lamp ? lampNumbers(lamp, film) : [];
  }
  if (block === 'deliver' && typeof name === 'string') {
    const deliverable = film.deliverables.get(name);
    return deliverable ? deliverableNumbers(deliverable) : [];
  }
  if (block === 'cut' && typeof name === 'number') {
    const piece = film.cut[name];
    return piece ? pieceNumbers(piece, film) : [];
  }
  if (block === 'music') return musicNumbers(film);
  if (block === 'camera') return cameraNumbers(film);
  return block === 'title' || block === 'cut' || block === 'shots' ? filmNumbers(film) : [];
}

/** The top's camera has no numbers of its own: those of the first shot stand for it. */
function cameraNumbers(film: NonNullable<CheckResult['film']>): string[] {
  const [shot] = film.shots.values();
  return shot ? [`In the first shot, ${shot.name}:`, ...shotNumbers(shot)] : [];
}

/** The summary and the Why of a rule's page. */
function whyText(rule: string, page: string | undefined): string | undefined {
  const why = page === undefined ? undefined : /^## Why\n([\s\S]*?)(?=^## )/m.exec(page)?.[1]?.trim();
  return why && `**${rule}**\n\n${why}`;
}

/** Names and texts of the user's own must stay text in Markdown. */
function escape(text: string): string {
  return text.replace(/[\\*_{}[\]<>#!|~]/g, '\\$&');
}
