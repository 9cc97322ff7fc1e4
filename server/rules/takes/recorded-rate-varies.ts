import { rateFps } from '../../calc/rate.ts';
import {
  again,
  alike,
  clipNames,
  type Fault,
  places,
  rateName,
  type RecordedTake,
  recordedClips,
  shownRate,
} from '../../core/derived/recorded-clips.ts';
import type { Film } from '../../core/film.ts';
import { defineRule } from '../../core/rule.ts';
import { num } from '../../core/say.ts';

export default defineRule({
  id: 'recorded-rate-varies',
  family: 'takes',
  summary: 'The frames of a clip do not stand equally long, as phones record where nothing fixes the rate.',
  severity: 'warning',
  sources: ['ISO/IEC 14496-12, 8.6.1: the table of times from sample to sample'],
  limits: {
    allow: {
      quantity: 'share',
      default: '0.5 %',
      meaning: 'Up to this share of the frames may stand shorter or longer than the others by more than a fifth.',
    },
  },
  messages: {
    varies:
      '{clips}: recorded at {rate} frames a second on the average, with steps of {smallest} to {largest} ms{planned}{effect}. Set the camera to a fixed rate and {again}.',
  },
  sheet(sheet, { film, footage, limits, report }) {
    const all = recordedClips(sheet, footage);
    const faults = all.flatMap((of) => (isUneven(of, limits.allow) ? [{ of, key: 'uneven' }] : []));
    for (const same of alike<Fault>(faults)) {
      const { of } = worst(same);
      const planned = of.take.asSet?.camera.rate;
      const video = of.video!;
      report({
        message: 'varies',
        data: {
          clips: clipNames(same),
          rate: rateName(video.rate),
          smallest: num(video.smallestStepS * 1000, 0),
          largest: num(video.largestStepS * 1000, 0),
          planned: planned ? `, where ${planned.text} is planned` : '',
          effect: effect(of, film),
          again,
        },
        at: same[0]!.of.clip,
        excess: video.unevenFrames / video.frames,
        shot: of.take.shot,
        related: places(same, planned),
      });
    }
  },
});

/** One odd step at the start or the end of a recording is no varying rate. */
const oddSteps = 2;

function isUneven({ video, take }: RecordedTake, allow: number): boolean {
  return (
    video !== undefined &&
    !take.asSet?.interval &&
    video.unevenFrames >= oddSteps &&
    video.unevenFrames > allow * video.frames
  );
}

function worst(faults: readonly Fault[]): Fault {
  const share = ({ of }: Fault) => of.video!.unevenFrames / of.video!.frames;
  return faults.reduce((most, one) => (share(one) > share(most) ? one : most));
}

function effect({ take, video }: RecordedTake, film: Film): string {
  const shown = shownRate(take.shot, film);
  if (!shown || !video) return '';
  const one = video.frames / video.unevenFrames;
  const often = one < 1.5 ? 'nearly every frame' : `about one frame in ${num(one, 0)}`;
  return `: in a ${rateName(rateFps(shown))} timeline ${often} comes too early or too late, and what moves stutters`;
}
