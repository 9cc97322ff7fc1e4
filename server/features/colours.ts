/** Colours that are written, and lamps' temperatures as the colour that they look. */
import { parseHex, type Rgb } from '../calc/colour.ts';
import { temperatureHex } from '../calc/temperature.ts';
import type { Range } from '../core/document/node.ts';
import { kelvin } from '../core/units.ts';
import type { ColourPlace, Places } from './places.ts';

/** Encoded sRGB, shares 0 to 1. */
export interface Colour extends Range {
  readonly rgb: Rgb;
}

/** `2800 K to 5600 K` has a colour at each end. */
export function coloursOf({ colours }: Places): Colour[] {
  return colours.flatMap((place) => (place.quantity === 'colour' ? hexColour(place) : temperatures(place)));
}

function hexColour({ start, end, text }: ColourPlace): Colour[] {
  const rgb = isHex(text) ? parseHex(text) : undefined;
  return rgb ? [{ start, end, rgb }] : [];
}

function temperatures({ start, end, text }: ColourPlace): Colour[] {
  if (end - start !== text.length) return [];
  const found: Colour[] = [];
  let at = start;
  for (const part of text.split(' to ')) {
    const value = kelvin(part);
    const rgb = value === undefined || value <= 0 ? undefined : parseHex(temperatureHex(value));
    if (rgb) found.push({ start: at, end: at + part.length, rgb });
    at += part.length + ' to '.length;
  }
  return found;
}

/** The text for a picked colour, where a colour is written; nothing for a temperature, which is not picked by its looks. */
export function colourText(written: string, { r, g, b }: Rgb): string | undefined {
  if (!isHex(written)) return undefined;
  const pair = (value: number) =>
    Math.round(Math.min(1, Math.max(0, value)) * 255)
      .toString(16)
      .padStart(2, '0');
  return `#${pair(r)}${pair(g)}${pair(b)}`;
}

function isHex(text: string): boolean {
  return /^#[0-9a-f]{6}$/i.test(text);
}
