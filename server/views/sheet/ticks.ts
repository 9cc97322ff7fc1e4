/** What to tick off. */
import type { Film } from '../../core/film.ts';
import type { Finding } from '../../core/finding.ts';
import { rules } from '../../rules/index.ts';
import type { SheetBlock } from './blocks.ts';
import { checklists, precautionWords } from './checklist.ts';
import { care } from './findings.ts';

export function tickBlocks(film: Film, findings: readonly Finding[]): SheetBlock[] {
  const said = film.care?.precautions.map((one) => precautionWords[one.value] ?? one.value) ?? [];
  const cautions = [...new Set(findings.filter((one) => care.has(one.rule)).map((one) => one.rule))].map(
    (rule) => `Gone through: ${rules.find((one) => one.id === rule)?.summary ?? rule}`,
  );
  const arranged: SheetBlock[] =
    [...said, ...cautions].length > 0 ? [{ kind: 'ticks', title: 'Precautions', items: [...said, ...cautions] }] : [];
  return [
    ...arranged,
    ...checklists(film).map((list): SheetBlock => ({ kind: 'ticks', ...list })),
    {
      kind: 'text',
      words:
        'Cautions are the usual ones and promise nothing: local codes, the makers of the gear and licensed practice decide.',
    },
  ];
}
