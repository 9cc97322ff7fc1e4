import { envelopeFrom, type SoundOffset, soundOffset } from '../../calc/sound-offset.ts';
import { decodedTake } from '../../core/derived/decoded-takes.ts';
import { once } from '../../core/memo.ts';
import type { SoundMeasured } from '../../core/decoded.ts';
import type { Footage } from '../../core/footage.ts';
import { defineRule, set, type SheetContext } from '../../core/rule.ts';
import { num, percentText, quoted, secondsText } from '../../core/say.ts';
import type { Recording, SoundApart, Take } from '../../core/takes.ts';

const limits = {
  allow: { quantity: 'number', default: '1', meaning: 'Frames by which sound may be early or late.' },
} as const;

const messages = {
  found: '{sound} starts {starts} into {clip}: there both heard the same ({alike} alike).',
  off: '{sound} is said to start {said} into {clip}; by what both heard it starts at {starts}: {frames} frames {way}.',
  drifts:
    '{sound} runs apart from {clip} by {drift} over its {length}, {frames} frames: the clocks of the recorders differ by {parts} parts in a million. Stretch the sound by as much, or cut it where nobody hears it.',
  unlike:
    '{sound} and {clip} do not sound alike anywhere, so where it starts was not found. See whether it is the sound of this take.',
} as const;

export default defineRule({
  id: 'sound-apart-off',
  family: 'takes',
  summary:
    'Sound that was recorded apart does not lie where the sheet says, or its clock runs apart from the camera’s.',
  severity: 'warning',
  sources: ['correlation of the onsets that both recorders heard'],
  limits,
  messages,
  take(take, context) {
    const pair = pairOf(take, context.footage);
    if (!pair) return;
    const offset = offsetIn(pair.camera, pair.apart);
    if (offset) {
      placed(pair, offset, context);
      drifting(pair, offset, context);
    } else if (!take.sound?.starts) {
      context.report({ message: 'unlike', severity: 'info', data: wordsOf(pair), at: pair.path });
    }
  },
});

type Ctx = SheetContext<typeof messages, typeof limits>;

/** Two recordings of one take in both of which something is heard. */
interface Pair {
  readonly clip: Recording;
  readonly path: Recording;
  readonly block: SoundApart;
  readonly camera: SoundMeasured;
  readonly apart: SoundMeasured;
  readonly fps: number;
}

function pairOf(take: Take, footage: Footage | undefined): Pair | undefined {
  const found = decodedTake(take, footage);
  const path = take.sound?.path;
  const apart = path && footage?.decoded('clip', path.value)?.sound;
  const camera = found?.decoded.sound;
  if (!found || !path || !camera || !apart || isQuiet(camera) || isQuiet(apart)) return undefined;
  return { clip: found.clip, path, block: take.sound!, camera, apart, fps: found.decoded.picture?.fps ?? 25 };
}

function wordsOf({ clip, path }: Pair) {
  return { sound: quoted(path.text), clip: quoted(clip.text) };
}

function placed(pair: Pair, { offsetS, alike }: SoundOffset, { limits, report }: Ctx): void {
  const { block, path, fps } = pair;
  const { starts } = block;
  const text = `${num(offsetS, 2)} s`;
  const fixes = [set(`Write that it starts at ${text}`, [block, 'starts', text])];
  if (!starts) {
    const data = { ...wordsOf(pair), starts: text, alike: percentText(alike) };
    report({ message: 'found', severity: 'info', data, at: path, fixes });
    return;
  }
  const late = starts.value - offsetS;
  if (Math.abs(late) * fps <= limits.allow) return;
  const frames = num(Math.abs(late) * fps, 1);
  const data = { ...wordsOf(pair), said: starts.text, starts: text, frames, way: late > 0 ? 'late' : 'early' };
  report({ message: 'off', data, at: starts, excess: Math.abs(late), fixes });
}

function drifting(pair: Pair, { driftS = 0 }: SoundOffset, { limits, report }: Ctx): void {
  const { path, apart, fps } = pair;
  const drift = Math.abs(driftS);
  if (drift * fps <= limits.allow) return;
  const data = {
    ...wordsOf(pair),
    drift: secondsText(drift),
    length: secondsText(apart.durationS, 0),
    frames: num(drift * fps, 1),
    parts: num((drift / apart.durationS) * 1e6, 0),
  };
  report({ message: 'drifts', data, at: path, excess: drift });
}

const offsets = once<SoundMeasured, Map<SoundMeasured, SoundOffset | undefined>>(() => new Map());

/** Looked for once for each two recordings. */
function offsetIn(camera: SoundMeasured, apart: SoundMeasured): SoundOffset | undefined {
  const known = offsets(camera);
  if (!known.has(apart)) known.set(apart, soundOffset(envelopeFrom(camera.envelope), envelopeFrom(apart.envelope)));
  return known.get(apart);
}

/** Nothing is found in what neither heard. */
function isQuiet({ halfSecondsDb }: SoundMeasured): boolean {
  return halfSecondsDb.every((db) => db < -70);
}
