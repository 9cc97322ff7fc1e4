import { lastHeardS } from '../../core/derived/edit.ts';
import {
  beatNear,
  driftOfTempoS,
  type FilmMusic,
  filmMusic,
  frameS,
  isOtherTempo,
  momentText,
  tempoText,
} from '../../core/derived/music.ts';
import type { Beats } from '../../calc/beat-track.ts';
import type { Film, Music } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { num, quoted, secondsText } from '../../core/say.ts';

export default defineRule({
  id: 'music-not-as-heard',
  family: 'cut',
  summary: 'The tempo, the first beat or the length of the music is not what its file has.',
  severity: 'warning',
  sources: [
    'D. P. W. Ellis, Beat Tracking by Dynamic Programming, J. New Music Research 36(1), 2007 (how beats are found)',
    'ITU-R BT.1359-1 (sound is noticed 45 ms early, 125 ms late)',
  ],
  limits: {
    allow: { quantity: 'number', default: '1', meaning: 'Frames that what is said of the beats may be off by.' },
  },
  messages: {
    tempo:
      '{file} is heard at {heard}, not {said}: at the end of the film ({film}) the beats that are counted are {off} frames ({ms} ms) from those that are played.',
    other:
      'No beat of {said} is heard in {file}, also not twice or half as fast; the likeliest is {heard}, its first beat at {first}.',
    first:
      'The beat at {said} ({why}) is {off} frames ({ms} ms) {side} the one that is heard in {file}: that is at {heard}. All cuts on beats are off by as much.',
    length: '{file} is {heard} long, not {said}.',
  },
  film(film, { limits, report }) {
    const known = filmMusic(film);
    if (!known) return;
    const { music, beats, heard } = known;
    const file = quoted(known.file.value);
    const isTempo = beats !== undefined && isOtherTempo(known, film, limits.allow);
    if (beats && isTempo) {
      const data = { file, heard: tempoText(beats), said: music.tempo!.text };
      const common = { at: music.tempo!, fixes: tempoFixes(known, beats, film) };
      if (isFarFrom(music.tempo!.value, beats)) {
        report({ message: 'other', data: { ...data, first: momentText(beats.firstS) }, severity: 'info', ...common });
      } else {
        const offS = driftOfTempoS(known, film);
        const more = { film: secondsText(film.cutS!), off: num(offS / frameS(film), 1), ms: num(offS * 1000, 0) };
        report({ message: 'tempo', data: { ...data, ...more }, excess: offS, ...common });
      }
    }
    if (beats && music.tempo && !isTempo) {
      const nearS = beatNear(beats, music.firstBeatS);
      const offS = Math.abs(nearS - music.firstBeatS);
      if (offS > limits.allow * frameS(film))
        report({
          message: 'first',
          data: {
            file,
            said: momentText(music.firstBeatS),
            why: music.fields.said('first-beat') ? '`first-beat`' : 'no `first-beat` is said',
            off: num(offS / frameS(film), 1),
            ms: num(offS * 1000, 0),
            side: music.firstBeatS < nearS ? 'before' : 'after',
            heard: momentText(nearS),
          },
          at: music.fields.keyRange('first-beat') ?? music,
          excess: offS,
          fixes: [firstFix(music, nearS)],
        });
    }
    if (music.length && Math.abs(music.length.value - heard.durationS) > sameLengthS && isLongEnough(known, film)) {
      const text = `${num(heard.durationS, 1)} s`;
      report({
        message: 'length',
        data: { file, heard: text, said: music.length.text },
        at: music.length,
        severity: 'info',
        excess: Math.abs(music.length.value - heard.durationS),
        fixes: [set(`Write the length of the file: ${text}`, [music, 'length', text])],
      });
    }
  },
});

/** Lengths are often written in whole seconds. */
const sameLengthS = 1;

/** Else its end before the film's is said. */
function isLongEnough({ music, heard }: FilmMusic, film: Film): boolean {
  return heard.durationS - music.trimS >= (lastHeardS(film) ?? 0);
}

/** A tempo that is no slip of the one that is heard. */
function isFarFrom(bpm: number, beats: Beats): boolean {
  return Math.abs(Math.log2(bpm / beats.bpm)) > 0.2;
}

function tempoFixes({ music }: FilmMusic, beats: Beats, film: Film): FixIdea[] {
  const tempo = tempoText(beats);
  const firstS = beatNear(beats, music.firstBeatS);
  const isFirstOff = Math.abs(firstS - music.firstBeatS) > frameS(film) / 2;
  if (!isFirstOff) return [set(`Write the tempo that is heard: ${tempo}`, [music, 'tempo', tempo])];
  const first = momentText(firstS);
  const title = `Write what is heard: ${tempo}, first beat at ${first}`;
  return [set(title, [music, 'tempo', tempo], [music, 'first-beat', first])];
}

function firstFix(music: Music, atS: number): FixIdea {
  const first = momentText(atS);
  return set(`Write the first beat that is heard: ${first}`, [music, 'first-beat', first]);
}
