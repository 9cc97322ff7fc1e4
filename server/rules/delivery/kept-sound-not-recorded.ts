import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import type { Film, Piece, Shot } from '../../core/film.ts';
import { once } from '../../core/memo.ts';

export default defineRule({
  id: 'kept-sound-not-recorded',
  family: 'delivery',
  summary: 'The cut keeps the sound of a shot that records none, or leaves out all that is recorded.',
  severity: 'warning',
  sources: [
    'the format itself: a shot without a microphone records no sound',
    'a time-lapse and a still have none: common practice, no source',
  ],
  messages: {
    none: '{shot}: the cut keeps its sound, but no microphone records it: this piece will be silent.',
    still:
      '{shot}: the cut keeps its sound, but {what} has none: this piece will be silent. Put what should be heard under `sounds`.',
    unheard:
      '{shot}: {microphone} records its sound, and the cut keeps none of it; no sound or music of your own is in the film either, so that nobody hears it. Say `sound: keep` at its piece, put it under `sounds`, or leave the microphone at home.',
  },
  piece(piece, { film, report }) {
    const { shot, sound, soundAt } = piece;
    if (sound !== 'keep' || !shot || !soundAt) return;
    const what = soundless(piece, shot);
    const data = { shot: shot.name };
    if (what) report({ message: 'still', data: { ...data, what }, at: soundAt });
    else if (!shot.microphoneName && !shot.fields.said('microphone'))
      report({ message: 'none', data, at: soundAt, fixes: () => microphones(shot, film) });
  },
  shot(shot, { film, report }) {
    const { microphoneName, pieces, name } = shot;
    if (!microphoneName || pieces.length === 0 || hearsOwnSound(film)) return;
    const data = { shot: name, microphone: microphoneName.value };
    report({
      message: 'unheard',
      severity: 'info',
      data,
      at: microphoneName,
      cause: film.cutAt && { ...film.cutAt, isWide: true },
    });
  },
});

function soundless({ speed }: Piece, { interval }: Shot): string | undefined {
  if (interval) return 'a time-lapse';
  return speed === 0 ? 'a still' : undefined;
}

/** What is recorded on the set may come back as a sound or as music that is the maker's own; nobody hears a silent film. */
const hearsOwnSound = once(({ cut, sounds, music, rights, deliverables }: Film): boolean => {
  const tracks = [music?.track, ...sounds.map(({ track }) => track)];
  return (
    cut.some(({ sound }) => sound === 'keep') ||
    tracks.some((track) => track !== undefined && rights.get(track.value)?.owner !== 'licensed') ||
    [...deliverables.values()].every(({ sound }) => sound === 'none')
  );
});

function microphones(shot: Shot, film: Film): FixIdea[] {
  const names = [...film.kit.microphones.keys()].slice(0, 3);
  return names.map((name) => set(`Record \`${shot.name}\` with \`${name}\``, [shot, 'microphone', name]));
}
