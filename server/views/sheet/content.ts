/** The sheet to take on set: what must be put right, the film, each set-up on its page, then papers and what to tick off. */
import type { CheckResult } from '../../core/checker.ts';
import { dayPlans } from '../../core/derived/schedule.ts';
import type { Film } from '../../core/film.ts';
import type { Finding } from '../../core/finding.ts';
import { drawBudgets } from '../budgets.ts';
import { drawTaken } from '../taken.ts';
import { drawTimeline } from '../timeline/index.ts';
import type { Sheet, SheetBlock } from './blocks.ts';
import { commonBlocks, commonOf, litBlock } from './common.ts';
import { cover } from './cover.ts';
import { findingBlocks, silencedBlock } from './findings.ts';
import { filmNotes } from './notes.ts';
import { packingBlocks } from './packing.ts';
import { deliverableBlocks, rightsBlocks } from './papers.ts';
import { half, paper } from './room.ts';
import { partsOf, setUpBlocks } from './set-up.ts';
import { swapsOf } from './swaps.ts';
import { tickBlocks } from './ticks.ts';

/**
 * The sheet of a spec that could be read. Every finding is said once, on the first page, and numbered in the pictures.
 * @param isLit with each shot as its camera will see it: pixels, which not every paper takes
 */
export function sheetOf(result: CheckResult, film: Film, isLit = false): Sheet {
  const title = film.title?.value ?? 'Shoot';
  const { findings } = result;
  const numbers = new Map(findings.map((finding, index) => [finding, index + 1]));
  const source = { findings, number: (finding: Finding) => numbers.get(finding) ?? 0 };
  const parts = partsOf(film);
  const common = commonOf([...film.shots.values()], film);
  const swaps = dayPlans(film).flatMap((plan) => swapsOf(plan, film));
  const { sheets = [] } = result;
  const taken: SheetBlock[] =
    sheets.length > 0 ? [{ kind: 'picture', picture: drawTaken({ ...source, sheets }, film, paper) }] : [];
  const budgets = drawBudgets(source, film, half);
  return {
    title,
    blocks: [
      { kind: 'heading', level: 1, words: title },
      ...findingBlocks(source),
      ...cover(film),
      ...filmNotes(film),
      ...packingBlocks(film),
      ...commonBlocks(film, common),
      ...litBlock(isLit && film.shots.size > 0),
      ...taken,
      { kind: 'picture', picture: drawTimeline(source, film, paper) },
      ...parts.flatMap((part, index) => setUpBlocks(part, { index, parts, common, swaps }, film, { ...source, isLit })),
      // On the last page of the set-ups, where that has room.
      { kind: 'heading', level: 2, words: 'Files and papers' },
      ...deliverableBlocks(film),
      ...rightsBlocks(film),
      ...silencedBlock(result),
      {
        kind: 'together',
        blocks: [
          { kind: 'heading', level: 2, words: 'To tick off' },
          {
            kind: 'beside',
            columns: [tickBlocks(film, findings, result.forSet), [{ kind: 'picture', picture: budgets }]],
          },
        ],
      },
    ],
  };
}
