import type { StillRun } from '../../calc/repeats.ts';
import { decodedTake, takeAgain, usedStretches } from '../../core/derived/decoded-takes.ts';
import { defineRule } from '../../core/rule.ts';
import { num, quoted, secondsText } from '../../core/say.ts';
import type { Ends, Seconds } from '../../core/units.ts';

export default defineRule({
  id: 'frames-repeat',
  family: 'takes',
  summary: 'Frames of a clip repeat the one before, or the picture stands still for a while.',
  severity: 'warning',
  sources: ['difference of each frame from the one before', 'common practice, no source (how many are seen)'],
  limits: {
    allow: { quantity: 'share', default: '0.5 %', meaning: 'How many of the frames may repeat the one before.' },
  },
  messages: {
    stutters:
      '{clip}: {count} of {frames} frames repeat the one before while things move{often}, the first at {first}: it stutters. Record at the rate that is edited, to a card that is fast enough, and {again}.',
    stands:
      '{clip}: the picture stands still from {from} to {to} though things move before and after. Look at it there: use a part without it, or {again}.',
  },
  take(take, { film, footage, limits, report }) {
    const found = decodedTake(take, footage);
    const picture = found?.decoded.picture;
    if (!found || !picture || take.asSet?.interval || take.captured) return;
    const { single, still } = picture.repeats;
    const data = { clip: quoted(found.clip.text), again: takeAgain };
    const common = { at: take.part ?? found.clip, shot: take.shot };
    const used = usedStretches(take, film);
    const inUse = (run: StillRun) => isUsed({ from: run.fromFrame / picture.fps, to: run.toFrame / picture.fps }, used);
    const repeated = single.filter((frame) => inUse({ fromFrame: frame, toFrame: frame }));
    if (repeated.length >= leastRepeats && single.length > limits.allow * picture.frames) {
      const texts = {
        count: single.length,
        frames: picture.frames,
        often: oftenText(single),
        first: secondsText(repeated[0]! / picture.fps),
      };
      report({ message: 'stutters', data: { ...data, ...texts }, excess: single.length / picture.frames, ...common });
    }
    const stands = still.find(inUse);
    if (!stands) return;
    const texts = {
      from: secondsText(stands.fromFrame / picture.fps),
      to: secondsText((stands.toFrame + 1) / picture.fps),
    };
    report({ message: 'stands', data: { ...data, ...texts }, ...common });
  },
});

/** One or two may be a hiccup that nobody sees. */
const leastRepeats = 3;

/** Where the cut does not say what it uses, all counts. */
function isUsed({ from, to }: Ends<Seconds>, used: readonly Ends<Seconds>[]): boolean {
  return used.length === 0 || used.some((one) => from < one.to && to > one.from);
}

/** `, one in 5`: where they come evenly, it was converted from another rate. */
function oftenText(frames: readonly number[]): string {
  const steps = frames.slice(1).map((frame, index) => frame - frames[index]!);
  const [usual] = [...steps].sort((a, b) => a - b).slice(Math.floor(steps.length / 2));
  const even = steps.filter((step) => step === usual).length;
  return usual !== undefined && usual > 1 && even > 0.7 * steps.length ? `, one in ${num(usual, 0)}` : '';
}
