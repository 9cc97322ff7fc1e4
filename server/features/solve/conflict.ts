/** Why no settings hold: the two demands that stand against each other, each with the numbers of the nearest settings. */
import type { ShotFinding } from '../../core/check-shot.ts';
import type { Block, Val } from '../../core/film.ts';
import * as say from '../../core/say.ts';
import type { Ends } from '../../core/units.ts';
import { markdownWords } from '../../formats/escape.ts';
import { type Change, settingsText } from './change.ts';
import { apertureChoices, type Choices, distanceChoices, isoChoices, lampLevels, shutterChoices } from './choices.ts';

export interface TriedChange {
  readonly change: Change;
  /** What still fails with it. */
  readonly left: readonly ShotFinding[];
  readonly cost: number;
}

/** Sentences: what stands against what, each side with its settings, what was tried, and what was kept as it is. */
export interface Conflict {
  readonly lead: string;
  readonly sides: readonly string[];
  readonly range: string;
  readonly fixed: string;
}

/** @param tried the best first */
export function conflictOf(choices: Choices, tried: readonly TriedChange[]): Conflict {
  const nearest = tried[0];
  const first = nearest && gravest(nearest.left);
  const [range, fixed] = [rangeText(choices), fixedText(choices)];
  if (!nearest || !first) return { lead: 'Nothing in the kit does better.', sides: [], range, fixed };
  const other = tried.find(({ left }) => left.every((one) => one.rule !== first.rule));
  const second = other && gravest(other.left);
  const lead = second ? 'Two demands stand against each other.' : 'One demand cannot be met with this kit.';
  const sides = [sideText(choices, nearest, first), ...(second ? [sideText(choices, other, second)] : [])];
  return { lead, sides, range, fixed };
}

export function conflictText({ lead, sides, range, fixed }: Conflict): string {
  return [lead, ...sides, range, fixed].filter((part) => part !== '').join(' ');
}

/** The same as a page in Markdown. */
export function conflictPage(title: string, { lead, sides, range, fixed }: Conflict): string {
  const list = sides.map((side) => `- ${markdownWords(side)}`).join('\n');
  const parts = [`# ${markdownWords(title)}`, markdownWords(lead), list, markdownWords(range), markdownWords(fixed)];
  return `${parts.filter((part) => part !== '').join('\n\n')}\n`;
}

function gravest(left: readonly ShotFinding[]): ShotFinding | undefined {
  return left.find((one) => one.severity === 'error') ?? left.find((one) => one.severity === 'warning') ?? left[0];
}

function sideText({ shot }: Choices, { change }: TriedChange, { message }: ShotFinding): string {
  const own = message.startsWith(`${shot.name}: `) ? message.slice(shot.name.length + 2) : message;
  return `With ${settingsText(shot, change)}: ${own}`;
}

/** From where to where each setting was tried that is not fixed. */
function rangeText(choices: Choices): string {
  const { shot } = choices;
  const { shutter, aperture, iso, distance } = shot.camera;
  const ends = (all: readonly (number | undefined)[], now: number | undefined, text: (value: number) => string) => {
    const values = all.flatMap((one) => one ?? now ?? []);
    if (values.length === 0) return [];
    const [least, most] = [text(Math.min(...values)), text(Math.max(...values))];
    return least === most ? [] : [`${least} to ${most}`];
  };
  const time = typeof shutter?.value === 'object' && shutter.value.kind === 'time' ? shutter.value.s : undefined;
  const tried = [
    ...ends(apertureChoices(choices), numberOf(aperture), say.apertureText),
    ...ends(shutterChoices(choices), time, say.shutterText),
    ...ends(isoChoices(choices), numberOf(iso), String).map((text) => `ISO ${text}`),
    ...ends(distanceChoices(choices), distance?.value.from, say.lengthText).map((text) => `the camera at ${text}`),
    ...lampLevels(choices).map(({ lamp, range }) => `${say.quoted(lamp.name)} at ${spanText(range)}`),
  ];
  return tried.length === 0 ? '' : `Tried were ${say.listText(tried)}.`;
}

function numberOf(val: Val<number | 'auto'> | undefined): number | undefined {
  return typeof val?.value === 'number' ? val.value : undefined;
}

function spanText({ from, to }: Ends): string {
  return `${say.percentText(from)} to ${say.percentText(to)}`;
}

/** Fixed values are named, as one of them may be what gives way. */
function fixedText({ shot, pinned }: Choices): string {
  const keys = ['shutter', 'aperture', 'iso', 'focus', 'filters', 'distance'];
  const fixed = (block: Block, from: readonly string[], name: string) =>
    from.filter((key) => pinned(block.fields, key)).map((key) => say.quoted(name === '' ? key : `${name} ${key}`));
  const all = [
    ...fixed(shot.camera, keys, ''),
    ...shot.lit.flatMap((lamp) => fixed(lamp, ['level', 'distance'], lamp.name)),
  ];
  return all.length === 0 ? '' : `Marked as fixed: ${say.listText(all)}.`;
}
