/** Words and fixes that the colour rules share. */
import { kelvin, mired } from '../../calc/temperature.ts';
import type { White } from '../../core/derived/white-points.ts';
import type { Film, Modifier, Shot } from '../../core/film.ts';
import { fits } from '../../core/resolve/kit.ts';
import { type FieldChange, type FixIdea, set } from '../../core/rule.ts';
import { kelvinText, listText, num, percentText, quoted, stopsText } from '../../core/say.ts';
import type { Kelvin, Mired } from '../../core/units.ts';

/** Differences up to this count as the same white: two steps of what can just be noticed (about 5.5 mired each, Priest). */
export const sameWhite = 11;

/** `key`, as the user named it, or what the room's light is. */
export function whiteName({ lamp, room, measured }: White): string {
  if (measured) return 'the light, as measured,';
  if (lamp) return quoted(lamp.name);
  return room?.source === 'window' ? 'the window' : "the room's own light";
}

/** `5600 K`, or `5600 K with half-orange (3478 K)`, or `2700 K at 20 % (2207 K)`. */
export function whiteText({ lamp, temperature, warms, dimmedTo, mired: { from } }: White): string {
  if (warms === 0 && !dimmedTo) return temperature.text;
  const level = dimmedTo ? ` at ${percentText(dimmedTo.from)}` : '';
  const filters = (lamp?.modifiers ?? []).filter((one) => one.warms !== 0).map((one) => quoted(one.name));
  const behind = filters.length > 0 ? ` with ${listText(filters)}` : '';
  return `${temperature.text}${level}${behind} (${kelvinText(kelvin(from))})`;
}

/** Where a light's colour is said: its temperature, or its name where the kit gives that. */
export function whiteAt(white: White, shot: Shot): { start: number; end: number } {
  return white.temperature.file === undefined ? white.temperature : (white.lamp ?? shot);
}

/** `the product`, or the part by its name. */
export function subjectText({ subject }: Shot): string {
  return subject.name === 'product' ? 'the product' : quoted(subject.name);
}

/** `about 25 %`, or `all`: in steps of 5 %, so that shots that differ little are spoken of together. */
export function aboutShare(share: number): string {
  const fives = Math.round(share * 20);
  return fives >= 20 ? 'all' : `about ${fives * 5} %`;
}

/** A temperature within 4 mired of the wanted one, as round as that allows. */
export function roundKelvin(wanted: Mired): Kelvin {
  const exact = kelvin(wanted);
  const steps = [100, 50, 10].map((step) => Math.round(exact / step) * step);
  return steps.find((one) => one > 0 && Math.abs(mired(one) - wanted) <= 4) ?? exact;
}

/** The setting that makes a lamp this colour behind its filters; undefined where the lamp can't be set to it. */
export function tuned(white: White, wanted: Mired): Kelvin | undefined {
  const range = white.lamp?.lamp?.temperature?.value;
  const { from, to } = white.temperature.value;
  if (!range || from !== to || white.dimmedTo || wanted - white.warms <= 0) return undefined;
  const setting = roundKelvin(wanted - white.warms);
  return setting >= Math.min(range.from, range.to) && setting <= Math.max(range.from, range.to) ? setting : undefined;
}

/** Sets the temperature of a lamp so that it is this colour. */
export function tuneFix(white: White, wanted: Mired): FixIdea[] {
  const setting = tuned(white, wanted);
  if (setting === undefined || !white.lamp) return [];
  const text = kelvinText(setting);
  return [set(`Set ${quoted(white.lamp.name)} to ${text}`, [white.lamp, 'temperature', text])];
}

/** Puts the kit's filter on a lamp that brings it nearest to this colour, where one brings it near enough. */
export function filterFix(white: White, wanted: Mired, film: Film): FixIdea[] {
  const { lamp } = white;
  const { from, to } = white.mired;
  if (!lamp?.lamp || from !== to) return [];
  const left = (modifier: Modifier) => Math.abs(from + modifier.warms - wanted);
  const [best] = [...film.kit.modifiers.values()]
    .filter((one) => one.warms !== 0 && fits(one, lamp.lamp?.name) && !lamp.modifiers.includes(one))
    .filter((one) => left(one) <= sameWhite)
    .sort((a, b) => left(a) - left(b));
  if (!best) return [];
  const names = [...lamp.modifierNames.map((one) => one.value), best.name];
  const change: FieldChange = {
    block: lamp,
    key: 'modifier',
    text: names.length === 1 ? names[0]! : `[${names.join(', ')}]`,
  };
  const price = best.loses > 0 ? `${stopsText(best.loses)} less from it, ` : '';
  const title = `Put ${quoted(best.name)} on ${quoted(lamp.name)} (${price}${num(left(best), 0)} mired left)`;
  return [{ title, set: [change] }];
}
