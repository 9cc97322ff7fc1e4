/** What was found, once and first; and what stays as it is. */
import type { CheckResult } from '../../core/checker.ts';
import type { Work } from '../../core/derived/changes.ts';
import type { Range } from '../../core/document/node.ts';
import type { Film } from '../../core/film.ts';
import type { Finding, Severity } from '../../core/finding.ts';
import { inPrint } from '../../core/say.ts';
import { rules } from '../../rules/index.ts';
import { blockRange, type Source } from '../picture.ts';
import type { SheetBlock } from './blocks.ts';
import { plain } from './words.ts';

export const care: ReadonlySet<string> = new Set(rules.filter((rule) => rule.family === 'care').map((rule) => rule.id));

/** Is a finding about a set-up: about its shots, or written in them or in something that they use? */
export function concerns(finding: Finding, { name, shots }: Work, film: Film): boolean {
  if (finding.shots) return shots.some((shot) => finding.shots!.includes(shot.name));
  const holds = (range: Range | undefined) =>
    range !== undefined && range.start <= finding.start && finding.end <= range.end;
  const setUp = name === undefined ? undefined : film.setUps.get(name);
  const blocks = shots.flatMap((shot) => [
    blockRange(shot),
    ...shot.lit.map(blockRange),
    blockRange(shot.backdrop),
    blockRange(shot.surface),
  ]);
  return [...blocks, blockRange(setUp)].some(holds);
}

/** What must be put right, then what should be, then what to mind on set. */
export function findingBlocks({ findings, number }: Source): SheetBlock[] {
  const groups: [string, (finding: Finding) => boolean][] = [
    ['To put right first', ({ severity }) => severity === 'error'],
    ['To put right, or to mean', ({ severity }) => severity === 'warning'],
    ['Cautions', (finding) => isMild(finding.severity) && care.has(finding.rule)],
    ['To know', (finding) => isMild(finding.severity) && !care.has(finding.rule)],
  ];
  return groups.flatMap(([title, isIn]): SheetBlock[] => {
    const items = findings
      .filter(isIn)
      .map((one) => ({ number: number!(one), severity: one.severity, words: inPrint(one.message) }));
    return items.length > 0 ? [{ kind: 'findings', title, items }] : [];
  });
}

function isMild(severity: Severity): boolean {
  return severity === 'info' || severity === 'hint';
}

export function silencedBlock({ silenced }: CheckResult): SheetBlock[] {
  if (silenced.length === 0) return [];
  const why = ({ by }: (typeof silenced)[number]) =>
    by.kind === 'on-purpose' ? `on purpose: ${plain(by.word)}` : `accepted: ${by.reason}`;
  const rows = silenced.map((one) => [inPrint(one.finding.message), why(one)]);
  return [{ kind: 'table', caption: 'Meant that way', head: ['What was found', 'Why it stays'], rows }];
}
