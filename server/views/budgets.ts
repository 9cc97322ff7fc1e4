/** What the plan uses up against what there is: cards, batteries, the circuit, the day, the files. */
import { shownStretch } from '../core/derived/edit.ts';
import { greatestLoads, loadsOf } from '../core/derived/loads.ts';
import { type DayPlan, dayPlans, dayTime } from '../core/derived/schedule.ts';
import { batterySharings, cardSharings, longestStretch } from '../core/derived/supplies.ts';
import type { Deliverable, Film } from '../core/film.ts';
import * as say from '../core/say.ts';
import { fileBytes, fileS } from '../core/derived/file.ts';
import { fitted, textWidth } from './measure.ts';
import {
  assign,
  blockRange,
  heading,
  margin,
  marksRow,
  type Noted,
  pageWidth,
  type Picture,
  type Place,
  type Source,
} from './picture.ts';
import { circuitVa, plainName } from './power.ts';
import { cornersOf, hatch } from './shapes.ts';
import { type El, from, ink, line, polygon, strokes, text } from './svg.ts';

const left = 230;
const barWidth = 400;

/** Share of cards and batteries that is counted on (common practice, no source). */
const usable = { card: 0.95, battery: 0.8 };

interface Part {
  readonly name: string;
  readonly size: number;
  /** Its size in words. */
  readonly words: string;
}

interface Budget extends Place {
  readonly group: string;
  readonly name: string;
  readonly parts: readonly Part[];
  /** What there is; undefined where nobody says. */
  readonly has?: number;
  readonly words: string;
}

export function drawBudgets(source: Source, film: Film): Picture {
  const budgets = [...storage(film), ...batteries(film), ...power(film), ...time(film), ...files(film)];
  const { noted, at } = assign(source, budgets);
  const body: El[] = [
    heading(
      'Budgets',
      'A bar is what is used; the upright stroke is what there is; crossed is what does not fit',
      undefined,
    ),
  ];
  let y = 78;
  let group = '';
  for (const budget of budgets) {
    if (budget.group !== group) {
      y += group ? 12 : 0;
      group = budget.group;
      body.push(text({ x: margin, y: y + 12 }, group, { size: 13, bold: true }));
      y += 22;
    }
    body.push(...drawBudget(budget, y, at(budget)));
    y += 42;
  }
  if (budgets.length === 0) {
    body.push(
      text({ x: margin, y: y + 14 }, 'Nothing to reckon yet: no takes, no circuit, no days, no bitrates.', {
        size: 12,
      }),
    );
    y += 30;
  }
  return {
    view: 'budgets',
    title: 'Budgets',
    description: budgets.map((one) => `${one.group}, ${one.name}: ${one.words}.`).join(' ') || 'Nothing to reckon yet.',
    width: pageWidth,
    height: y + 6,
    body,
    noted,
  };
}

function total({ parts }: Pick<Budget, 'parts'>): number {
  return parts.reduce((sum, part) => sum + part.size, 0);
}

function drawBudget(budget: Budget, y: number, noted: readonly Noted[]): El[] {
  const { name, parts, has, words } = budget;
  const sum = total(budget);
  const most = Math.max(sum, has ?? sum, 1e-9);
  const scale = (size: number) => (size / most) * barWidth;
  const range = budget.ranges.find((one) => one !== undefined);
  const drawn: El[] = [text({ x: margin + 10, y: y + 15 }, fitted(name, 12, left - margin - 18), { size: 12 })];
  let x = left;
  for (const [index, part] of parts.entries()) {
    const width = scale(part.size);
    const box = cornersOf({ x, y: y + 2, width, height: 18 });
    drawn.push(polygon(box, { fill: index % 2 === 0 ? ink.faint : ink.shade, stroke: ink.ink }));
    x += width;
  }
  if (has !== undefined) {
    if (has > sum)
      drawn.push(polygon(cornersOf({ x, y: y + 2, width: scale(has - sum), height: 18 }), { stroke: ink.faint }));
    const end = left + scale(has);
    if (sum > has * (1 + 1e-6)) {
      const over = cornersOf({ x: end, y: y + 2, width: scale(sum - has), height: 18 });
      const style = { stroke: ink.alarm, 'stroke-width': 1.2 };
      drawn.push(
        polygon(over, { stroke: ink.alarm, 'stroke-width': 2 }),
        strokes([...hatch(over, 6, 45), ...hatch(over, 6, 135)], style),
      );
    }
    drawn.push(line({ x: end, y: y - 2 }, { x: end, y: y + 25 }, { 'stroke-width': 3 }));
  }
  const at = left + barWidth + 14;
  const room = pageWidth - margin - at - noted.length * 25;
  const fits = textWidth(words, 12) <= room;
  const said = text(
    fits ? { x: at, y: y + 15 } : { x: left, y: y + 35 },
    fitted(words, 12, pageWidth - margin - left),
    { size: 12 },
  );
  const marksX = fits ? at + textWidth(words, 12) + 16 : at + 12;
  if (fits && parts.length > 1) {
    const each = parts.map((part) => `${part.name} ${part.words}`).join(', ');
    drawn.push(text({ x: left, y: y + 34 }, fitted(each, 11, pageWidth - margin - left), { size: 11, fill: ink.soft }));
  }
  return [from(range, [...drawn, said]), ...marksRow({ x: marksX, y: y + 11 }, noted)];
}

function dayName({ day, number }: DayPlan): string {
  return day ? `day ${number}${day.day ? `, ${say.dateText(day.day.value)}` : ''}` : 'all shots';
}

function against(used: string, has: string | undefined, over: string | undefined): string {
  if (!has) return used;
  return over ? `${used} of ${has}: ${over} too much` : `${used} of ${has}`;
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
        words: against(used(needs), has === undefined ? undefined : `${say.bytesText(has)} of use`, over),
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
          words: against(`${say.num(needs)} Wh${time}`, `${say.num(has)} Wh of use`, over),
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
