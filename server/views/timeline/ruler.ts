/** Seconds, time codes and beats along the top. */
import { sToFrames } from '../../calc/rate.ts';
import { frameToTimecode, timecodeText } from '../../calc/timecode.ts';
import { beatsBetween } from '../../core/derived/beat-grid.ts';
import { beatOfFilmS } from '../../core/derived/edit.ts';
import type { Film } from '../../core/film.ts';
import * as say from '../../core/say.ts';
import type { Seconds } from '../../core/units.ts';
import { letters, smallest } from '../page.ts';
import type { Drawn } from '../picture.ts';
import { type El, from, ink, line, text } from '../svg.ts';
import { type Axis, doubled, niceStep } from './axis.ts';

/** So far apart that their words do not touch; those of the first tick stand beside it. */
const [tickPx, beatPx, numberPx] = [106, 4, 34];

/** Round steps of seconds below a minute, of minutes above. */
function tickStep({ lengthS, left, right }: Axis): Seconds {
  const least = (tickPx * lengthS) / (right - left);
  if (least <= 30) return niceStep(least, least <= 0.5 ? 0.5 : 1) > 20 ? 30 : niceStep(least, least <= 0.5 ? 0.5 : 1);
  return niceStep(least, 60);
}

export function ruler(film: Film, axis: Axis, y: number): Drawn {
  const step = tickStep(axis);
  const ticks = Array.from({ length: Math.floor(axis.lengthS / step + 1e-6) + 1 }, (_, index) => index * step);
  const rate = film.timeline.rate?.value;
  const code = (seconds: Seconds) =>
    rate ? timecodeText(frameToTimecode(Math.round(sToFrames(seconds, rate)), rate, false)) : '';
  const body = [
    line({ x: axis.left, y: y + 34 }, { x: axis.right, y: y + 34 }),
    ...ticks.flatMap((seconds) => {
      const x = axis.x(seconds);
      const anchor = x > axis.right - 36 ? 'end' : seconds === 0 ? 'start' : 'middle';
      return [
        line({ x, y: y + 29 }, { x, y: y + 39 }),
        text({ x, y: y + 11 }, say.secondsText(seconds), { size: smallest, anchor }),
        text({ x, y: y + 24 }, code(seconds), { size: smallest, anchor, fill: ink.soft }),
      ];
    }),
  ];
  return { body, bottom: y + 44 };
}

/** Beats so far apart that they can be told from each other, every so many numbered. */
export function beatsOf(film: Film, axis: Axis, y: number): Drawn {
  const beatS = beatOfFilmS(film);
  if (!beatS) return { body: [], bottom: y };
  const px = axis.x(beatS) - axis.x(0);
  const every = doubled(beatPx / px);
  const numbered = Math.max(every, doubled(numberPx / px));
  const top = axis.page.narrow ? y + 16 : y;
  const shown = { from: 0, to: axis.lengthS };
  const ticks = beatsBetween(film, shown, every, (axis.right - axis.left) / beatPx + 2)
    .filter(({ beat }) => beat >= 0)
    .map(({ beat, atS }) => beatTick(beat, axis.x(atS), numbered, top));
  const name = text({ x: axis.page.left, y: y + 13 }, 'Beats', { size: letters.words, bold: true });
  return { body: [from(film.music?.tempo, [name, ...ticks.flat()])], bottom: top + 34 };
}

function beatTick(beat: number, x: number, numbered: number, y: number): El[] {
  const isNumbered = beat % numbered === 0;
  const tick = line({ x, y: y + (isNumbered ? 4 : 8) }, { x, y: y + 14 }, { stroke: isNumbered ? ink.ink : ink.line });
  return isNumbered
    ? [tick, text({ x, y: y + 26 }, String(beat), { size: smallest, anchor: 'middle', fill: ink.soft })]
    : [tick];
}
