/** Writes a quantity in another unit: only where that is the same quantity, to the last digit that matters. */
import { rateFps } from '../../calc/rate.ts';
import { shutterAngleDeg, shutterS } from '../../calc/shutter.ts';
import type { Node, ScalarNode } from '../../core/document/node.ts';
import type { Film, Shot } from '../../core/film.ts';
import { filmSeconds } from '../../core/resolve/edit.ts';
import { num, quoted, shutterText } from '../../core/say.ts';
import { families } from '../../core/quantities/families.ts';
import { fieldAt } from '../../core/schema/fields.ts';
import { filmTime, lengthMm, shutter, type Shutter } from '../../core/units.ts';
import { nodeAt } from '../node-at.ts';
import type { RefactoringRequest, Refactoring } from './refactoring.ts';

export function convertUnits({ result: { doc, film, kind }, offset }: RefactoringRequest): Refactoring[] {
  const cursor = nodeAt(doc.root, offset);
  const node = cursor?.pair?.value;
  if (!cursor || node?.kind !== 'scalar' || node.alias !== undefined || node.text === '') return [];
  const quantity = fieldAt(kind, cursor.path)?.quantity;
  return textsFor(quantity, node, film).map((text) => ({
    title: `Write as ${quoted(text)}`,
    files: [{ edits: [{ start: node.start, end: node.end, text: inQuotes(node, doc.text, text) }] }],
  }));
}

/** In quotes as before; texts of quantities need no escapes. */
function inQuotes(node: ScalarNode, text: string, value: string): string {
  const mark = node.quoted ? text[node.start] : '';
  return mark === '"' || mark === "'" ? `${mark}${value}${mark}` : value;
}

function textsFor(quantity: string | undefined, node: ScalarNode, film: Film | undefined): string[] {
  const { text } = node;
  switch (quantity) {
    case 'length':
      return inLengths(text, / to /, 1);
    case 'size':
    case 'box':
      return inLengths(text, / x /, 3);
    case 'film-time':
      return film ? inFilmTimes(text, film) : [];
    case 'shutter':
      return film ? inShutters(node, film) : [];
    default:
      return [];
  }
}

const lengths = families.length.units;
/** The units that lengths are offered in. */
const offered = ['mm', 'cm', 'in'] as const;

/** Only where they come out even: nobody wants 27.56 in. All numbers in mm, cm or in with the unit at the end of each, or of the last one for sizes. */
function inLengths(text: string, between: RegExp, most: number): string[] {
  const joiner = between.source;
  const parts = text.split(between);
  const unit = /(\S+)$/.exec(text)?.[1];
  if (!unit || !Object.hasOwn(lengths, unit) || parts.length > Math.max(2, most)) return [];
  const shared = most > 1;
  const all = parts.map((part) => lengthMm(shared && !part.endsWith(unit) ? `${part} ${unit}` : part));
  if (all.some((mm) => mm === undefined)) return [];
  return offered.flatMap((to) => {
    const { factor } = lengths[to];
    const values = all.map((mm) => num(mm! / factor, 1));
    const same = values.every((value, index) => Math.abs(Number(value) * factor - all[index]!) < 1e-6);
    const written = shared ? `${values.join(joiner)} ${to}` : values.map((value) => `${value} ${to}`).join(joiner);
    return same && to !== unit ? [written] : [];
  });
}

/** Seconds, frames and beats of the film; frames are whole. */
function inFilmTimes(text: string, film: Film): string[] {
  const parts = text.split(' to ');
  const clock = { rate: film.timeline.rate?.value, tempoBpm: film.music?.tempo?.value };
  const all = parts.map((part) => filmSeconds(filmTime(part), clock));
  if (all.some((s) => s === undefined)) return [];
  const write = (each: (s: number) => string | undefined): string | undefined => {
    const texts = all.map((s) => each(s!));
    return texts.some((one) => one === undefined) ? undefined : texts.join(' to ');
  };
  const counted = (one: string, unit: number, digits: number) => (s: number) => {
    const count = num(s / unit, digits);
    return Math.abs(Number(count) * unit - s) < 1e-6 ? `${count} ${one}${count === '1' ? '' : 's'}` : undefined;
  };
  const { rate, tempoBpm } = clock;
  const found = [
    write((s) => (Math.abs(Number(num(s, 3)) - s) < 1e-9 ? `${num(s, 3)} s` : undefined)),
    rate && write(counted('frame', rate.den / rate.num, 0)),
    tempoBpm ? write(counted('beat', 60 / tempoBpm, 2)) : undefined,
  ];
  return found.filter((one): one is string => one !== undefined && one !== text);
}

/** A time as an angle of the frame and the other way, at the one rate of all shots that have this shutter. */
function inShutters(node: ScalarNode, film: Film): string[] {
  const read = shutter(node.text);
  const rates = takersOf(node, film).map(({ camera }) => camera.rate && rateFps(camera.rate.value));
  const [fps] = rates;
  if (!read || fps === undefined || rates.some((one) => one === undefined || Math.abs(one - fps) > 1e-6)) return [];
  const text = otherForm(read, fps);
  const back = text === undefined ? undefined : shutter(text);
  const same = back && Math.abs(secondsOf(back, fps) / secondsOf(read, fps) - 1) < 1e-3;
  return text !== undefined && same ? [text] : [];
}

function otherForm(read: Shutter, fps: number): string | undefined {
  return read.kind === 'time' ? `${num(shutterAngleDeg(read.s, fps), 1)}°` : shutterText(shutterS(read.deg, fps));
}

function secondsOf(read: Shutter, fps: number): number {
  return read.kind === 'time' ? read.s : shutterS(read.deg, fps);
}

function takersOf(node: Node, film: Film): Shot[] {
  return [...film.shots.values()].filter((shot) => shot.camera.fields.node('shutter') === node);
}
