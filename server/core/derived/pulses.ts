/** Light that pulses: what in a shot ripples with the mains or at a frequency of its own, and what a shutter leaves of it. */
import { lampRippleHz, pictureSwing, rippleLeft, worstPulseSwing, worstRippleLeft } from '../../calc/flicker.ts';
import type { Film, KitLamp, LampPlace, Shot } from '../film.ts';
import { along } from './moments.ts';
import type { Hertz, Lux, Seconds, Share, Watts } from '../units.ts';
import { faceLight } from './light.ts';
import { once } from '../memo.ts';
import { backdropLight } from './backdrop-light.ts';

/** How far the clock of a screen is off: it is a crystal, as the camera's is, and no dimmer. */
export const screenClock = 0.001;

/** How far lamps on mains swing around their mean when nobody states it: common practice, no source. */
export const usualRipple: Readonly<Record<string, Share>> = { led: 0.3, filament: 0.1, fluorescent: 0.35 };

/** A thick filament cools less from pulse to pulse: common practice, no source. */
const thickW: Watts = 150;
const thickRipple: Share = 0.04;

/** The lamps and the room's light that ripple with the mains. */
export interface MainsLight {
  readonly lamps: readonly LampPlace[];
  /** True when the room's own light is of mains lamps. */
  readonly room: boolean;
  /** Their part of the light, on the product's face or on the backdrop, wherever it shows more. */
  readonly share: Share;
  /** Modulation of all the light there: the sum of ripple × share. */
  readonly ripple: Share;
  /** A ripple that nobody stated and that was taken by kind of lamp. */
  readonly assumed?: Share;
}

interface Source {
  readonly lamp?: LampPlace;
  /** Undefined: not known. */
  readonly lux?: Lux;
  readonly ripple?: { readonly value: Share; readonly stated: boolean };
}

/** Moments of the action to look at: a lamp that is turned up or down pulses most, or has most of the light, at one of them. */
const momentsOf = ({ lit }: Shot) => (lit.some((lamp) => lamp.changes) ? [0, 0.25, 0.5, 0.75, 1] : [0]);

/** At the moment when it ripples most; undefined when nothing does, or when it is not known how much of the light does. */
export const mainsLight = once((shot: Shot): MainsLight | undefined => {
  const all = momentsOf(shot).flatMap((moment) => mainsLightAt(shot, moment));
  return all.reduce<MainsLight | undefined>((most, one) => (most && most.ripple >= one.ripple ? most : one), undefined);
});

/** On the product's face and on the backdrop. */
function mainsLightAt(shot: Shot, moment: number): MainsLight[] {
  const face = faceLight(shot, moment);
  // A screen gives its own light: what falls on it hardly shows.
  const wall = shot.backdrop && !shot.backdrop.screenName ? backdropLight(shot, moment) : undefined;
  return [face, ...(wall ? [wall] : [])].flatMap(
    ({ lamps, complete }) => together(sources(shot, lamps, complete)) ?? [],
  );
}

function sources(shot: Shot, lamps: readonly { lamp: LampPlace; lux: Lux }[], complete: boolean): Source[] {
  const all = lamps.map(({ lamp, lux }): Source => ({
    lamp,
    lux: complete ? lux : undefined,
    ripple: mainsRipple(lamp),
  }));
  const { room } = shot;
  if (!room || room.light?.value === 0) return all;
  const ripple = room.source === 'mains-lamps' ? { value: usualRipple['led']!, stated: false } : undefined;
  return [...all, { lux: room.light?.value, ripple }];
}

/** Ripple of a lamp that draws on the mains without smoothing it; undefined for lamps that do not, or may not. */
export function mainsRipple(place: LampPlace): Source['ripple'] {
  // A board gives back what it gets.
  const { lamp, runsOn } = place.bounces ?? place;
  if (!lamp || runsOn !== 'mains') return undefined;
  const usual = usualOf(lamp);
  const onMains = lamp.pulses?.value === 'mains';
  const likely = !lamp.fields.said('pulses') && usual !== undefined && !hasDriver(lamp);
  if (!onMains && !likely) return undefined;
  if (lamp.ripple) return { value: lamp.ripple.value, stated: true };
  return { value: usual ?? usualRipple['led']!, stated: false };
}

function usualOf({ kind, draw }: KitLamp): Share | undefined {
  if (kind?.value === 'filament' && (draw?.value ?? 0) > thickW) return thickRipple;
  return usualRipple[kind?.value ?? ''];
}

/** Direct current is behind the plug of a lamp with a battery of its own, and of LEDs that are tuned or sold for pictures (common practice, no source). */
function hasDriver({ kind, battery, temperature, tlci }: KitLamp): boolean {
  const isTuned = temperature !== undefined && temperature.value.from !== temperature.value.to;
  return battery !== undefined || (kind?.value === 'led' && (isTuned || tlci !== undefined));
}

function together(all: readonly Source[]): MainsLight | undefined {
  const lit = all.filter((one) => one.lux !== 0);
  const rippling = lit.filter((one) => one.ripple && one.ripple.value > 0);
  if (rippling.length === 0) return undefined;
  const known = lit.every((one) => one.lux !== undefined);
  // Of unknown parts only this is certain: when everything ripples, all of the light does.
  if (!known && rippling.length < lit.length) return undefined;
  const total = known ? lit.reduce((sum, one) => sum + one.lux!, 0) : lit.length;
  const share = (one: Source) => (known ? one.lux! : 1) / total;
  return {
    lamps: rippling.flatMap((one) => one.lamp ?? []),
    room: rippling.some((one) => !one.lamp),
    share: rippling.reduce((sum, one) => sum + share(one), 0),
    ripple: rippling.reduce((sum, one) => sum + share(one) * one.ripple!.value, 0),
    assumed: rippling.find((one) => !one.ripple!.stated)?.ripple?.value,
  };
}

/** Brightness swing of the picture from mains light at a shutter: 0 without mains light; undefined without a frequency. */
export function mainsSwing(shot: Shot, film: Film, timeS: Seconds): Share | undefined {
  const light = mainsLight(shot);
  if (!light) return 0;
  if (film.mainsHz === undefined) return undefined;
  return pictureSwing(light.ripple, rippleLeft(lampRippleHz(film.mainsHz), timeS), 1);
}

/** A lit lamp that pulses at a frequency of its own. */
export interface PulsedLight {
  readonly lamp: LampPlace;
  readonly hz: Hertz;
  /** How it is dimmed; several where it is turned up or down, or another lamp is. */
  readonly dims: readonly Dim[];
}

interface Dim {
  /** Share of each pulse that the lamp is lit; 1 where it ripples at full level. */
  readonly duty: Share;
  /** How far it ripples at full level. */
  readonly ripple: Share;
  /** Its part of the light on the face; of one that is meant to be seen, all of its own picture. */
  readonly share: Share;
}

/**
 * Lamps that pulse as they are dimmed. At full level they ripple as far as the kit says, or not at all; a lamp that is
 * dimmed steadily never pulses.
 */
export const pulsedLights = once((shot: Shot): readonly PulsedLight[] => {
  return shot.lit.flatMap((lamp) => {
    // A board gives back what it gets.
    const shining = (lamp.bounces ?? lamp).lamp;
    const hz = shining?.pulses?.value;
    if (lamp.aim !== 'product' || typeof hz !== 'number' || shining?.dimming?.value === 'steady') return [];
    const dims = momentsOf(shot).flatMap((moment) => dimAt(shot, lamp, moment));
    return dims.length > 0 ? [{ lamp, hz, dims }] : [];
  });
});

/**
 * Lamps at full level that pulse when they are dimmed, at a frequency of which the shutter holds less than one pulse, where
 * nobody says whether they are steady at full: only a test take tells.
 */
export function untestedPulses(shot: Shot, timeS: Seconds): { lamp: LampPlace; hz: Hertz; share: Share }[] {
  const light = faceLight(shot, 0);
  return light.lamps.flatMap(({ lamp, share }) => {
    const hz = lamp.lamp?.pulses?.value;
    const full = (lamp.level?.value.from ?? 1) === 1 && (lamp.level?.value.to ?? 1) === 1;
    if (typeof hz !== 'number' || lamp.lamp?.dimming?.value === 'steady' || lamp.lamp?.ripple || !full) return [];
    return hz * timeS < 1 && light.complete ? [{ lamp, hz, share }] : [];
  });
}

function dimAt(shot: Shot, lamp: LampPlace, moment: number): Dim[] {
  const light = faceLight(shot, moment);
  const shining = lamp.bounces ?? lamp;
  const duty = Math.min(1, along(shining.level?.value, moment) ?? 1);
  const ripple = shining.lamp?.ripple?.value ?? 0;
  const alone = (light.lamps.length === 1 && light.roomLux === 0) || lamp.role?.value === 'practical';
  if (duty <= 0 || (duty === 1 && ripple === 0) || (!light.complete && !alone)) return [];
  const share = alone ? 1 : light.lamps.find((one) => one.lamp === lamp)!.share;
  return share > 0 ? [{ duty, ripple, share }] : [];
}

/** Worst brightness swing of a pulsed lamp at a shutter, its frequency good to 1 %, and how it is dimmed then. */
export function worstDim({ hz, dims }: PulsedLight, timeS: Seconds): Dim & { readonly swing: Share } {
  const all = dims.map((dim) => ({ ...dim, swing: swingOf(dim, hz, timeS) * dim.share }));
  return all.reduce((worst, one) => (one.swing > worst.swing ? one : worst));
}

function swingOf({ duty, ripple }: Dim, hz: Hertz, timeS: Seconds): Share {
  return duty < 1 ? worstPulseSwing(hz, timeS, duty) : pictureSwing(ripple, worstRippleLeft(hz, timeS), 1);
}

export function pulsedSwing(light: PulsedLight, timeS: Seconds): Share {
  return worstDim(light, timeS).swing;
}

/** Where a screen in the shot is lit in pulses: their frequency and the share of each that it is lit. */
export function screenPulses({ backdrop }: Shot): { hz: Hertz; duty: Share; assumed: boolean } | undefined {
  const hz = backdrop?.screen?.pulses?.value;
  if (typeof hz !== 'number') return undefined;
  const level = backdrop?.brightness?.value ?? 1;
  const panel = backdrop?.screen?.panel?.value;
  // A backlight stands steady at full brightness; a panel without one goes dark between its pictures even then.
  const full = panel === 'oled' || panel === 'projector' ? 0.9 : 1;
  return { hz, duty: level * full, assumed: full < 1 && level === 1 };
}
