import { lastHeardS } from '../../core/derived/edit.ts';
import { filmMusic } from '../../core/derived/music.ts';
import type { Film, Music } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { num, secondsText } from '../../core/say.ts';

export default defineRule({
  id: 'music-too-short',
  family: 'cut',
  summary: 'The music ends before the film does.',
  severity: 'warning',
  sources: ['arithmetic'],
  messages: {
    short: 'The music is {length} long{trim}; the film runs {film}: {gap} of silence at the end.{start}',
  },
  film(film, { report }) {
    const { music } = film;
    // What the file has counts, where it is known.
    const lengthS = filmMusic(film)?.heard.durationS ?? music?.length?.value;
    if (!music || lengthS === undefined || film.cutS === undefined) return;
    const leftS = lengthS - music.trimS;
    const neededS = lastHeardS(film) ?? 0;
    if (leftS >= neededS - 1e-6 || isEndMeant(film, leftS, neededS)) return;
    const trimS = fittingTrimS(music, lengthS - neededS);
    report({
      message: 'short',
      data: {
        length: lengthS === music.length?.value ? music.length.text : secondsText(lengthS),
        trim:
          music.trimS > 0 ? ` and starts ${secondsText(music.trimS)} in, so it ends after ${secondsText(leftS)}` : '',
        film: secondsText(neededS),
        gap: secondsText(neededS - leftS),
        start:
          trimS === undefined
            ? ' Repeat a few bars of it, or take longer music.'
            : ` Started ${secondsText(trimS)} in, it lasts.`,
      },
      at: music.length ?? music,
      fixes: trimS === undefined ? [] : trimFix(music, trimS),
    });
  },
});

/** Is something else heard after it, or is only the black of the last fade without it? */
function isEndMeant({ cut, sounds }: Film, leftS: number, neededS: number): boolean {
  const isKept = cut.some((piece) => piece.sound === 'keep' && (piece.endS ?? 0) > leftS);
  const isLaid = sounds.some(({ atS, lengthS = 0 }) => atS < neededS && atS + lengthS > leftS);
  return isKept || isLaid || neededS - leftS <= (cut.at(-1)?.fadeOutS ?? 0) + 1e-6;
}

/** The latest start, on a beat where one fits, that leaves enough music; undefined where all of it is too short. */
function fittingTrimS({ firstBeatS, tempo }: Music, latestS: number): number | undefined {
  if (latestS < -1e-6) return undefined;
  const beatS = tempo ? 60 / tempo.value : undefined;
  if (beatS === undefined || latestS < firstBeatS) return Math.max(0, latestS);
  return firstBeatS + Math.floor((latestS - firstBeatS) / beatS + 1e-6) * beatS;
}

function trimFix(music: Music, trimS: number): FixIdea[] {
  // Milliseconds, and never later than what fits.
  const text = `${num(Math.floor(trimS * 1000 + 1e-6) / 1000, 3)} s`;
  const beat = music.tempo ? (trimS - music.firstBeatS) / (60 / music.tempo.value) : -1;
  const place = beat > -1e-6 ? ` (on its beat ${num(beat, 0)})` : '';
  return [set(`Start the music ${text} in${place}`, [music, 'trim', text])];
}
