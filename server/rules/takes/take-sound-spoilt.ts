import { decodedTake, takeAgain, usedStretches } from '../../core/derived/decoded-takes.ts';
import type { SoundMeasured } from '../../core/decoded.ts';
import { defineRule } from '../../core/rule.ts';
import { num, quoted, secondsText, timesText } from '../../core/say.ts';
import type { Ends, Seconds } from '../../core/units.ts';

export default defineRule({
  id: 'take-sound-spoilt',
  family: 'takes',
  summary: 'Sound that the cut keeps is clipped or silent.',
  severity: 'warning',
  sources: [
    'samples at full scale one after another; root mean square of each half second',
    'common practice, no source',
  ],
  limits: {
    silent: {
      quantity: 'number',
      default: '-60',
      meaning: 'dB over full scale under which kept sound counts as silent.',
    },
  },
  messages: {
    clips:
      '{clip}: the sound that the cut keeps clips {count}, first at {first}. Turn the recording level down and {again}.',
    silent:
      '{clip}: the sound that the cut keeps is silent (under {limit} dB all through). See what was plugged in, and {again}.',
  },
  take(take, { film, footage, limits, report }) {
    const kept = usedStretches(take, film, (piece) => piece.sound === 'keep');
    const found = decodedTake(take, footage);
    // What was recorded apart takes the place of the camera's own.
    const apart = take.sound?.path;
    const sound = apart ? footage?.decoded('clip', apart.value)?.sound : found?.decoded.sound;
    if (!found || !sound || kept.length === 0) return;
    const at = apart ?? found.clip;
    const startsS = apart ? take.sound?.starts?.value : 0;
    if (startsS === undefined) return;
    const data = { clip: quoted(at.text), again: takeAgain };
    const stretches = kept.map(({ from, to }) => ({ from: from - startsS, to: to - startsS }));
    const clips = sound.clipsAtS.filter((s) => stretches.some(({ from, to }) => s >= from && s <= to));
    if (clips.length > 0) {
      const texts = { count: timesText(clips.length), first: secondsText(clips[0]!) };
      report({ message: 'clips', data: { ...data, ...texts }, at, shot: take.shot, excess: clips.length });
    }
    if (stretches.every((one) => isSilent(one, sound, limits.silent)))
      report({ message: 'silent', data: { ...data, limit: num(limits.silent, 0) }, at, shot: take.shot });
  },
});

function isSilent({ from, to }: Ends<Seconds>, { halfSecondsDb }: SoundMeasured, limitDb: number): boolean {
  const inIt = halfSecondsDb.slice(Math.max(0, Math.floor(from * 2)), Math.max(0, Math.ceil(to * 2)));
  return inIt.length > 0 && inIt.every((db) => db < limitDb);
}
