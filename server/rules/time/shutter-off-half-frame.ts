import { blurPx } from '../../calc/motion.ts';
import { rateFps } from '../../calc/rate.ts';
import {
  angleInFilm,
  halfFrameS,
  isSettable,
  type Stepping,
  steadyShuttersS,
  stepping,
} from '../../core/derived/shutters.ts';
import { exposureError } from '../../core/derived/light.ts';
import { frameStep, type FrameStep, largest, longSide } from '../../core/derived/motion.ts';
import { showingsOf } from '../../core/derived/showings.ts';
import { moves, shutterSeconds } from '../../core/derived/time.ts';
import type { Film, Shot } from '../../core/film.ts';
import { once } from '../../core/memo.ts';
import { defineRule, type FixIdea } from '../../core/rule.ts';
import { angleText, percentText, pixelsText, quoted, shutterText } from '../../core/say.ts';
import type { Degrees, Seconds, Stops } from '../../core/units.ts';
import { isOfShutter } from '../exposure/of-shutter.ts';
import { canRecord, stepsEvenly } from './rates.ts';
import { shutterFix } from './shutter-fix.ts';

const shortWords = ['staccato-motion', 'frozen-motion', 'flowing-motion'] as const;
const longWords = ['smeared-motion', 'flowing-motion'] as const;

export default defineRule({
  id: 'shutter-off-half-frame',
  family: 'time',
  summary: 'The exposure of each frame is far from half a frame, so motion stutters or smears.',
  severity: 'warning',
  sources: [
    'common practice, no source (half a frame, 180°)',
    '172.8° at 24 frames/s under 50 Hz lamps is published practice',
  ],
  limits: {
    allow: { quantity: 'angle', default: '40°', meaning: 'How far the shutter angle may be from 180°.' },
  },
  messages: {
    short: '{shot}: {shutter} at {rate} is {angle} where 180° is usual: {look}. 180° is {half}.',
    long: '{shot}: {shutter} at {rate} is {angle} where 180° is usual: {look}. 180° is {half}.',
    played:
      '{shot}: {shutter} at {rate}, played at {speed} in a {edit} film, is {angle} where 180° is usual: {look}. {way}',
  },
  yieldsTo: ['rate-foreign-to-region', 'splash-not-frozen'],
  shot(shot, { film, limits, report }) {
    const timeS = shutterSeconds(shot);
    const { rate, shutter } = shot.camera;
    const step = stepping(shot, film);
    if (timeS === undefined || !rate || !shutter || !step) return;
    if (!moves(shot) && !goesWithMoving(shot, film, limits.allow)) return;
    // A shutter longer than the frame is a setting that no camera has: another rule's business.
    if (timeS * step.fps > 1 + 1e-9) return;
    const angle = angleInFilm(timeS, step);
    if (Math.abs(angle - 180) <= limits.allow + 1e-6) return;
    const short = angle < 180;
    if (short && isShortMeant(shot, film, { step, timeS, allow: limits.allow })) return;
    const small = smallStep(shot, film, step);
    const isMild = isMildlyShort(shot, film, angle);
    if (small && small.px < unseenPx) return;
    const look = lookText(short, small, isMild);
    const data = { shot: shot.name, shutter: shutter.text, rate: rate.text, angle: angleText(angle), look };
    const common = {
      at: shutter,
      excess: Math.abs(angle - 180),
      severity: small || isMild ? ('info' as const) : undefined,
      cause: shutter,
      fixes: () => fixes(shot, film, step, limits.allow),
      explainedBy: short ? shortWords : longWords,
    };
    const half = shutterText(halfFrameS(step));
    if (step.k > 1 + 1e-9) {
      const edit = film.timeline.rate?.text ?? '';
      const played = { speed: percentText(step.speed, 2), edit, way: way(step) };
      report({ message: 'played', data: { ...data, ...played }, ...common });
    } else {
      report({ message: short ? 'short' : 'long', data: { ...data, half }, ...common });
    }
  },
});

/** About a quarter of a frame is a look that many choose (common practice, no source). */
const mildDeg: Degrees = 80;

function isMildlyShort(shot: Shot, film: Film, angle: Degrees): boolean {
  return angle < 180 && angle >= mildDeg && !isExposedWrongly(shot, film);
}

/** Steps that nobody sees, and those that do not judder however short the exposure, in pixels of 1920 (common practice, no source). */
const unseenPx = 1.5;
const smallPx = 1920 * 0.006 * 1.1;

/** How far things move from frame to frame, where that is so little that it hardly matters how long each is exposed. */
function smallStep(shot: Shot, film: Film, { fps, k }: Stepping): FrameStep | undefined {
  if (!moves(shot) || isExposedWrongly(shot, film)) return undefined;
  const found = frameStep(shot, film, Math.max(1, k) / fps);
  return found && found.px <= smallPx ? found : undefined;
}

function lookText(short: boolean, small: FrameStep | undefined, isMild: boolean): string {
  if (!small && isMild) return 'what moves is crisper than usual and stutters a little';
  if (!small) return `what moves will ${short ? 'stutter' : 'smear'}`;
  const { px, deliverable } = small;
  const shownPx = pixelsText(px * longSide(deliverable.raster!.value), 0);
  return `what moves goes ${shownPx} a frame in ${quoted(deliverable.name)} and ${short ? 'stutters' : 'smears'} a little`;
}

interface Short {
  readonly step: Stepping;
  readonly timeS: Seconds;
  readonly allow: Degrees;
}

function isShortMeant(shot: Shot, film: Film, { step, timeS, allow }: Short): boolean {
  const isUsual = isSlowed(angleInFilm(timeS, step), step, allow) || isPlayedFast(timeS, step, allow);
  return isUsual || wouldFlow(shot, film, halfFrameS(step));
}

/** Of which every picture is shown, at half speed or more slowly: its steps are small, and a quarter of a frame is as usual. */
function isSlowed(angle: Degrees, { speed, k }: Stepping, allow: Degrees): boolean {
  return speed <= 0.5 + 1e-9 && k <= 1 + 1e-9 && angle >= 90 - allow / 2;
}

/** Exposed as usual for the film's rate and played faster: that it hops is what such a piece looks like. */
function isPlayedFast(timeS: Seconds, { fps, k, speed }: Stepping, allow: Degrees): boolean {
  const shownFps = (fps * speed) / k;
  return speed > 1 && Math.abs(timeS * shownFps * 360 - 180) <= allow + 1e-6;
}

/** From so many pixels of 1920 on, what moves flows (common practice, no source). */
const flowsPx = 20;

/** Would half a frame draw what moves out until it flows? A shorter shutter is the cure for that. */
function wouldFlow(shot: Shot, film: Film, timeS: Seconds): boolean {
  const speed = shot.action?.fastest?.value;
  return (
    speed !== undefined &&
    showingsOf(shot, film).some((showing) => {
      const found = largest(showing);
      const most = found && flowsPx * longSide(found.deliverable.raster!.value);
      return found && blurPx(speed, timeS, found.pxPerMm) > most!;
    })
  );
}

/** A still shot whose exposure is off by the shutter that it shares with one that moves: one cause, said there. */
function goesWithMoving(shot: Shot, film: Film, allow: Degrees): boolean {
  return isExposedWrongly(shot, film) && (offByMoving(film).get(placeOf(shot)) ?? 0) > allow + 1e-6;
}

/** Too dark or too bright by this shutter: said here, so as loud as that is. */
function isExposedWrongly(shot: Shot, film: Film): boolean {
  const error = exposureError(shot, 0);
  return error !== undefined && Math.abs(error) > offStops && isOfShutter(shot, film, error, offStops);
}

/** As far as `exposure-off` lets it be. */
const offStops: Stops = 1;

/** By place of the shutter, how far moving shots that say nothing else on purpose are from half a frame at most. */
const offByMoving = once((film: Film): ReadonlyMap<string, Degrees> => {
  const found = new Map<string, Degrees>();
  for (const shot of film.shots.values()) {
    const [timeS, step] = [shutterSeconds(shot), stepping(shot, film)];
    if (timeS === undefined || !step || !moves(shot) || isMeant(shot)) continue;
    if ((smallStep(shot, film, step)?.px ?? unseenPx) < unseenPx) continue;
    const off = Math.abs(angleInFilm(timeS, step) - 180);
    found.set(placeOf(shot), Math.max(off, found.get(placeOf(shot)) ?? 0));
  }
  return found;
});

function placeOf({ camera: { shutter } }: Shot): string {
  return `${shutter?.file ?? ''} ${shutter?.start}`;
}

function isMeant({ onPurpose }: Shot): boolean {
  return onPurpose.some(({ value }) => [...shortWords, ...longWords].some((word) => word === value));
}

/** What 180° takes where frames are stepped over: from a step of two on, no shutter fits into the frame. */
function way(step: Stepping): string {
  const half = halfFrameS(step);
  if (half * step.fps <= 1 + 1e-9) return `180° is ${shutterText(half)}.`;
  return `No shutter reaches 180°, as ${shutterText(half)} is longer than a frame: record at a lower rate, or play it slower.`;
}

/** The steadiest shutter near half a frame, then half a frame itself. */
function fixes(shot: Shot, film: Film, step: Stepping, allow: number): FixIdea[] {
  const best = steadyShuttersS(shot, film, step, allow)[0];
  const half = halfFrameS(step);
  const choices = [best, isSettable(shot, half, step.fps) ? half : undefined].filter((timeS) => timeS !== undefined);
  const seen = new Set<string>();
  const made = choices.filter((timeS) => !seen.has(shutterText(timeS)) && seen.add(shutterText(timeS)));
  if (made.length > 0) return made.map((timeS) => shutterFix(shot, film, step, timeS));
  return recordAtTimeline(shot, film, step, allow);
}

/** Recording at the film's own rate, where the camera can, no piece then lacks frames, and none steps over too many. */
function recordAtTimeline(shot: Shot, film: Film, now: Stepping, allow: number): FixIdea[] {
  const edit = film.timeline.rate;
  if (
    !edit ||
    Math.abs(rateFps(edit.value) - now.fps) < 1e-6 ||
    !canRecord(shot, edit.value) ||
    !stepsEvenly(shot, film, edit.value)
  )
    return [];
  const step = { fps: rateFps(edit.value), k: now.speed, speed: now.speed };
  const timeS = steadyShuttersS(shot, film, step, allow)[0];
  return timeS === undefined ? [] : [shutterFix(shot, film, step, timeS, edit.text)];
}
