import { bands, beatHz, lampRippleHz, swingStops } from '../../calc/flicker.ts';
import { rateFps } from '../../calc/rate.ts';
import { mainsLight, mainsSwing } from '../../core/derived/pulses.ts';
import { angleInFilm, halfFrameS, mainsShuttersS, stepping, steadyShuttersS } from '../../core/derived/shutters.ts';
import { moves, shutterSeconds } from '../../core/derived/time.ts';
import type { Film, Shot } from '../../core/film.ts';
import { defineRule, type FixIdea } from '../../core/rule.ts';
import { num, percentText, shutterText } from '../../core/say.ts';
import type { Seconds } from '../../core/units.ts';
import { shutterFix } from './shutter-fix.ts';
import { mainsNames, withoutMains } from './without-mains-light.ts';
import { framesAlike } from './frames-alike.ts';

export default defineRule({
  id: 'mains-light-flickers',
  family: 'time',
  summary: 'Lamps on mains pulse at twice the mains frequency, and the shutter does not average the pulses.',
  severity: 'warning',
  sources: [
    'transform of a rectangular pulse, sin(πFt) ÷ (πFt)',
    'California JA10 (less than 30 % modulation under 200 Hz) and IEEE 1789-2015 for the size of ripples',
    'ripple by kind of lamp: common practice, no source',
  ],
  limits: {
    note: { quantity: 'share', default: '2 %', meaning: 'Swing of the brightness from which it is worth knowing.' },
    allow: { quantity: 'share', default: '5 %', meaning: 'Swing of the brightness from which it is a warning.' },
  },
  messages: {
    swings:
      "{shot}: {shutter} under {hz} Hz mains makes the picture's brightness swing by {swing} ({stops} stop){how}: {lamps} {pulse} {pulses} times a second{assumed}. {way}",
  },
  yieldsTo: ['rate-foreign-to-region'],
  shot(shot, { film, limits, report }) {
    const timeS = shutterSeconds(shot);
    const { rate, shutter } = shot.camera;
    const light = mainsLight(shot);
    if (timeS === undefined || !rate || !shutter || !light || film.mainsHz === undefined) return;
    const swing = mainsSwing(shot, film, timeS) ?? 0;
    if (swing < limits.note * (1 - 1e-6) || framesAlike(shot, film.mainsHz)) return;
    const many = light.lamps.length + (light.room ? 1 : 0) > 1 || light.room;
    report({
      message: 'swings',
      data: {
        shot: shot.name,
        shutter: shutter.text,
        hz: film.mainsHz,
        swing: percentText(swing, 1),
        stops: num(swingStops(swing), 2),
        how: how(shot, film.mainsHz),
        lamps: mainsNames(light),
        pulse: many ? 'pulse' : 'pulses',
        pulses: lampRippleHz(film.mainsHz),
        assumed:
          light.assumed === undefined
            ? ''
            : `, by ${percentText(light.assumed)} either way (usual, not stated in the kit)`,
        way: way(shot, film),
      },
      at: shutter,
      severity: swing < limits.allow * (1 - 1e-6) ? 'info' : 'warning',
      fixes: () => [...shutters(shot, film).map((one) => fixTo(shot, film, one)), ...withoutMains(shot, light)],
    });
  },
});

/** How it looks: how fast it rolls, and in how many bands. */
function how(shot: Shot, mainsHz: number): string {
  const ripple = lampRippleHz(mainsHz);
  const beat = beatHz(ripple, rateFps(shot.camera.rate!.value));
  const readoutS = shot.camera.mode?.readout?.value;
  const count = readoutS === undefined ? 0 : bands(ripple, readoutS);
  const inBands = count >= 0.75 ? ` in about ${num(count, 0)} ${count < 1.5 ? 'band' : 'bands'}` : '';
  if (beat < 1e-6) return `${inBands}, nearly standing still`;
  return beat < 1 ? `${inBands}, rolling once in ${num(1 / beat, 1)} s` : `${inBands}, ${num(beat, 1)} times a second`;
}

/** Steady shutters, near half a frame where something moves; else the one nearest to the present light. */
function shutters(shot: Shot, film: Film): Seconds[] {
  const step = stepping(shot, film);
  if (!step) return [];
  const clean = mainsShuttersS(shot, film, step.fps);
  const near = steadyShuttersS(shot, film, step, 40).filter((timeS) => clean.includes(timeS));
  if (near.length > 0) return near.slice(0, 2);
  const wanted = moves(shot) ? halfFrameS(step) : shutterSeconds(shot)!;
  const apart = (timeS: Seconds) => Math.abs(Math.log2(timeS / wanted));
  return [...clean].sort((a, b) => apart(a) - apart(b)).slice(0, 1);
}

function fixTo(shot: Shot, film: Film, timeS: Seconds): FixIdea {
  return shutterFix(shot, film, stepping(shot, film)!, timeS);
}

function way(shot: Shot, film: Film): string {
  const best = shutters(shot, film)[0];
  const step = stepping(shot, film);
  if (best === undefined || !step) return 'Use lamps that do not pulse.';
  const count = Math.round(best * lampRippleHz(film.mainsHz!));
  const angle = num(angleInFilm(best, step), 1);
  return `${shutterText(best)} holds ${count === 1 ? 'one whole pulse' : `${count} whole pulses`} and is steady (${angle}°).`;
}
