import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import type { Film, Shot } from '../../core/film.ts';

export default defineRule({
  id: 'kept-sound-not-recorded',
  family: 'delivery',
  summary: 'The cut keeps the sound of a shot that records none.',
  severity: 'warning',
  sources: ['the format itself: a shot without a microphone records no sound'],
  messages: {
    none: '{shot}: the cut keeps its sound, but no microphone records it: this piece will be silent.',
  },
  piece(piece, { film, report }) {
    const { shot, sound, soundAt } = piece;
    if (sound !== 'keep' || !shot || !soundAt || shot.microphoneName || shot.fields.said('microphone')) return;
    report({ message: 'none', data: { shot: shot.name }, at: soundAt, fixes: () => microphones(shot, film) });
  },
});

function microphones(shot: Shot, film: Film): FixIdea[] {
  const names = [...film.kit.microphones.keys()].slice(0, 3);
  return names.map((name) => set(`Record \`${shot.name}\` with \`${name}\``, [shot, 'microphone', name]));
}
