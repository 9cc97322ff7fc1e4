/** What a hover says: the field's meaning, the numbers that the plan implies there, and why a rule minds. */
import type { CheckResult } from '../core/checker.ts';
import type { Range } from '../core/document/node.ts';
import type { Film } from '../core/film.ts';
import { fieldAt, fieldMarkdown } from '../core/schema/fields.ts';
import { oneLine } from '../formats/escape.ts';
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

/** What has numbers, by the block it stands in: the numbers of the thing under this name or at this position. */
const numbersOf: Readonly<Record<string, (film: Film, name: string | number | undefined) => string[]>> = {
  shots: (film, name) => numbers(film.shots.get(String(name)), (shot) => shotNumbers(shot, film)) ?? filmNumbers(film),
  lamps: (film, name) => numbers(film.lamps.get(String(name)), (lamp) => lampNumbers(lamp, film)) ?? [],
  deliver: (film, name) => numbers(film.deliverables.get(String(name)), deliverableNumbers) ?? [],
  cut: (film, name) => numbers(film.cut[Number(name)], (piece) => pieceNumbers(piece, film)) ?? filmNumbers(film),
  camera: cameraNumbers,
  music: musicNumbers,
  title: filmNumbers,
};

function numbersAt({ film }: CheckResult, [block, name]: readonly (string | number)[]): string[] {
  const of = typeof block === 'string' && Object.hasOwn(numbersOf, block) ? numbersOf[block] : undefined;
  return (film && of?.(film, name)) ?? [];
}

function numbers<T>(thing: T | undefined, of: (thing: T) => string[]): string[] | undefined {
  return thing && of(thing);
}

/** The top's camera has no numbers of its own: those of the first shot stand for it. */
function cameraNumbers(film: Film): string[] {
  const [shot] = film.shots.values();
  return shot ? [`In the first shot, ${shot.name}:`, ...shotNumbers(shot, film)] : [];
}

/** The summary and the Why of a rule's page. */
function whyText(rule: string, page: string | undefined): string | undefined {
  const why = page === undefined ? undefined : /^## Why\n([\s\S]*?)(?=^## )/m.exec(page)?.[1]?.trim();
  return why && `**${rule}**\n\n${why}`;
}

/** Names and texts of the user's own must stay text in Markdown, addresses in them too. */
function escape(text: string): string {
  return oneLine(text)
    .replace(/[\\*_{}[\]<>#!|~&]|`(?=``)/g, '\\$&')
    .replace(/@|:(?=\/\/)|(?<=\bwww)\.|(?<=\bmailto):/gi, (sign) => `&#${sign.charCodeAt(0)};`);
}
