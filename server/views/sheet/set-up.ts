/** A set-up on the sheet: its pictures, its lamps and its surroundings. */
import type { Work } from '../../core/derived/changes.ts';
import { type DayPlan, dayPlans } from '../../core/derived/schedule.ts';
import type { Film, LampPlace, Shot } from '../../core/film.ts';
import type { Picture, Source } from '../picture.ts';
import { circuitOf } from '../power.ts';
import { drawAbove } from '../set/above.ts';
import { drawSide } from '../set/side.ts';
import type { SheetBlock, TableBlock } from './blocks.ts';
import { type Slot, slotsOf, slotText } from './clock.ts';
import { concerns } from './findings.ts';
import { half } from './room.ts';
import { shotBlocks } from './shot.ts';
import { filled, joined, names } from './words.ts';

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
      heading: `${plan.day ? `Day ${plan.number}: ` : ''}${workName(work)}`,
      when: clockOf(slots.get(work), plan),
    }));
  });
  const planned = new Set(parts.flatMap(({ work }) => work.shots));
  const left = [...film.shots.values()].filter((shot) => !planned.has(shot));
  return left.length > 0 ? [...parts, { work: { shots: left }, heading: 'Not on any day' }] : parts;
}

function clockOf(slot: Slot | undefined, plan: DayPlan): string | undefined {
  return slot && plan.day?.hours ? slotText(slot, plan) : undefined;
}

function workName({ name, shots }: Work): string {
  return name === undefined ? (shots.length === 1 ? 'one shot' : 'all shots') : `set-up ${name}`;
}

export function setUpBlocks(
  { work, when, heading }: SetUpPart,
  { index, count }: { readonly index: number; readonly count: number },
  film: Film,
  source: Source,
): SheetBlock[] {
  const first = work.shots[0];
  if (!first) return [];
  const counted = count > 1 ? ` (${index + 1} of ${count})` : '';
  return [
    { kind: 'page' },
    { kind: 'heading', level: 2, words: joined(heading, when) + counted },
    ...notesBlock(work, film, source),
    ...setBlocks(first, film, source),
    lampTable(work.shots),
    ...placeBlocks(first, film),
    ...work.shots.map((shot): SheetBlock => ({ kind: 'together', blocks: shotBlocks(shot, first, film, source) })),
  ];
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

export function placeBlocks(shot: Shot, film: Film): SheetBlock[] {
  const rows: [string, string][] = [
    ['Backdrop', backdropWords(shot)],
    ['Surface', surfaceWords(shot)],
    ['Room light', roomWords(shot)],
  ];
  const power = circuitOf(shot, film);
  return [{ kind: 'facts', rows: filled(rows) }, ...(power ? [{ kind: 'text', words: power.words } as const] : [])];
}

function backdropWords({ backdrop }: Shot): string {
  if (!backdrop) return '';
  const { screenName, material, size, behind, bottom, brightness, refresh } = backdrop;
  return joined(
    screenName?.value ?? material?.value,
    size?.text,
    behind && `${behind.text} behind`,
    bottom && `lower edge at ${bottom.text}`,
    brightness && `brightness ${brightness.text}`,
    refresh?.text,
  );
}

function surfaceWords({ surface }: Shot): string {
  if (!surface) return '';
  const { material, finish, size, height } = surface;
  return joined(material?.value, finish, size?.text, height && `${height.text} above the floor`);
}

function roomWords({ room }: Shot): string {
  return room ? joined(room.light?.text, room.light?.value !== 0 && room.source, room.temperature?.text) : '';
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
        lamp.height && `${lamp.height.text} high`,
        lamp.aim === 'backdrop' && 'to the backdrop',
      ]
        .filter(Boolean)
        .join(', '),
      [lamp.colour?.text ?? lamp.temperature?.text, lamp.level?.text, names(lamp.modifierNames)]
        .filter(Boolean)
        .join(', '),
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

/** `key (panel), highlight`: what the name says already is not said again. */
function lampName({ name, kitName, role }: LampPlace): string {
  const gear = kitName.value === name ? '' : ` (${kitName.value})`;
  return joined(`${name}${gear}`, role?.value !== name && role?.value !== kitName.value && role?.value);
}
