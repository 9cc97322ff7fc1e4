import type { Val } from '../../core/film.ts';
import { angleText } from '../../core/say.ts';
import type { Degrees } from '../../core/units.ts';

/** An angle as the one before it was written: `135° right`, where that had a side and it is still on it. */
export function sideText({ text }: Val<unknown>, deg: Degrees): string {
  const [side] = /left|right/.exec(text) ?? [];
  const aside = side === 'right' ? (360 - deg) % 360 : deg;
  return side && aside <= 180 ? `${angleText(aside)} ${side}` : angleText(deg);
}
