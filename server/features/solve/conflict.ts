/** Why no settings hold: the two demands that stand against each other, each with the numbers of the nearest settings. */
import type { ShotFinding } from '../../core/check-shot.ts';
import type { Block } from '../../core/film.ts';
import { listText, quoted } from '../../core/say.ts';
import { type Change, settingsText } from './change.ts';
import type { Choices } from './choices.ts';

export interface Tried {
  readonly change: Change;
  /** What still fails with it. */
  readonly left: readonly ShotFinding[];
  readonly cost: number;
}

/** @param tried the best first */
export function conflictText(choices: Choices, tried: readonly Tried[]): string {
  const nearest = tried[0];
  const first = nearest && gravest(nearest.left);
  if (!nearest || !first) return `Nothing in the kit does better.${fixedText(choices)}`;
  const other = tried.find(({ left }) => left.every((one) => one.rule !== first.rule));
  const second = other && gravest(other.left);
  const lines = second
    ? `Two demands stand against each other. ${sideText(choices, nearest, first)} ${sideText(choices, other, second)}`
    : `One demand cannot be met with this kit. ${sideText(choices, nearest, first)}`;
  return `${lines}${fixedText(choices)}`;
}

function gravest(left: readonly ShotFinding[]): ShotFinding | undefined {
  return left.find((one) => one.severity === 'error') ?? left.find((one) => one.severity === 'warning') ?? left[0];
}

function sideText({ shot }: Choices, { change }: Tried, { message }: ShotFinding): string {
  const own = message.startsWith(`${shot.name}: `) ? message.slice(shot.name.length + 2) : message;
  return `With ${settingsText(shot, change)}: ${own}`;
}

/** Fixed values are named, as one of them may be what gives way. */
function fixedText({ shot, pinned }: Choices): string {
  const keys = ['shutter', 'aperture', 'iso', 'focus', 'filters', 'distance'];
  const fixed = (block: Block, from: readonly string[], name: string) =>
    from.filter((key) => pinned(block.fields, key)).map((key) => quoted(name === '' ? key : `${name} ${key}`));
  const all = [
    ...fixed(shot.camera, keys, ''),
    ...shot.lit.flatMap((lamp) => fixed(lamp, ['level', 'distance'], lamp.name)),
  ];
  return all.length === 0 ? '' : ` Marked as fixed: ${listText(all)}.`;
}
