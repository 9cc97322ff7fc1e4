/** The head of the sheet: what the film is, and its days. */
import { type DayPlan, dayPlans, dayTime } from '../../core/derived/schedule.ts';
import type { Day, Film } from '../../core/film.ts';
import * as say from '../../core/say.ts';
import type { SheetBlock, TableBlock } from './blocks.ts';
import { clockText, slotsOf, slotText } from './clock.ts';
import { swapsOf, whenText } from './swaps.ts';
import { filled, names } from './words.ts';

export function cover(film: Film): SheetBlock[] {
  const { brief, product } = film;
  const facts: [string, string][] = [
    ['Client', brief?.client?.value ?? ''],
    ['Due', brief?.due ? say.dateText(brief.due.value) : ''],
    [
      'Product',
      [product.size?.text, product.finish, product.weight?.text, product.fields.text('contents')?.value]
        .filter(Boolean)
        .join(', '),
    ],
    ['Handle with care', product.hazards.map((one) => one.value).join(', ')],
    ['Product is here', stay(film)],
    ['Must be shown', names(brief?.mustShow)],
    ['Must not be shown', names(brief?.mustNotShow)],
    ['Mains', mains(film)],
    [
      'Deliverables',
      [...film.deliverables.values()]
        .map((one) => [one.name, one.raster?.text, one.length?.text].filter(Boolean).join(' '))
        .join('; '),
    ],
  ];
  const rows: SheetBlock = { kind: 'facts', rows: filled(facts) };
  const order = orderBlock(film);
  if (!order || order.rows.length > mostBeside) return order ? [rows, order] : [rows];
  return [{ kind: 'beside', columns: [[rows], [order]] }];
}

/** More lines than these have room beside the facts. */
const mostBeside = 14;

/** The set-ups in order, each with its time, and what is changed on the way. */
function orderBlock(film: Film): TableBlock | undefined {
  const plans = dayPlans(film).filter((plan) => plan.works.length > 0);
  const lines = plans.map((plan) => ({ plan, lines: linesOf(plan, film) }));
  if (lines.length === 0) return undefined;
  const [only] = lines;
  if (lines.length === 1 && only) {
    const when = only.plan.day ? ` on ${dayName(only.plan)}` : '';
    return table(`Order of work${when}: ${needWords(only.plan, film, false)}`, ['When', 'Set-up'], only.lines);
  }
  const needed = plans.map((plan) => needWords(plan, film, true)).join('; ');
  const rows = lines.flatMap(({ plan, lines }) =>
    lines.map((line, index) => [index === 0 ? dayName(plan) : '', ...line]),
  );
  return table(`Order of work: ${needed}`, ['Day', 'When', 'Set-up'], rows);
}

function table(caption: string, head: string[], rows: readonly (readonly string[])[]): TableBlock {
  return { kind: 'table', caption, head, rows };
}

function linesOf(plan: DayPlan, film: Film): string[][] {
  const swaps = swapsOf(plan, film);
  return slotsOf(plan, film).flatMap((slot) => [
    [slotText(slot, plan), slot.name],
    ...swaps.flatMap((swap) => (slot.work?.shots.includes(swap.shot) ? [[whenText(swap), swap.words]] : [])),
  ]);
}

function dayName({ day, number }: DayPlan): string {
  if (!day) return '';
  return [day.day ? say.dateText(day.day.value) : `day ${number}`, hours(day)].filter(Boolean).join(', ');
}

function needWords(plan: DayPlan, film: Film, isOfMany: boolean): string {
  const offload = plan.day?.offload?.map(({ value }) => clockText(value)) ?? [];
  const copies = offload.length > 0 ? `, copies at ${say.listText(offload)}` : '';
  return `${isOfMany ? `day ${plan.number} ` : ''}about ${say.hoursText(dayTime(plan, film).totalS)}${copies}`;
}

function hours(day: Day | undefined): string {
  const written = day?.hours;
  if (!written) return '';
  return written.value.to >= 24 * 60 ? `${written.text} (next day)` : written.text;
}

/** A place, with its frequency where that is not written. */
function mains({ region, mainsHz }: Film): string {
  if (!region || !mainsHz || /Hz/.test(region.text)) return region?.text ?? '';
  return `${region.text}, ${say.num(mainsHz)} Hz`;
}

function stay({ product: { arrives, returns } }: Film): string {
  const parts = [arrives && `from ${say.dateText(arrives.value)}`, returns && `until ${say.dateText(returns.value)}`];
  return parts.filter(Boolean).join(' ');
}
