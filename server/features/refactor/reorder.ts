/** Puts the set-ups of a day in the order with the least moving, and the shots in the order in which they are filmed. */
import { startOfLine } from '../../core/document/edits.ts';
import { child, type MapNode, type Pair } from '../../core/document/node.ts';
import type { Doc } from '../../core/document/parse.ts';
import { betterOrders, type DayPlan, dayPlans } from '../../core/derived/schedule.ts';
import type { Film } from '../../core/film.ts';
import type { Edit } from '../../core/finding.ts';
import { materialise } from '../../core/fix.ts';
import { listText, quoted } from '../../core/say.ts';
import { reorder } from '../../rules/logistics/reorder.ts';
import { nodeAt } from '../node-at.ts';
import type { RefactoringRequest, Refactoring } from './refactoring.ts';

/** Of the day in whose block the cursor stands. */
export function reorderDay({ result: { doc, film }, offset }: RefactoringRequest): Refactoring[] {
  const [list, index] = nodeAt(doc.root, offset)?.path ?? [];
  if (list !== 'schedule' || !film) return [];
  const day = typeof index === 'number' ? film.schedule[index] : undefined;
  const plans = dayPlans(film).filter((plan) => plan.day && (index === undefined || plan.day === day));
  return plans.flatMap((plan) => {
    const better = betterOrders(film).get(plan);
    if (!better || better.nowS - better.bestS < 1) return [];
    return reorder(plan, better.works, better.nowS - better.bestS).flatMap((idea) => {
      const fix = materialise(idea, [idea], film, doc.text);
      return fix ? [{ title: fix.title, files: [{ edits: fix.edits }] }] : [];
    });
  });
}

/** All shots of the film: each moves with the comments over it, in it and behind it. */
export function reorderShots({ result: { doc, film }, offset }: RefactoringRequest): Refactoring[] {
  const shots = child(doc.root, 'shots');
  const cursor = nodeAt(doc.root, offset);
  if (cursor?.path[0] !== 'shots' || !film || shots?.kind !== 'map' || shots.alias !== undefined) return [];
  const names = filmedOrder(film);
  const written = shots.pairs.map((pair) => pair.key.text);
  if (names.length !== written.length || names.join() === written.join()) return [];
  const edit = inOrder(doc, shots, names);
  if (!edit) return [];
  return [
    { title: `Write the shots in the order of work: ${listText(names.map(quoted))}`, files: [{ edits: [edit] }] },
  ];
}

/** Day after day, each in the order with the least moving where none is said; what no day does comes last. */
function filmedOrder(film: Film): string[] {
  const works = (plan: DayPlan) => (plan.day?.order ? plan.works : (betterOrders(film).get(plan)?.works ?? plan.works));
  const planned = dayPlans(film).flatMap((plan) => works(plan).flatMap((work) => work.shots.map((shot) => shot.name)));
  return [...new Set([...planned, ...film.shots.keys()])];
}

function inOrder(doc: Doc, shots: MapNode, names: readonly string[]): Edit | undefined {
  const { text } = doc;
  const ownLine = ({ key }: Pair) => text.slice(startOfLine(text, key.start), key.start).trim() === '';
  if (shots.flow || !shots.pairs.every(ownLine)) return undefined;
  const starts = shots.pairs.map((pair, index) => chunkStart(doc, pair, shots.pairs[index - 1]));
  const last = doc.lines.line(shots.pairs.at(-1)!.value.end);
  const end = doc.lines.end(last);
  const newline = text.includes('\r\n') ? '\r\n' : '\n';
  const chunks = new Map(
    shots.pairs.map((pair, index) => [
      pair.key.text,
      withoutLineEnd(text.slice(starts[index], starts[index + 1] ?? end)),
    ]),
  );
  if (chunks.size !== shots.pairs.length) return undefined;
  return { start: starts[0]!, end, text: names.map((name) => chunks.get(name)!).join(newline) };
}

/** A shot starts with the comment lines right over it that are no farther in than its name. */
function chunkStart({ lines, comments }: Doc, { key }: Pair, before: Pair | undefined): number {
  const column = (at: number) => at - lines.start(lines.line(at));
  const over = new Map(comments.filter((one) => one.alone).map((one) => [lines.line(one.start), one]));
  let line = lines.line(key.start);
  const least = before ? lines.line(before.value.end) : -1;
  for (;;) {
    const comment = over.get(line - 1);
    if (!comment || line - 1 <= least || column(comment.start) > column(key.start)) return lines.start(line);
    line--;
  }
}

function withoutLineEnd(text: string): string {
  return text.replace(/\r?\n$/, '');
}
