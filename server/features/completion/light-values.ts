/** Lamps: levels, distances and temperatures that the lamp has, those that expose as planned first. */
import { exposureError, faceLight } from '../../core/derived/light.ts';
import { still } from '../../core/derived/showings.ts';
import type { Film, LampPlace, Shot } from '../../core/film.ts';
import type { FieldPath } from '../../core/schema/fields.ts';
import * as say from '../../core/say.ts';
import { exposureNote, joined, nearestFirst } from './notes.ts';
import type { FieldValues } from './field-values.ts';

function lampAt(film: Film, path: FieldPath): LampPlace | undefined {
  return film.lamps.get(String(path[1]));
}

/** What would be needed of a lamp for the exposure that is planned, against what it gives with a setting; 1 where it is not known. */
function wantedGain(shot: Shot | undefined, lamp: LampPlace | undefined, setting: Partial<LampPlace>): number {
  if (!shot || !lamp) return 1;
  const tried = { ...shot, lit: shot.lit.map((one) => (one.name === lamp.name ? { ...one, ...setting } : one)) };
  const off = exposureError(tried, 0);
  if (off === undefined || !Number.isFinite(off)) return 1;
  const light = faceLight(tried, 0);
  const own = light.lamps.find((one) => one.lamp.name === lamp.name)?.lux ?? 0;
  const wanted = light.totalLux / 2 ** off - (light.totalLux - own);
  return own > 0 && wanted > 0 ? wanted / own : 1;
}

const levels = [100, 80, 70, 60, 50, 40, 30, 25, 20, 15, 10];

export const level: FieldValues = {
  texts({ film, path, shots: [shot] }) {
    const lamp = lampAt(film, path);
    const range = lamp?.lamp?.level?.value ?? { from: 0.01, to: 1 };
    const wanted = Math.round(range.to * wantedGain(shot, lamp, { level: still(range.to) }) * 100);
    const has = (percent: number) => percent >= range.from * 100 - 1e-9 && percent <= range.to * 100 + 1e-9;
    const target = Math.min(range.to * 100, Math.max(range.from * 100, wanted));
    return nearestFirst([wanted, ...levels].filter(has), target).map((percent) => `${percent} %`);
  },
  note: lampNote,
};

const distances = [30, 40, 50, 60, 80, 100, 120, 150, 200];

export const distance: FieldValues = {
  texts({ film, path, shots: [shot] }) {
    const lamp = lampAt(film, path);
    const now = lamp?.distance?.value.from ?? 700;
    // Light falls with the square of the distance, as long as the lamp is small against it.
    const wanted = Math.round(now / Math.sqrt(wantedGain(shot, lamp, { distance: still(now) })) / 10);
    return nearestFirst([...(lamp?.distance && wanted >= 20 ? [wanted] : []), ...distances], wanted).map(
      (cm) => `${cm} cm`,
    );
  },
  note: lampNote,
};

function lampNote({ film, path, shots: [shot] }: Parameters<FieldValues['note']>[0]): string {
  const lamp = lampAt(film, path);
  const light = shot && lamp && faceLight(shot, 0).lamps.find((one) => one.lamp === lamp);
  if (!light || light.lux <= 0) return exposureNote(shot);
  return joined(exposureNote(shot), `${say.luxText(light.lux)}, ${say.percentText(light.share)} of the light`);
}

const whites = [2700, 3200, 4300, 5000, 5600, 6500];

export const temperature: FieldValues = {
  texts({ film, path }) {
    const lamp = lampAt(film, path);
    const range = lamp?.lamp?.temperature?.value;
    const ends = range ? [range.from, range.to] : [];
    const others = [...film.lamps.values()].flatMap((one) => one.temperature?.value.from ?? []);
    const balance = [...film.shots.values()].flatMap(({ camera }) =>
      typeof camera.whiteBalance?.value === 'number' ? camera.whiteBalance.value : [],
    );
    const has = (kelvin: number) => !range || (kelvin >= Math.min(...ends) && kelvin <= Math.max(...ends));
    return [...new Set([...balance, ...others, ...whites, ...ends])].filter(has).slice(0, 8).map(say.kelvinText);
  },
  note({ film }, text) {
    const same = [...film.shots.values()].some(({ camera }) => camera.whiteBalance?.value === Number.parseInt(text));
    return same ? 'as the camera is set' : '';
  },
};
