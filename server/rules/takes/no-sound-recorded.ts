import { again, type RecordedTake, recordedTake } from '../../core/derived/recorded-clips.ts';
import type { Piece } from '../../core/film.ts';
import { defineRule } from '../../core/rule.ts';
import { quoted } from '../../core/say.ts';
import { piecesOf } from '../../core/takes.ts';

export default defineRule({
  id: 'no-sound-recorded',
  family: 'takes',
  summary: 'A clip has no sound, and the cut keeps it or a microphone was planned.',
  severity: 'warning',
  sources: ['the tracks that the container names'],
  messages: {
    kept: '{clip} has no sound, and the cut keeps the sound of {shot}. Say with `sound` which file was recorded apart, or {again} with the sound on.',
    planned:
      '{clip} has no sound, and {microphone} is planned for {shot}. Say with `sound` which file was recorded apart, or {again} with the sound on.',
  },
  take(take, { footage, report }) {
    const recorded = recordedTake(take, footage);
    if (!recorded?.video || hasSound(recorded) || take.sound || take.judged?.value === 'bad' || !take.shot) return;
    const keeps = piecesOf(take).find((piece) => piece.sound === 'keep');
    const microphone = take.shot.microphoneName;
    const common = { at: recorded.clip, related: keeps ? [placeOf(keeps)] : [] };
    const data = { clip: quoted(recorded.clip.text), shot: quoted(take.shot.name), again };
    if (keeps) report({ message: 'kept', data, severity: 'error', ...common });
    else if (microphone)
      report({ message: 'planned', data: { ...data, microphone: quoted(microphone.text) }, ...common });
  },
});

function hasSound({ facts }: RecordedTake): boolean {
  return facts.some(({ audio }) => audio.some(({ channels }) => channels > 0));
}

function placeOf(piece: Piece) {
  const { start, end, file } = piece.soundAt ?? { ...piece, file: undefined };
  return { start, end, ...(file !== undefined && { file }), message: 'the sound is kept here' };
}
