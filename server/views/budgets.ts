/** What the plan uses up against what there is: cards, batteries, the circuit, the day, the files. */
import { shownStretch } from '../core/derived/edit.ts';
import { greatestLoads, loadsOf } from '../core/derived/electrical-loads.ts';
import { type DayPlan, dayPlans, dayTime } from '../core/derived/schedule.ts';
import { batterySharings, cardSharings, longestStretch } from '../core/derived/supplies.ts';
import type { Deliverable, Film } from '../core/film.ts';
import * as say from '../core/say.ts';
import { fileBytes, fileS } from '../core/derived/file.ts';
import { letters, type Page, type Room, usualRoom } from './page.ts';
import { blockRange, type Drawn, type Noted, paragraph, type Picture, type Source } from './picture.ts';
import { circuitVa, plainName } from './power.ts';
import { drawRows, type Row } from './rows.ts';
import { cornersOf, type Frame, hatch } from './shapes.ts';
import { type El, from, ink, line, polygon, strokes } from './svg.ts';

/** Share of cards and batteries that is counted on (common practice, no source). */
const usable = { card: 0.95, battery: 0.8 };

interface Part {
  readonly name: string;
  readonly size: number;
  /** Its size in words. */
  readonly words: string;
}

interface Budget extends Row {
  readonly parts: readonly Part[];
  /** What there is; undefined where nobody says. */
  readonly has?: number;
}

export function drawBudgets(source: Source, film: Film, room: Room = usualRoom): Picture {
  const rows = [...storage(film), ...batteries(film), ...power(film), ...time(film), ...files(film)];
  return drawRows(source, room, {
    view: 'budgets',
    title: 'Budgets',
    legend: rows.some((one) => one.has !== undefined) ? legend : undefined,
    nothing: 'Nothing to reckon yet: no takes, no circuit, no days, no bitrates.',
    rows,
    draw: drawBudget,
  });
}

const legend = 'A bar is what is used, the upright stroke what there is; crossed is what does not fit';

function total({ parts }: Pick<Budget, 'parts'>): number {
  return parts.reduce((sum, part) => sum + part.size, 0);
}

/** Its name before it and its words behind it, or both above it where the page is narrow. Without a limit only words. */
function drawBudget(budget: Budget, page: Page, y: number, noted: readonly Noted[]): Drawn {
  const { parts, has } = budget;
  const bar = { y: y + 3, height: 18 };
  const each = parts.length > 1 ? parts.map((part) => `${part.name} ${part.words}`).join(', ') : '';
  if (page.narrow) {
    const left = page.left + 8;
    const said = paragraph({ x: left, y }, page, `${budget.name}: ${budget.words}`, { range: rangeOf(budget), noted });
    const box = { x: left, y: said.bottom + 6, width: page.right - left - 4, height: bar.height };
    const drawn = has === undefined ? [] : [from(rangeOf(budget), barOf(budget, has, box))];
    const below = partsWords(each, left, has === undefined ? said.bottom : box.y + 24, page, rangeOf(budget));
    return { body: [...said.body, ...drawn, ...below.body], bottom: below.bottom };
  }
  const left = page.left + 216;
  const width = Math.min(420, page.inner * 0.42);
  const style = { range: rangeOf(budget) };
  const head = paragraph({ x: page.left + 10, y }, page, budget.name, { ...style, right: left - 12 });
  const after = { x: has === undefined ? left : left + width + 14, y };
  const said = paragraph(after, page, budget.words, { ...style, noted });
  const drawn = has === undefined ? [] : [from(style.range, barOf(budget, has, { x: left, width, ...bar }))];
  const barBottom = has === undefined ? y : bar.y + 24;
  const below = partsWords(each, left, Math.max(barBottom, said.bottom), page, style.range);
  return { body: [...head.body, ...drawn, ...said.body, ...below.body], bottom: Math.max(head.bottom, below.bottom) };
}

function rangeOf({ ranges }: Budget): Budget['ranges'][number] {
  return ranges.find((one) => one !== undefined);
}

function partsWords(words: string, x: number, y: number, page: Page, range: Budget['ranges'][number]): Drawn {
  if (!words) return { body: [], bottom: y };
  return paragraph({ x, y }, page, words, { range, size: letters.small, fill: ink.soft });
}

/** What is used, part by part, against the stroke of what there is. */
function barOf(budget: Budget, has: number, { x: left, y, width, height }: Frame): El[] {
  const sum = total(budget);
  const scale = (size: number) => (size / Math.max(sum, has, 1e-9)) * width;
  let x = left;
  const drawn: El[] = budget.parts.map((part, index) => {
    const box = cornersOf({ x, y, width: scale(part.size), height });
    x += scale(part.size);
    return polygon(box, { fill: index % 2 === 0 ? ink.faint : ink.shade, stroke: ink.ink });
  });
  const end = left + scale(has);
  if (has > sum) drawn.push(polygon(cornersOf({ x, y, width: end - x, height }), { stroke: ink.faint }));
  if (sum > has * (1 + 1e-6)) drawn.push(...tooMuch({ x: end, y, width: scale(sum - has), height }));
  return [...drawn, line({ x: end, y: y - 3 }, { x: end, y: y + height + 3 }, { 'stroke-width': 3 })];
}

function tooMuch(frame: Frame): El[] {
  const over = cornersOf(frame);
  const lines = [...hatch(over, 6, 45), ...hatch(over, 6, 135)];
  return [
    polygon(over, { stroke: ink.alarm, 'stroke-width': 2 }),
    strokes(lines, { stroke: ink.alarm, 'stroke-width': 1.2 }),
  ];
}

function dayName({ day, called }: DayPlan): string {
  return day ? `day ${called}${day.day ? `, ${say.dateText(day.day.value)}` : ''}` : 'all shots';
}

function against(used: string, has: string | undefined, over: string | undefined): string {
  if (!has) return used;
  // After more words, what there is would be read as theirs.
  const of = /^\S+ \S+$/.test(used) ? ' of ' : ', of ';
  return `${used}${of}${has}${over ? `: ${over} too much` : ''}`;
}

function storage(film: Film): Budget[] {
  return dayPlans(film).flatMap((plan) => {
    const stretch = longestStretch(plan);
    return cardSharings(plan, film).map(({ users, supplies: cards }): Budget => {
      const known = cards.length > 0 && cards.every((card) => card.holds);
      const has = known
        ? cards.reduce((sum, card) => sum + card.holds!.value * card.count, 0) * usable.card
        : undefined;
      const needs = users.reduce((sum, one) => sum + one.bytes, 0) * stretch;
      const over = has !== undefined && needs > has * (1 + 1e-6) ? say.bytesText(needs - has) : undefined;
      const used = (bytes: number) => `${say.bytesText(bytes)}${stretch < 1 ? ' between copies' : ''}`;
      const cameras = users.map(({ name }) => name);
      const shots = plan.shots.filter((shot) => cameras.includes(shot.camera.body?.name ?? ''));
      return {
        group: 'Cards',
        name: `${say.listText(cameras)}, ${dayName(plan)}`,
        parts: users.map(({ name, bytes }) => ({ name, size: bytes * stretch, words: used(bytes * stretch) })),
        ...(has !== undefined && { has }),
        words: against(used(needs), has === undefined ? undefined : `${say.bytesText(has)} usable`, over),
        ranges: [
          ...(plan.day?.cards ?? []),
          plan.day?.offload?.[0],
          ...shots.flatMap((shot) => [shot.takesAt, shot.record]),
        ],
      };
    });
  });
}

function batteries(film: Film): Budget[] {
  return dayPlans(film).flatMap((plan) =>
    batterySharings(plan, film, usable.battery).flatMap(({ users, supplies: packs }): Budget[] => {
      if (packs.some((pack) => !pack.energy)) return [];
      const sharedWh = packs.reduce((sum, pack) => sum + pack.energy!.value * pack.count, 0);
      const only = users.length === 1 ? users[0] : undefined;
      // Of several that share, only what their own batteries do not give is drawn.
      const parts = users.map(({ device: { name }, needWh, restWh }) => {
        const size = only ? needWh : restWh;
        return { name, size, words: `${say.num(size)} Wh` };
      });
      const needs = parts.reduce((sum, part) => sum + part.size, 0);
      const has = (sharedWh + (only?.device.ownWh ?? 0)) * usable.battery;
      const over = needs > has * (1 + 1e-6) ? `${say.num(needs - has)} Wh` : undefined;
      const time = only ? ` in ${say.hoursText(only.onS)}` : '';
      return [
        {
          group: 'Batteries',
          name: `${say.listText(parts.map((part) => part.name))}, ${dayName(plan)}`,
          parts,
          has,
          words: against(`${say.num(needs)} Wh${time}`, `${say.num(has)} Wh usable`, over),
          ranges: [...(plan.day?.batteries ?? [])],
        },
      ];
    }),
  );
}

function power(film: Film): Budget[] {
  const { shot } = greatestLoads(film);
  if (!shot) return [];
  const { loads, va } = loadsOf(shot, film);
  const has = circuitVa(film);
  const { care } = film;
  if (loads.length === 0) return [];
  const over = has !== undefined && va > has * (1 + 1e-6) ? `${say.num(va - has, 0)} VA` : undefined;
  return [
    {
      group: 'Power at once',
      name: `circuit${care?.circuit ? ` of ${care.circuit.text}` : ''}, ${shot.name}`,
      parts: loads.map((load) => ({
        name: plainName(load.name),
        size: load.va,
        words: `${say.num(load.va, 0)} VA`,
      })),
      ...(has !== undefined && { has }),
      words: against(`${say.num(va, 0)} VA`, has === undefined ? undefined : `${say.num(has, 0)} VA`, over),
      ranges: [care?.circuit, care?.alsoOnCircuit, care?.cableReel, blockRange(care)],
    },
  ];
}

function time(film: Film): Budget[] {
  return dayPlans(film)
    .filter((plan) => plan.works.length > 0)
    .map((plan): Budget => {
      const spent = dayTime(plan, film);
      const parts = [
        { name: 'building', size: spent.buildS },
        { name: 'changes', size: spent.changesS },
        { name: 'takes', size: spent.takesS },
        { name: 'cleaning', size: spent.cleaningS },
        { name: 'breaks', size: spent.breaksS },
      ].flatMap((part) => (part.size > 0 ? [{ ...part, words: say.hoursText(part.size) }] : []));
      const hours = plan.day?.hours?.value;
      const has = hours && hours.to > hours.from ? (hours.to - hours.from) * 60 : undefined;
      const over = has !== undefined && spent.totalS > has ? say.hoursText(spent.totalS - has) : undefined;
      const end = has === undefined ? undefined : say.hoursText(has);
      return {
        group: 'Time',
        name: dayName(plan),
        parts,
        ...(has !== undefined && { has }),
        words: against(`about ${say.hoursText(spent.totalS)}`, end, over),
        ranges: [plan.day?.hours, blockRange(plan.day)],
      };
    });
}

function files(film: Film): Budget[] {
  return [...film.deliverables.values()].flatMap((one): Budget[] => {
    const bytes = fileBytes(one, film);
    if (bytes === undefined) return [];
    const has = one.largestFile?.value;
    const over = has !== undefined && bytes > has ? say.bytesText(bytes - has) : undefined;
    return [
      {
        group: 'Files',
        name: `${one.name}, ${say.secondsText(fileS(one, film)!)}${sectionWords(one, film)}`,
        parts: [{ name: one.name, size: bytes, words: say.bytesText(bytes) }],
        ...(has !== undefined && { has }),
        words: against(say.bytesText(bytes), one.largestFile?.text, over),
        ranges: [one.bitrate, one.largestFile],
      },
    ];
  });
}

function sectionWords(one: Deliverable, film: Film): string {
  const stretch = shownStretch(one, film);
  return stretch && one.section ? ` from ${say.num(stretch.from)} s on` : '';
}
