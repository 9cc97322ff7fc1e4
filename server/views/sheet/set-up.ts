/** A set-up on the sheet: its pictures, its lamps and its surroundings. */
import type { Work } from '../../core/derived/changes.ts';
import { type DayPlan, dayPlans } from '../../core/derived/schedule.ts';
import type { Film, LampPlace, Shot } from '../../core/film.ts';
import { isWindow } from '../../core/derived/lamp-size.ts';
import { productPlace } from '../../core/derived/optics.ts';
import { clockText, num } from '../../core/say.ts';
import type { Picture, Source } from '../picture.ts';
import { circuitOf } from '../power.ts';
import { drawAbove } from '../set/above.ts';
import { drawSide } from '../set/side.ts';
import type { SheetBlock, TableBlock } from './blocks.ts';
import { copiesOf, isByTheClock, type Slot, slotsOf, slotText } from './clock.ts';
import { concerns } from './findings.ts';
import { commonOf } from './common.ts';
import { setUpNotes } from './notes.ts';
import { half } from './room.ts';
import { lampWords, placeRows } from './set-up-rows.ts';
import { shotBlocks } from './shot.ts';
import { stepsOf } from './steps.ts';
import { type Swap, swapText } from './swaps.ts';
import { type Common, joined, without } from './words.ts';

export interface SetUpPart {
  readonly work: Work;
  /** Its day and its time there; undefined for what no day has. */
  readonly plan?: DayPlan;
  readonly slot?: Slot | undefined;
  /** When it is done, where that is known. */
  readonly when?: string | undefined;
  readonly heading: string;
}

/** Set-ups in the order of work; those that no day names come last. */
export function partsOf(film: Film): SetUpPart[] {
  const plans = dayPlans(film);
  const parts = plans.flatMap((plan): SetUpPart[] => {
    const slots = new Map(slotsOf(plan, film).map((slot) => [slot.work, slot]));
    return plan.works.map((work) => ({
      work,
      plan,
      slot: slots.get(work),
      heading: headingOf(work, plan, plans),
      when: clockOf(slots.get(work), plan),
    }));
  });
  const planned = new Set(parts.flatMap(({ work }) => work.shots));
  const left = [...film.shots.values()].filter((shot) => !planned.has(shot));
  return left.length > 0 ? [...parts, { work: { shots: left }, heading: 'Not on any day' }] : parts;
}

/** Which day it is where there are several; of two parts of one day the time that stands beside it tells which. */
function headingOf(work: Work, plan: DayPlan, plans: readonly DayPlan[]): string {
  const name = workName(work);
  const isPlain = plans.length === 1 || plans.every((one) => one.number === 1 && isByTheClock(one));
  if (isPlain) return name.slice(0, 1).toUpperCase() + name.slice(1);
  return `Day ${isByTheClock(plan) ? plan.number : plan.called}: ${name}`;
}

function clockOf(slot: Slot | undefined, plan: DayPlan): string | undefined {
  return slot && isByTheClock(plan) ? slotText(slot, plan) : undefined;
}

function workName({ name, shots }: Work): string {
  return name === undefined ? (shots.length === 1 ? 'one shot' : 'all shots') : `set-up ${name}`;
}

/** What a sheet of several set-ups knows. */
interface OnSheet {
  readonly index: number;
  readonly parts: readonly SetUpPart[];
  readonly common: Common;
  readonly swaps: readonly Swap[];
}

export function setUpBlocks(part: SetUpPart, onSheet: OnSheet, film: Film, source: Source): SheetBlock[] {
  const { work, when, heading } = part;
  const { index, parts, common } = onSheet;
  const first = work.shots[0];
  if (!first) return [];
  const counted = parts.length > 1 ? ` (${index + 1} of ${parts.length})` : '';
  const own = new Map([...commonOf(work.shots, film), ...placeRows(first)]);
  const place = without([...own], common);
  const steps = stepsTo(part);
  const shots = work.shots.map((shot, at): SheetBlock => ({
    kind: 'together',
    blocks: shotBlocks(shot, { first, before: work.shots[at - 1] }, film, {
      ...source,
      common: new Map([...common, ...own]),
    }),
  }));
  return [
    { kind: 'page' },
    { kind: 'heading', level: 2, words: joined(heading, when) + counted },
    ...notesBlock(work, film, source),
    ...setUpNotes(work, film),
    ...(steps.length > 0 ? [{ kind: 'ticks', title: 'From the set-up before to this', items: steps } as const] : []),
    ...setBlocks(first, film, source),
    ...lampBlocks(work.shots),
    ...(place.length > 0 ? [{ kind: 'facts', rows: place } as const] : []),
    ...swapBlocks(part, onSheet.swaps),
    ...shots,
  ];
}

/** From the set-up before, on the same day. */
function stepsTo({ work, plan }: SetUpPart): string[] {
  if (!plan) return [];
  const at = plan.works.indexOf(work);
  const from = plan.works[at - 1];
  if (!from) return [];
  const shotsOf = (works: readonly Work[]) => works.flatMap(({ shots }) => shots);
  const [before, later] = [shotsOf(plan.works.slice(0, at)), shotsOf(plan.works.slice(at))];
  return stepsOf({ before, from: from.shots, to: work.shots[0]!, later });
}

/** Cards and batteries that are changed while it is filmed, and copies that are made meanwhile. */
function swapBlocks({ work, plan, slot }: SetUpPart, swaps: readonly Swap[]): SheetBlock[] {
  const own = swaps.filter(({ shot }) => work.shots.includes(shot)).map(swapText);
  const copies = plan && slot && isByTheClock(plan) ? copiesOf(plan, [slot]).filter(({ during }) => during) : [];
  const items = [...own, ...copies.map(({ at }) => `At ${clockText(at)}, between two takes: copy the cards`)];
  return items.length > 0 ? [{ kind: 'ticks', title: 'On the way', items }] : [];
}

/** The set from both sides. */
export function setBlocks(shot: Shot, film: Film, source: Source): SheetBlock[] {
  const picture = (drawn: Picture): SheetBlock[] => [{ kind: 'picture', picture: drawn }];
  const columns = [picture(drawAbove(source, film, shot, half)), picture(drawSide(source, film, shot, half))];
  return [{ kind: 'beside', columns }];
}

/** Which of the first page's notes are about this set-up. */
function notesBlock(work: Work, film: Film, { findings, number }: Source): SheetBlock[] {
  const own = findings.filter((finding) => concerns(finding, work, film)).map((finding) => number!(finding));
  if (own.length === 0) return [];
  return [{ kind: 'text', words: `Numbers are those of the first page; about this set-up: ${own.join(', ')}.` }];
}

/** For a page of its own, which says all of its set-up. */
export function placeBlocks(shot: Shot, film: Film): SheetBlock[] {
  const power = circuitOf(shot, film);
  return [{ kind: 'facts', rows: placeRows(shot) }, ...(power ? [{ kind: 'text', words: power.words } as const] : [])];
}

/** Nothing where no lamp is lit. */
function lampBlocks(shots: readonly Shot[]): SheetBlock[] {
  const table = lampTable(shots);
  return table.rows.length > 0 ? [table] : [];
}

/** Each lamp at each place that any of the shots has lit. */
export function lampTable(shots: readonly Shot[]): TableBlock {
  const lamps = [...new Set(shots.flatMap((shot) => shot.lit))];
  const all = (lamp: LampPlace) => shots.every((shot) => shot.lit.includes(lamp));
  return {
    kind: 'table',
    caption: 'Lamps',
    head: ['Lamp', 'Place', 'Light', 'Held', 'Lit in'],
    rows: lamps.map((lamp) => [
      lampName(lamp),
      [
        lamp.distance?.text,
        lamp.angle && `at ${lamp.angle.text}`,
        lampHeight(lamp, shots),
        lamp.aim === 'backdrop' && 'to the backdrop',
      ]
        .filter(Boolean)
        .join(', '),
      lampWords(lamp),
      [lamp.held, lamp.runsOn].filter((one) => one !== 'nothing').join(', '),
      all(lamp)
        ? 'all'
        : shots
            .filter((shot) => shot.lit.includes(lamp))
            .map((shot) => shot.name)
            .join(', '),
    ]),
  };
}

/** Level with the product where nobody says it; a window is where it is. */
function lampHeight(lamp: LampPlace, shots: readonly Shot[]): string {
  if (lamp.height) return `${lamp.height.text} high`;
  const shot = shots.find(({ lit }) => lit.includes(lamp));
  if (!shot?.subject.box || !lamp.distance || lamp.aim !== 'product' || isWindow(lamp)) return '';
  return `${num(productPlace(shot).y / 10, 1)} cm high (level with the product)`;
}

/** `key (panel), highlight`: what the name says already is not said again. */
function lampName({ name, kitName, role }: LampPlace): string {
  const gear = kitName.value === name ? '' : ` (${kitName.value})`;
  return joined(`${name}${gear}`, role?.value !== name && role?.value !== kitName.value && role?.value);
}
