/** What a backdrop is to come out as, and what it gives back of its light. */
import { parseHex, relativeLuminance } from '../../calc/colour.ts';
import { exposureError } from '../../core/derived/light.ts';
import type { Backdrop, Shot } from '../../core/film.ts';
import type { Share, Stops } from '../../core/units.ts';

export interface ToneRange {
  readonly from: Stops;
  readonly to: Stops;
  readonly aim: Stops;
}

/** Stops against mid-grey between which each tone comes out as what it is called. */
export const tones: Readonly<Record<string, ToneRange>> = {
  white: { from: 2, to: Infinity, aim: 2 },
  mid: { from: -1, to: 1, aim: 0 },
  black: { from: -Infinity, to: -3, aim: -3 },
};
/** What a backdrop of that tone usually gives back: common practice, no source. */
const usual: Readonly<Record<string, Share>> = { white: 0.85, mid: 0.18, black: 0.03 };

/** Would it come out as wanted, were the product exposed as meant? */
export function isOfExposure(shot: Shot, stops: Stops, range: ToneRange, allow: Stops): boolean {
  const meant = stops - (exposureError(shot, 0) ?? 0);
  return meant >= range.from - allow && meant <= range.to + allow;
}

/** Black velvet swallows nearly all: common practice, no source. */
const velvet: Share = 0.01;

/** As stated, else of its colour, else the usual one of a backdrop of that tone. */
export function reflectance({ reflects, colour, material }: Backdrop, tone: string): { share: Share; stated: boolean } {
  if (reflects) return { share: reflects.value, stated: true };
  const rgb = colour && parseHex(colour.value);
  const own = rgb ? relativeLuminance(rgb) : 0;
  if (own > 0.01) return { share: own, stated: true };
  const isVelvet = tone === 'black' && /velvet/i.test(material?.value ?? '');
  return { share: isVelvet ? velvet : usual[tone]!, stated: false };
}
