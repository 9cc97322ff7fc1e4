/** The colours of white that meet on the subject's face. Temperatures are compared in mired: equal steps look about equal. */
import { filamentKelvin, mired } from '../../calc/temperature.ts';
import type { Film, LampPlace, Room, Shot, Val } from '../film.ts';
import type { Ends, Kelvin, Mired, Share } from '../units.ts';
import { type FaceLight, faceLight } from './light.ts';
import { once } from '../memo.ts';

/** One white light on the face that the camera sees: a lamp, or the light that the room gives. */
export interface White {
  readonly lamp?: LampPlace;
  readonly room?: Room;
  /** Set where it is all the light, as a meter said. */
  readonly measured?: true;
  /** Part of all the light on that face, 0 to 1. */
  readonly share: Share;
  /** Set temperature, as it is written. */
  readonly temperature: Val<Ends<Kelvin>>;
  /** What its filters add. */
  readonly warms: Mired;
  /** The level to which a filament is turned down, which makes it warmer; absent at full level and for other lamps. */
  readonly dimmedTo?: Ends<Share>;
  /** Reciprocal temperature behind its filters; two ends where it changes during the take. */
  readonly mired: Ends<Mired>;
}

export interface Whites {
  readonly light: FaceLight;
  /** All whose temperature is known; coloured lamps are not white. */
  readonly all: readonly White[];
  /** The lamp that is said to be the key, else the strongest light; undefined where that is not white or not known. */
  readonly key?: White;
  /** All lights together, as a meter said: the camera is balanced for that. */
  readonly measured?: White;
}

/** The light on the face at the moment of the action at which there is most of it. */
export const brightestLight = once((shot: Shot): FaceLight => {
  const moments = shot.lit.some((lamp) => lamp.changes) ? [0, 0.5, 1] : [0];
  const lights = moments.map((moment) => faceLight(shot, moment));
  return lights.reduce((best, one) => (one.totalLux > best.totalLux ? one : best));
});

export const whitesOf = once((shot: Shot): Whites => {
  const light = brightestLight(shot);
  const lamps = light.lamps.flatMap(({ lamp, share }) => lampWhite(lamp, share) ?? []);
  const all = [...lamps, ...roomWhite(shot.room, light.roomShare)];
  return { light, all, key: keyOf(light, all), measured: measuredWhite(shot) };
});

function measuredWhite({ measured }: Shot): White | undefined {
  if (!measured?.temperature) return undefined;
  const { value } = measured.temperature;
  const temperature = { ...measured.temperature, value: { from: value, to: value } };
  return { measured: true, share: 1, temperature, warms: 0, mired: { from: mired(value), to: mired(value) } };
}

function lampWhite(lamp: LampPlace, share: Share): White | undefined {
  if (lamp.colour || lamp.fields.said('colour') || !lamp.temperature || !hasTemperature(lamp)) return undefined;
  const warms = lamp.modifiers.reduce((sum, modifier) => sum + modifier.warms, 0);
  const { from, to } = lamp.temperature.value;
  const dimmedTo = dimmedFilament(lamp);
  const warmed = (kelvin: Kelvin, level = 1) => mired(filamentKelvin(kelvin, level)) + warms;
  const ends = { from: warmed(from, dimmedTo?.from), to: warmed(to, dimmedTo?.to) };
  return { lamp, share, temperature: lamp.temperature, warms, dimmedTo, mired: ends };
}

/** Under this a filament only glows: what it gives then is as good as nothing. */
const leastGlow = 0.01;

/** The level of a filament where its temperature is what the kit says of it at full; who says it in the spec has measured it. */
function dimmedFilament({ lamp, level, fields }: LampPlace): Ends<Share> | undefined {
  if (lamp?.kind?.value !== 'filament' || fields.said('temperature') || !level) return undefined;
  const { from, to } = level.value;
  const inside = (share: Share) => Math.min(1, Math.max(leastGlow, share));
  return from < 1 || to < 1 ? { from: inside(from), to: inside(to) } : undefined;
}

/** What a lamp can't be set to is said by itself; which white it gives then is not known. */
function hasTemperature({ lamp, temperature }: LampPlace): boolean {
  const range = lamp?.temperature?.value;
  const { from, to } = temperature!.value;
  const inside = (kelvin: Kelvin) => !range || (kelvin >= range.from - 1 && kelvin <= range.to + 1);
  return inside(from) && inside(to);
}

function roomWhite(room: Room | undefined, share: Share): White[] {
  if (!room?.temperature || share <= 0) return [];
  const { value } = room.temperature;
  const temperature = { ...room.temperature, value: { from: value, to: value } };
  return [{ room, share, temperature, warms: 0, mired: { from: mired(value), to: mired(value) } }];
}

function keyOf(light: FaceLight, all: readonly White[]): White | undefined {
  const said = light.lamps.find((one) => one.lamp.role?.value === 'key');
  if (said) return all.find((one) => one.lamp === said.lamp);
  if (!light.complete) return undefined;
  const strongest = light.lamps.reduce((most, one) => Math.max(most, one.share), light.roomShare);
  return all.find((one) => one.share > 0 && one.share === strongest);
}

/** How much warmer a light is than a reciprocal temperature; minus is bluer, 0 when it passes through it. */
export function warmerBy({ mired: { from, to } }: White, than: Mired): Mired {
  const [cool, warm] = [Math.min(from, to), Math.max(from, to)];
  if (than < cool) return cool - than;
  return than > warm ? warm - than : 0;
}

/** Is it meant to stand out from the rest of the light? A flame is seen to be one. */
export function standsOut({ lamp }: White): boolean {
  return lamp !== undefined && (outstanding.has(lamp.role?.value ?? '') || lamp.lamp?.kind?.value === 'flame');
}

const outstanding = new Set(['practical', 'rim', 'accent', 'highlight', 'backdrop']);

/** The reciprocal temperature of the light that comes out neutral: the camera's setting, less what its filters add. */
export function neutralMired({ camera }: Shot): Mired | undefined {
  const balance = camera.whiteBalance?.value;
  if (typeof balance !== 'number') return undefined;
  return mired(balance) - camera.filters.reduce((sum, filter) => sum + filter.warms, 0);
}

/** A film without colour has no colour faults. */
export function isBlackAndWhite(film: Film): boolean {
  return film.grade !== undefined && film.grade.saturation <= 0;
}
