import { bands, beatHz, isWholeMultiple, worstPulseSwing } from '../../calc/flicker.ts';
import { rateFps } from '../../calc/rate.ts';
import { backdropSeen } from '../../core/derived/optics.ts';
import { screenClock, screenPulses } from '../../core/derived/pulses.ts';
import { angleInFilm, stepping, steadyShuttersS } from '../../core/derived/shutters.ts';
import { showsMovingScreen, shutterSeconds } from '../../core/derived/time.ts';
import type { Film, Shot } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { listText, num, percentText, quoted, shutterText, timesText } from '../../core/say.ts';
import type { Hertz, Seconds } from '../../core/units.ts';
import { ratesOfRaster, stepsEvenly } from './rates.ts';
import { shutterFix } from './shutter-fix.ts';

/** Refresh against rate: whole within a thousandth (60 Hz against 59.94), as clocks of screens and cameras drift that much. */
const within = 0.0011;

export default defineRule({
  id: 'screen-out-of-step',
  family: 'time',
  summary: 'A screen in the picture is refreshed out of step with the shutter or the frame rate.',
  severity: 'warning',
  sources: ['common practice, no source (whole refreshes in every exposure)', 'arithmetic of a rectangular wave'],
  limits: {
    note: { quantity: 'share', default: '2 %', meaning: 'Swing of the screen from which it counts.' },
  },
  messages: {
    blinks:
      '{shot}: the light of {screen} pulses {hz} times a second{assumed}, and {shutter} holds {pulses} of its pulses: it flickers by up to {swing}{bands}. {way}',
    steps:
      '{shot}: {screen} shows a moving picture at {refresh} and the camera records {rate}: its steps are uneven {times} a second. {way}',
    tears:
      '{shot}: {screen} takes {draw} to draw a picture and {shutter} is shorter: the line between the old picture and the new one shows. Use {draw} or longer.',
  },
  shot(shot, { film, limits, report }) {
    const { backdrop, camera } = shot;
    const timeS = shutterSeconds(shot);
    if (!backdrop?.screen || !camera.shutter || timeS === undefined || backdrop.brightness?.value === 0) return;
    const data = { shot: shot.name, screen: quoted(backdrop.screen.name) };
    const blinks = blinking(shot, timeS);
    if (blinks && blinks.swing >= limits.note * (1 - 1e-6)) {
      const more = { ...blinks.data, shutter: camera.shutter.text };
      const fixes = [...steadier(shot, film, blinks.swing), ...fullBrightness(shot)];
      report({ message: 'blinks', data: { ...data, ...more }, at: camera.shutter, fixes });
    }
    const { refresh } = backdrop;
    if (!refresh || !camera.rate || !showsMovingScreen(shot)) return;
    const fps = rateFps(camera.rate.value);
    if (!isWholeMultiple(refresh.value, fps, within)) {
      const others = otherRefreshes(shot, fps);
      const more = {
        refresh: refresh.text,
        rate: camera.rate.text,
        times: timesText(unevenHz(refresh.value, fps), 1),
        way: stepWay(others, camera.rate.text),
      };
      const fixes = refreshFixes(shot, film, others, refresh.value);
      const severity = isBlurredAway(shot) ? ('info' as const) : undefined;
      report({ message: 'steps', data: { ...data, ...more }, at: refresh, fixes, severity });
    } else if (timeS * refresh.value < 1 - within && !isBlurredAway(shot)) {
      const more = { draw: shutterText(1 / refresh.value), shutter: camera.shutter.text };
      const fixes = longer(shot, film, refresh.value);
      report({ message: 'tears', data: { ...data, ...more }, at: camera.shutter, fixes });
    }
  },
});

/** Of the picture's width: a line that is drawn out so far is none any more (common practice, no source). */
const blurredAway = 0.04;

function isBlurredAway(shot: Shot): boolean {
  const seen = backdropSeen(shot);
  return seen !== undefined && seen.blurMm >= blurredAway * seen.widthMm;
}

/** How far a screen that is lit in pulses swings at a shutter, and the words for it. */
function blinking(shot: Shot, timeS: Seconds) {
  const pulses = screenPulses(shot);
  if (!pulses) return undefined;
  const swing = worstPulseSwing(pulses.hz, timeS, pulses.duty, screenClock);
  const dimmed = pulses.duty < 1 && !pulses.assumed;
  const data = {
    hz: num(pulses.hz, 0),
    assumed: pulses.assumed ? `, taken as lit ${percentText(pulses.duty)} of the time` : '',
    pulses: num(pulses.hz * timeS, 1),
    swing: percentText(swing, 1),
    bands: bandsText(shot, pulses.hz),
    way: dimmed ? 'At full brightness it would not pulse.' : 'A shutter of whole pulses is steadier.',
  };
  return { swing, data };
}

function stepWay(others: readonly string[], rate: string): string {
  if (others.length > 0) return `Set the screen to ${listText(others, 'or')}.`;
  return `Use a screen that can do a multiple of ${rate}, or put the picture in later.`;
}

function refreshFixes(shot: Shot, film: Film, others: readonly string[], refreshHz: Hertz): FixIdea[] {
  if (others.length === 0) return otherRates(shot, film, refreshHz);
  return others.map((text) => set(`Set the screen to ${text}`, [shot.backdrop!, 'refresh', text]));
}

/** How often a second one more, or one fewer, refresh falls into a frame. */
function unevenHz(refreshHz: Hertz, fps: number): number {
  return refreshHz < fps ? fps - refreshHz : beatHz(refreshHz, fps);
}

function bandsText(shot: Shot, hz: Hertz): string {
  const readoutS = shot.camera.mode?.readout?.value;
  const count = readoutS === undefined ? 0 : bands(hz, readoutS);
  if (count >= 50) return ' in fine lines';
  return count >= 1.5 ? ` in about ${num(count, 0)} bands` : '';
}

/** Refreshes of the kit that are whole multiples of the rate. */
function otherRefreshes({ backdrop }: Shot, fps: number): string[] {
  const all = backdrop?.screen?.refreshes ?? [];
  return all.filter((one) => isWholeMultiple(one.value, fps, within)).map((one) => one.text);
}

/** Rates of the camera that go into the refresh and leave no piece without frames. */
function otherRates(shot: Shot, film: Film, refreshHz: Hertz): FixIdea[] {
  const step = stepping(shot, film);
  if (!step) return [];
  const able = ratesOfRaster(shot).filter(
    (one) => isWholeMultiple(refreshHz, rateFps(one.value), within) && stepsEvenly(shot, film, one.value),
  );
  return able.slice(0, 1).flatMap((one) => {
    const fps = rateFps(one.value);
    const next = { ...step, fps, k: (step.k * fps) / step.fps };
    const timeS = steadyShuttersS(shot, film, next, 40).find((time) => time * refreshHz >= 1 - within);
    return timeS === undefined ? [] : [shutterFix(shot, film, next, timeS, one.text)];
  });
}

function steadier(shot: Shot, film: Film, swing: number): FixIdea[] {
  const step = stepping(shot, film);
  const pulses = screenPulses(shot)!;
  if (!step) return [];
  const left = (timeS: Seconds) => worstPulseSwing(pulses.hz, timeS, pulses.duty, screenClock);
  const best = steadyShuttersS(shot, film, step, 40).filter((timeS) => left(timeS) < swing * 0.67);
  return best.slice(0, 1).map((timeS) => shutterFix(shot, film, step, timeS));
}

function fullBrightness({ backdrop }: Shot): FixIdea[] {
  const panel = backdrop!.screen!.panel?.value;
  const level = backdrop!.brightness?.value ?? 1;
  if (level >= 1 || panel === 'oled' || panel === 'projector') return [];
  const price = num(Math.log2(1 / level), 1);
  return [set(`Set the screen to 100 % (no pulses, ${price} stops brighter)`, [backdrop!, 'brightness', '100 %'])];
}

/** The shutter nearest to half a frame that holds whole refreshes. */
function longer(shot: Shot, film: Film, refreshHz: Hertz): FixIdea[] {
  const step = stepping(shot, film);
  if (!step) return [];
  const able = steadyShuttersS(shot, film, step, 40).filter((timeS) => timeS * refreshHz >= 1 - within);
  const least = 1 / refreshHz;
  const choices = able.length > 0 ? able : least * step.fps <= 1 + 1e-9 && angleInFilm(least, step) > 0 ? [least] : [];
  return choices.slice(0, 1).map((timeS) => shutterFix(shot, film, step, timeS));
}
