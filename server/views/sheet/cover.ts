/** The head of the sheet: what the film is, and its days. */
import { type DayPlan, dayPlans, lacksBreak } from '../../core/derived/schedule.ts';
import type { Day, Film } from '../../core/film.ts';
import * as say from '../../core/say.ts';
import type { SheetBlock, TableBlock } from './blocks.ts';
import { copiesOf, isByTheClock, type Slot, slotsOf, slotText, waitsForLight } from './clock.ts';
import { partsOfDay } from './parts-of-day.ts';
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
  const [order, ...below] = orderBlocks(film);
  if (!order) return [rows];
  if (order.rows.length > mostBeside) return [rows, order, ...below];
  return [{ kind: 'beside', columns: [[rows], [order, ...below]] }];
}

/** More lines than these have room beside the facts. */
const mostBeside = 14;

/** The set-ups in order, each with its time, and what is changed on the way; then what each day's time is made of. */
function orderBlocks(film: Film): [] | [TableBlock, ...SheetBlock[]] {
  const plans = dayPlans(film).filter((plan) => plan.works.length > 0);
  const [first, ...others] = plans;
  if (!first) return [];
  const below = plans.map((plan): SheetBlock => {
    return { kind: 'text', words: dayWords(plan, film, others.length > 0 ? dayName(plan) : '') };
  });
  if (others.length === 0) {
    const when = first.day ? ` on ${dayName(first)}` : '';
    return [table(`Order of work${when}`, ['When', 'Set-up'], linesOf(first, film)), ...below];
  }
  const rows = plans.flatMap((plan) =>
    linesOf(plan, film).map((line, index) => [index === 0 ? dayName(plan) : '', ...line]),
  );
  return [table('Order of work', ['Day', 'When', 'Set-up'], rows), ...below];
}

function table(caption: string, head: string[], rows: readonly (readonly string[])[]): TableBlock {
  return { kind: 'table', caption, head, rows };
}

function linesOf(plan: DayPlan, film: Film): string[][] {
  const slots = slotsOf(plan, film);
  if (!isByTheClock(plan)) return inOrder(plan, slots, film);
  const swaps = swapsOf(plan, film);
  const lines = [
    ...slots.map((slot) => ({ at: slot.from, line: [slotText(slot, plan), slot.name] })),
    ...swaps.map((swap) => ({ at: swap.at!, line: [whenText(swap), swap.words] })),
    ...copiesOf(plan, slots).map(({ at, during }) => ({
      at,
      line: [say.clockText(at), during ? `copies, in the middle of ${during.name}` : 'copies'],
    })),
  ];
  return lines.sort((a, b) => a.at - b.at).map(({ line }) => line);
}

/** Where light is waited for, nobody knows where the breaks come. */
function inOrder(plan: DayPlan, slots: readonly Slot[], film: Film): string[][] {
  const swaps = swapsOf(plan, film);
  const ordered = waitsForLight(plan) ? [...slots.filter(isWork), ...slots.filter((slot) => !isWork(slot))] : slots;
  return ordered.flatMap((slot) => [
    [slotText(slot, plan), slot.name],
    ...swaps.flatMap((swap) => (slot.work?.shots.includes(swap.shot) ? [['', swap.words]] : [])),
  ]);
}

function isWork({ work }: Slot): boolean {
  return work !== undefined;
}

function dayName({ day, called }: DayPlan): string {
  if (!day) return '';
  return [day.day ? say.dateText(day.day.value) : `day ${called}`, hours(day)].filter(Boolean).join(', ');
}

/** How long a day is and of what, and what the clock has to do with it. */
function dayWords(plan: DayPlan, film: Film, when: string): string {
  const copies = isByTheClock(plan) ? [] : (plan.day?.offload ?? []).map(({ value }) => say.clockText(value));
  return [
    partsOfDay(plan, film, when),
    ...(lacksBreak(plan, film) ? ['Breaks come on top: the plan says none.'] : []),
    ...(plan.day?.hours && waitsForLight(plan)
      ? [
          'The set-ups have different daylight, and the plan does not say at what time: the light decides when each begins.',
        ]
      : []),
    ...(copies.length > 0 ? [`Copies at ${say.listText(copies)}.`] : []),
  ].join(' ');
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
