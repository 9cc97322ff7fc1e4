/** Music, sounds, and the sound of takes. */
import { envelopeFrom, envelopeHz, loudnessShare } from '../../calc/sound-offset.ts';
import { filmMusic } from '../../core/derived/music.ts';
import type { Film } from '../../core/film.ts';
import { blockRange } from '../picture.ts';
import { type El, ink, polygon } from '../svg.ts';
import type { Bar, Row } from './bar.ts';

export function soundBars(film: Film): Bar[] {
  const { music, sounds, cutS } = film;
  const bars: Bar[] = [];
  if (music && cutS !== undefined && !filmMusic(film)) {
    const lasts = music.length ? Math.min(cutS, music.length.value - music.trimS) : cutS;
    const name = `music: ${music.track?.value ?? 'no track named'}`;
    bars.push({ fromS: 0, toS: lasts, words: name, ranges: [music.track, music.length, blockRange(music)] });
  }
  for (const sound of sounds) {
    const toS = sound.atS + (sound.lengthS ?? 0);
    bars.push({ fromS: sound.atS, toS, words: sound.track?.value ?? 'sound', ranges: [blockRange(sound)] });
  }
  for (const piece of film.cut) {
    if (piece.sound !== 'keep' || piece.startS === undefined || piece.endS === undefined) continue;
    bars.push({ fromS: piece.startS, toS: piece.endS, words: 'sound of the take', ranges: [piece.soundAt] });
  }
  return bars;
}

const [rowPx, wavePx] = [36, 15];

/** The music as it was heard: how loud it is from moment to moment, below its name. */
export function musicRow(film: Film): Row {
  const known = filmMusic(film);
  const row = { name: 'Music', height: rowPx };
  if (!known || film.cutS === undefined) return { ...row, bars: [] };
  const { music, heard } = known;
  const loud = envelopeFrom(heard.envelope);
  const toS = Math.max(0, Math.min(film.cutS, heard.durationS - music.trimS));
  const words = `music: ${music.track!.value}`;
  const inside = (x: number, width: number, y: number) =>
    wave(loud, { x, width, y }, { fromS: music.trimS, lengthS: toS });
  return { ...row, bars: [{ fromS: 0, toS, words, inside, ranges: [music.track, music.length, blockRange(music)] }] };
}

/** So wide is a step of the wave. */
const stepPx = 2;

function wave(
  loud: Uint8Array,
  { x, width, y }: { readonly x: number; readonly width: number; readonly y: number },
  { fromS, lengthS }: { readonly fromS: number; readonly lengthS: number },
): El[] {
  const steps = Math.max(1, Math.round(width / stepPx));
  const most = Math.max(
    1,
    loud.reduce((largest, one) => Math.max(largest, one), 0),
  );
  const foot = y + rowPx - 2;
  const tops = Array.from({ length: steps }, (_, step) => {
    const place = (at: number) => Math.floor((fromS + (lengthS * at) / steps) * envelopeHz);
    const [from, to] = [place(step), Math.max(place(step) + 1, place(step + 1))];
    let largest = 0;
    for (let at = from; at < to; at++) largest = Math.max(largest, loud[at] ?? 0);
    return { x: x + ((step + 0.5) * width) / steps, y: foot - wavePx * loudnessShare(largest, most) };
  });
  const outline = [{ x, y: foot }, ...tops, { x: x + width, y: foot }];
  return [polygon(outline, { fill: ink.soft, stroke: ink.soft, 'stroke-width': 0.5 })];
}
