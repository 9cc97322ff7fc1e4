/** Camera settings: those that camera and lens have, the likeliest first. */
import { markedFNumbers, markedIsos } from '../../calc/exposure.ts';
import { focusHoldingMm } from '../../calc/optics.ts';
import { rateFps } from '../../calc/rate.ts';
import { exposureError } from '../../core/derived/light.ts';
import { baseIsoFor } from '../../core/derived/noise.ts';
import { mainsSwing, pulsedLights, pulsedSwing } from '../../core/derived/pulses.ts';
import { halfFrameS, isSettable, steadyShuttersS, stepping } from '../../core/derived/shutters.ts';
import { mustBeSharp } from '../../core/derived/sharp.ts';
import { shutterAngle, shutterSeconds } from '../../core/derived/time.ts';
import { trial } from '../../core/derived/showings.ts';
import { whitesOf } from '../../core/derived/white-points.ts';
import type { Film, Shot } from '../../core/film.ts';
import * as say from '../../core/say.ts';
import { rawAt } from '../../core/schema/fields.ts';
import { exposureNote, joined, nearestFirst, sharpNote, widthNote } from './notes.ts';
import type { FieldValues } from './field-values.ts';

/** Shutter times as cameras mark them, one over each (common practice, no source). */
const markedShutters = [24, 25, 30, 48, 50, 60, 80, 96, 100, 120, 125, 160, 200, 240, 250, 320, 400, 500, 1000, 2000];

/** A swing of the brightness from which flicker is worth a word. */
const seenSwing = 0.02;

export const shutter: FieldValues = {
  texts({ film, shots: [shot] }) {
    const step = shot && stepping(shot, film);
    if (!shot || !step) return [];
    const half = halfFrameS(step);
    const marked = markedShutters.map((one) => 1 / one).filter((timeS) => isSettable(shot, timeS, step.fps));
    const near = nearestFirst(marked, half);
    const times = [...steadyShuttersS(shot, film, step, 40).slice(0, 3), ...near].map(say.shutterText);
    return [...new Set(times)].slice(0, 8);
  },
  note({ film, shots: [shot] }) {
    const angle = shot && shutterAngle(shot);
    if (!shot || shutterSeconds(shot) === undefined) return '';
    return joined(angle === undefined ? '' : say.angleText(angle), flicker(shot, film), exposureNote(shot));
  },
};

/** Set once, at the distance that is best for all that must be sharp, or following. */
export const focus: FieldValues = {
  texts({ film, shots: [shot] }) {
    const wanted = shot && mustBeSharp(shot, film, 0);
    const bestMm = wanted && wanted.nearMm > 0 ? focusHoldingMm(wanted.nearMm, wanted.farMm) : undefined;
    return ['locked', ...(bestMm ? [`${say.num(bestMm / 10, 1)} cm`] : []), 'follow'];
  },
  note({ film, shots: [shot] }, text) {
    if (text === 'locked') return 'on the subject, when the action starts';
    if (text === 'follow') return 'on the subject throughout';
    return text === 'auto' ? '' : sharpNote(shot, film);
  },
};

/** All that there are: those that no mode of the camera has come last, with what is to be said of them. */
export const colourSpace: FieldValues = {
  texts: () => rawAt('shoot', ['camera', 'colour-space'])?.enum ?? [],
  note: () => '',
};

function flicker(shot: Shot, film: Film): string {
  const timeS = shutterSeconds(shot)!;
  if ((mainsSwing(shot, film, timeS) ?? 0) >= seenSwing) return 'mains light flickers';
  const pulsed = pulsedLights(shot).some((one) => pulsedSwing(one, timeS) >= seenSwing);
  return pulsed ? 'pulsed light flickers' : 'no flicker';
}

/** Stops over what is planned with another setting; 0 where it is not known. */
function errorWith(shot: Shot | undefined, change: Partial<Shot['camera']>): number {
  const error = shot && exposureError({ ...shot, camera: { ...shot.camera, ...change } }, 0);
  return error !== undefined && Number.isFinite(error) ? error : 0;
}

export const aperture: FieldValues = {
  texts({ shots: [shot] }) {
    const range = shot?.camera.lens?.aperture?.value;
    const marks = markedFNumbers.filter((n) => !range || (n >= range.from * 0.999 && n <= range.to * 1.001));
    // A stop is the square root of two in the f-number.
    const [start = 5.6] = nearestFirst(marks, 5.6);
    const wanted = start * 2 ** (errorWith(shot, { aperture: trial(start) }) / 2);
    return nearestFirst(marks, wanted).map(say.apertureText);
  },
  note: ({ film, shots: [shot] }) => joined(sharpNote(shot, film), exposureNote(shot)),
};

export const iso: FieldValues = {
  texts({ shots: [shot] }) {
    const range = shot?.camera.body?.iso?.value;
    const bases = (shot?.camera.body?.baseIsos ?? []).map(({ value }) => value);
    const marks = markedIsos.filter((one) => !range || (one >= range.from && one <= range.to));
    // One that the camera has, for with another no exposure is known.
    const start = bases[0] ?? marks[0] ?? 100;
    const wanted = start / 2 ** errorWith(shot, { iso: trial(start) });
    return [...new Set([...nearestFirst(marks, wanted, 6), ...bases])].map(String);
  },
  note({ shots: [shot] }, text) {
    if (!/^\d/.test(text)) return '';
    const base = baseIsoFor(shot?.camera.body, Number(text));
    const over = base ? Math.log2(Number(text) / base) : 0;
    const noise =
      Math.abs(over) < 0.05
        ? base
          ? 'the base'
          : ''
        : `${say.stopsText(over)} ${over > 0 ? 'above' : 'below'} the base`;
    return joined(exposureNote(shot), noise);
  },
};

/** Where no light is known: lamps of filament, mixed rooms, daylight lamps, a cloudy sky (common practice, no source). */
const usualWhites = [3200, 4300, 5000, 5600, 6500];

export const whiteBalance: FieldValues = {
  texts({ shots: [shot] }) {
    const whites = shot && whitesOf(shot);
    const lights = whites ? [...(whites.key ? [whites.key] : []), ...whites.all] : [];
    const neutral = lights.map(({ mired }) => Math.round(1e6 / mired.from / 10) * 10);
    return [...new Set([...neutral, ...usualWhites])].slice(0, 8).map(say.kelvinText);
  },
  note({ shots: [shot] }, text) {
    const whites = shot && whitesOf(shot);
    const same = (one: { mired: { from: number } }) => Math.abs(1e6 / one.mired.from - Number.parseInt(text)) < 10;
    const light = whites?.all.find((one) => same(one));
    if (!light) return '';
    const what = light.lamp ? `\`${light.lamp.name}\`` : 'the room';
    return `the white of ${what}${light === whites?.key ? ', the key' : ''}`;
  },
};

/** Distances over a table, in cm (common practice, no source). */
const tableDistances = [30, 40, 50, 60, 80, 100, 120, 150, 200];

export const distance: FieldValues = {
  texts({ shots: [shot] }) {
    const { lens, distance: now } = shot?.camera ?? {};
    const least = ((lens?.nearestFocus?.value ?? 0) - (lens?.frontToSensorMm ?? 0)) / 10;
    const target = now ? now.value.from / 10 : 60;
    const own = now && now.value.from === now.value.to ? [target] : [];
    return nearestFirst([...own, ...tableDistances.filter((cm) => cm >= least)], target).map(
      (cm) => `${say.num(cm)} cm`,
    );
  },
  note: ({ film, shots: [shot] }) => joined(widthNote(shot), sharpNote(shot, film)),
};

export const focal: FieldValues = {
  texts({ shots: [shot] }) {
    const range = shot?.camera.lens?.focal?.value;
    if (!range) return [];
    if (range.from === range.to) return [`${say.num(range.from)} mm`];
    const steps = Array.from({ length: 6 }, (_, index) => range.from * (range.to / range.from) ** (index / 5));
    return [...new Set(steps.map((mm) => `${Math.round(mm)} mm`))];
  },
  note: ({ film, shots: [shot] }) => joined(widthNote(shot), sharpNote(shot, film)),
};

export const raster: FieldValues = {
  texts: ({ shots: [shot] }) =>
    [...new Set(shot?.camera.body?.modes.flatMap((mode) => mode.raster?.text ?? []))].slice(0, 8),
  note: ({ shots: [shot] }) => modeNote(shot),
};

export const rate: FieldValues = {
  texts({ film, shots: [shot] }) {
    const { body, raster: size } = shot?.camera ?? {};
    const same = (text: string | undefined) => !size || text === size.text;
    const rates = (body?.modes ?? []).filter((mode) => same(mode.raster?.text)).flatMap((mode) => mode.rates);
    const edited = film.timeline.rate ? rateFps(film.timeline.rate.value) : 25;
    const texts = new Map(rates.map((one) => [rateFps(one.value), one.text]));
    return nearestFirst([...texts.keys()], edited).map((fps) => texts.get(fps)!);
  },
  note({ film, shots: [shot] }, text) {
    const edited = film.timeline.rate?.value;
    const times = edited ? Number(text) / rateFps(edited) : 1;
    return joined(times > 1.01 ? `${say.num(times, 2)}× slow motion` : '', modeNote(shot));
  },
};

function modeNote(shot: Shot | undefined): string {
  const mode = shot?.camera.mode;
  if (!mode) return '';
  const { codec, bits, bitrate, crop } = mode;
  return joined(codec, `${bits} bits`, bitrate?.text ?? '', crop > 1 ? `crops ${say.num(crop, 2)}×` : '');
}

export const refresh: FieldValues = {
  texts: ({ shots: [shot] }) => shot?.backdrop?.screen?.refreshes.map((one) => one.text) ?? [],
  note: () => '',
};
