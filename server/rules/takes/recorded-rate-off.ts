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
import { sayRecorded } from './say-recorded.ts';

export default defineRule({
  id: 'recorded-rate-off',
  family: 'takes',
  summary: 'A clip was recorded at another rate than its shot plans.',
  severity: 'warning',
  sources: ['arithmetic: frames that are left out or shown twice are the difference of the two rates'],
  yieldsTo: ['recorded-rate-varies'],
  messages: {
    off: '{clips}: recorded at {rate} frames a second where {planned} is planned{effect}. Set the camera to {planned} and {again}.',
  },
  sheet(sheet, { film, footage, report }) {
    const faults = recordedClips(sheet, footage).flatMap((of) => faultOf(of) ?? []);
    for (const same of alike(faults)) {
      const [{ of, planned, rate }] = same as [RateFault];
      const data = { clips: clipNames(same), rate, planned: planned.text, effect: effect(of, film), again };
      report({
        message: 'off',
        data,
        at: of.clip,
        shot: of.take.shot,
        related: places(same, planned),
        fixes: [sayRecorded(`${rate} was`, same, 'rate', (one) => one.rate)],
      });
    }
  },
});

interface RateFault extends Fault {
  readonly planned: NonNullable<NonNullable<RecordedTake['take']['asSet']>['camera']['rate']>;
  readonly rate: string;
}

/** Frames by which a take may slip: less than half of one is nowhere seen. */
const seenFrames = 0.5;

function faultOf(of: RecordedTake): RateFault | undefined {
  const { take, video, lengthS } = of;
  const planned = take.asSet?.camera.rate;
  // What the camera slowed by itself, and a time-lapse, stand in the file at the rate of showing.
  if (!planned || !video || take.captured || take.asSet?.interval || video.unevenFrames > 1) return undefined;
  const slipped = Math.abs(video.rate - rateFps(planned.value)) * lengthS;
  const rate = rateName(video.rate);
  // A clock that is a little off is said as the rate that it is set to.
  if (slipped < seenFrames || rate === rateName(rateFps(planned.value)) || isNear(video.rate, rateFps(planned.value)))
    return undefined;
  return { of, planned, rate, key: `${rate} ${planned.text}` };
}

/** A phone's clock is off by so much and its rate is still the one that is planned; 29.97 against 30 is more. */
const clockShare = 0.0008;

function isNear(rate: number, planned: number): boolean {
  return Math.abs(rate / planned - 1) < clockShare;
}

function effect({ take, video }: RecordedTake, film: Film): string {
  const shown = shownRate(take.shot, film);
  if (!shown || !video) return '';
  const line = rateFps(shown);
  const ratio = video.rate / line;
  const whole = Math.max(1, Math.round(ratio));
  const lost = Math.abs(ratio - whole) * line;
  const where = `: in a ${rateName(line)} timeline`;
  if (lost < 1e-3) return whole === 1 ? '' : `${where} one frame of ${whole} is used`;
  const how = ratio > 1 ? 'is left out' : 'is shown twice';
  const often = lost >= 0.7 ? `${times(lost)} a second` : `every ${Math.round(1 / lost)} s`;
  return `${where} a frame ${how} ${often}, and what moves stutters`;
}

function times(count: number): string {
  const whole = Math.round(count);
  return whole === 1 ? 'once' : whole === 2 ? 'twice' : `${whole} times`;
}
