/** Music, sounds, and the sound of takes. */
import type { Film } from '../../core/film.ts';
import { blockRange } from '../picture.ts';
import type { Bar } from './bar.ts';

export function soundBars(film: Film): Bar[] {
  const { music, sounds, cutS } = film;
  const bars: Bar[] = [];
  if (music && cutS !== undefined) {
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
