/** A change of the settings that the search may turn: as a made-up shot, as edits, in words, and what it costs. */
import { trial } from '../../core/derived/showings.ts';
import { baseIsoFor } from '../../core/derived/noise.ts';
import { sharpZone, lensAt } from '../../core/derived/optics.ts';
import { shutterAngle, shutterSeconds } from '../../core/derived/time.ts';
import type { Block, Film, Filter, LampPlace, Shot, Val } from '../../core/film.ts';
import type { FixIdea } from '../../core/rule.ts';
import * as say from '../../core/say.ts';
import type { Mm, Seconds, Share, Stops } from '../../core/units.ts';

export interface Change {
  readonly shutterS?: Seconds;
  readonly aperture?: number;
  readonly iso?: number;
  readonly filters?: readonly Filter[];
  readonly focusMm?: Mm;
  /** Camera to subject. */
  readonly distanceMm?: Mm;
  readonly levels?: ReadonlyMap<LampPlace, Share>;
  readonly lampDistances?: ReadonlyMap<LampPlace, Mm>;
}

/** The shot as it would be; a change that is empty gives the shot itself. */
export function tryChange(shot: Shot, change: Change): Shot {
  const { camera } = shot;
  const trialShot = {
    ...shot,
    camera: {
      ...camera,
      shutter: made(change.shutterS, camera.shutter, (s) => ({ kind: 'time' as const, s }), say.shutterText),
      aperture: made(change.aperture, camera.aperture, (n) => n, say.apertureText),
      iso: made(change.iso, camera.iso, (n) => n, String),
      focus: made(change.focusMm, camera.focus, (mm) => ({ from: mm, to: mm }), say.lengthText),
      distance: made(change.distanceMm, camera.distance, (mm) => ({ from: mm, to: mm }), say.lengthText),
      filters: change.filters ?? camera.filters,
      filterNames: change.filters?.map((filter) => trial(filter.name)) ?? camera.filterNames,
    },
    lit: change.levels || change.lampDistances ? shot.lit.map((lamp) => tryLamp(lamp, change)) : shot.lit,
  };
  return { ...trialShot, pieces: shot.pieces.map((piece) => ({ ...piece, shot: trialShot })) };
}

function made<T, V>(value: T | undefined, now: Val<V> | undefined, to: (value: T) => V, text: (value: T) => string) {
  if (value === undefined) return now;
  return { start: 0, end: 0, ...now, value: to(value), text: text(value) };
}

function tryLamp(lamp: LampPlace, { levels, lampDistances }: Change): LampPlace {
  const [level, mm] = [levels?.get(lamp), lampDistances?.get(lamp)];
  if (level === undefined && mm === undefined) return lamp;
  return {
    ...lamp,
    level: made(level, lamp.level, (share) => ({ from: share, to: share }), say.percentText),
    distance: made(mm, lamp.distance, (to) => ({ from: to, to }), say.lengthText),
  };
}

/** The fields that it sets, with their texts. */
function fieldsOf(shot: Shot, change: Change): { block: Block; key: string; text: string }[] {
  const { camera } = shot;
  const texts: [string, string | undefined][] = [
    ['distance', text(change.distanceMm, say.lengthText)],
    ['aperture', text(change.aperture, say.apertureText)],
    ['shutter', text(change.shutterS, say.shutterText)],
    ['iso', text(change.iso, String)],
    ['focus', text(change.focusMm, centimetres)],
    ['filters', text(change.filters, filtersText)],
  ];
  const lamps = (all: ReadonlyMap<LampPlace, number> | undefined, key: string, write: (value: number) => string) =>
    [...(all ?? [])].map(([block, value]) => ({ block, key, text: write(value) }));
  return [
    ...texts.flatMap(([key, value]) => (value === undefined ? [] : { block: camera, key, text: value })),
    ...lamps(change.levels, 'level', say.percentText),
    ...lamps(change.lampDistances, 'distance', say.lengthText),
  ];
}

/** To the millimetre, and in the unit of the camera's distance. */
function centimetres(mm: Mm): string {
  return `${say.num(mm / 10, 1)} cm`;
}

function text<T>(value: T | undefined, write: (value: T) => string): string | undefined {
  return value === undefined ? undefined : write(value);
}

function filtersText(filters: readonly Filter[]): string {
  const names = filters.map((one) => one.name);
  return names.length > 1 ? `[${names.join(', ')}]` : (names[0] ?? 'none');
}

export function ideaOf(shot: Shot, change: Change, title: string): FixIdea {
  return { title, set: fieldsOf(shot, change) };
}

/**
 * What a change costs, in stops weighted by how much each setting hurts: lamp level, filter, ISO within two stops of
 * the base, a lamp's distance, aperture, shutter, the camera's distance. A value that the shot itself says costs more
 * than one that it takes over. Common practice, no source.
 */
export function costOf(shot: Shot, change: Change): number {
  const { camera } = shot;
  const own = fieldsOf(shot, change).filter(({ block, key }) => block === camera && saidByShot(shot, key)).length;
  const changed = fieldsOf(shot, change).length;
  const lampStops = (all: ReadonlyMap<LampPlace, number> | undefined, now: (lamp: LampPlace) => number) =>
    Math.max(0, ...[...(all ?? [])].map(([lamp, to]) => Math.abs(Math.log2(to / now(lamp)))));
  const zeroOr = (value: number | undefined, stops: (value: number) => Stops) =>
    value === undefined ? 0 : stops(value);
  return (
    0.5 * changed +
    3 * own +
    lampStops(change.levels, (lamp) => lamp.level?.value.from ?? 1) +
    3 * 2 * lampStops(change.lampDistances, (lamp) => lamp.distance?.value.from ?? 1000) +
    (change.filters ? 1 : 0) +
    zeroOr(change.iso, (iso) => isoCost(shot, iso)) +
    zeroOr(change.aperture, (n) => 2 * Math.abs(2 * Math.log2(n / apertureNow(shot, n)))) +
    zeroOr(change.shutterS, (s) => 4 * Math.abs(Math.log2(s / (shutterSeconds(shot) ?? s)))) +
    zeroOr(change.distanceMm, (mm) => 6 * Math.abs(Math.log2(mm / (camera.distance?.value.from ?? mm))))
  );
}

function isoCost({ camera }: Shot, iso: number): number {
  const now = typeof camera.iso?.value === 'number' ? camera.iso.value : (baseIsoFor(camera.body, iso) ?? iso);
  const noise = (value: number) => {
    const over = Math.log2(value / (baseIsoFor(camera.body, value) ?? now));
    return over < 0 ? -4 * over : 1.5 * Math.min(over, 2) + 4 * Math.max(0, over - 2);
  };
  // What is given back is worth half of what it cost.
  const more = noise(iso) - noise(now);
  return 0.3 * Math.abs(Math.log2(iso / now)) + (more > 0 ? more : more / 2);
}

function apertureNow({ camera }: Shot, otherwise: number): number {
  return typeof camera.aperture?.value === 'number' ? camera.aperture.value : otherwise;
}

function saidByShot(shot: Shot, key: string): boolean {
  const { own } = shot.camera.fields;
  const written = shot.camera.fields.node(key);
  return own?.pairs.some((pair) => pair.value === written) ?? false;
}

/** "f/8, 1/50 s, ISO 640, `key` at 80 %": what it sets, or, of a change that sets nothing, what is set. */
export function settingsText(shot: Shot, change: Change): string {
  const there = tryChange(shot, change);
  const { camera } = there;
  const timeS = shutterSeconds(there);
  return [
    typeof camera.aperture?.value === 'number' ? say.apertureText(camera.aperture.value) : '',
    timeS === undefined ? '' : say.shutterText(timeS),
    typeof camera.iso?.value === 'number' ? `ISO ${camera.iso.value}` : '',
    change.filters ? filterWords(change.filters) : '',
    ...[...(change.levels ?? [])].map(([lamp, level]) => `${say.quoted(lamp.name)} at ${say.percentText(level)}`),
    ...[...(change.lampDistances ?? [])].map(([lamp, mm]) => `${say.quoted(lamp.name)} ${say.lengthText(mm)} away`),
    change.distanceMm === undefined ? '' : `camera at ${say.lengthText(change.distanceMm)}`,
    change.focusMm === undefined ? '' : `focus at ${centimetres(change.focusMm)}`,
  ]
    .filter((part) => part !== '')
    .join(', ');
}

function filterWords(filters: readonly Filter[]): string {
  return filters.length === 0 ? 'no filter' : `filter ${say.listText(filters.map((one) => say.quoted(one.name)))}`;
}

/** "0.7 stop more noise, 41 mm sharp": what the change is paid in, and what it leaves or takes along. Empty where nothing is. */
export function priceText(shot: Shot, change: Change, film: Film): string {
  const there = tryChange(shot, change);
  return [
    noiseText(shot, change),
    angleText(shot, there, change),
    sharpText(shot, there, change),
    distanceText(shot, change),
    zoomText(shot, change),
    otherShotsText(shot, change, film),
  ]
    .filter((part) => part !== '')
    .join(', ');
}

function noiseText({ camera }: Shot, { iso }: Change): string {
  if (iso === undefined || typeof camera.iso?.value !== 'number') return '';
  const stops = Math.log2(iso / camera.iso.value);
  return `${say.stopsText(stops)} ${stops > 0 ? 'more' : 'less'} noise`;
}

function angleText(shot: Shot, there: Shot, { shutterS }: Change): string {
  const [now, then] = [shutterAngle(shot), shutterAngle(there)];
  if (shutterS === undefined || then === undefined) return '';
  return now === undefined ? say.angleText(then) : `${say.angleText(then)} instead of ${say.angleText(now)}`;
}

function sharpText(shot: Shot, there: Shot, { aperture, focusMm, distanceMm }: Change): string {
  if (aperture === undefined && focusMm === undefined && distanceMm === undefined) return '';
  const deep = (one: Shot) => {
    const lens = lensAt(one, 0);
    return lens && sharpZone(lens)?.totalMm;
  };
  const [then, now] = [deep(there), deep(shot)];
  if (then === undefined) return '';
  const text = (mm: Mm) => (Number.isFinite(mm) ? say.lengthText(mm) : 'everything behind the focus');
  if (now === undefined || text(now) === text(then)) return `${text(then)} sharp`;
  const isPair = Number.isFinite(now) && Number.isFinite(then);
  const [after, before] = isPair ? say.lengthPair(then, now) : [text(then), text(now)];
  return `${after} sharp instead of ${before}`;
}

function distanceText({ camera }: Shot, { distanceMm }: Change): string {
  const now = camera.distance?.value.from;
  if (distanceMm === undefined || now === undefined) return '';
  return `${say.lengthText(Math.abs(distanceMm - now))} ${distanceMm > now ? 'farther' : 'nearer'}`;
}

/** A camera that moves makes the subject larger or smaller; the cut could do that too, and is left as it is. */
function zoomText({ pieces }: Shot, { distanceMm }: Change): string {
  const zooms = pieces.flatMap(({ zoom }) => [zoom.from, zoom.to]);
  const most = Math.max(1, ...zooms);
  return distanceMm === undefined || most === 1 ? '' : `the cut still zooms to ${say.num(most, 2)}`;
}

/** A lamp that is turned or moved is so for every shot that it lights. */
function otherShotsText(shot: Shot, { levels, lampDistances }: Change, film: Film): string {
  const lamps = [...(levels?.keys() ?? []), ...(lampDistances?.keys() ?? [])].map(({ name }) => name);
  const others = [...film.shots.values()].filter(
    (one) => one.name !== shot.name && one.lit.some(({ name }) => lamps.includes(name)),
  );
  return others.length === 0
    ? ''
    : `changes the light of ${say.listFirst(
        others.map((one) => say.quoted(one.name)),
        2,
      )} too`;
}

/** How far off a camera set by hand may be: a hundredth of its distance, and a sixth of a stop. Common practice, no source. */
const [distanceShare, apertureFactor] = [0.01, 2 ** (1 / 12)];

/** The shot as a hand may set it up: a little nearer and farther with the focus taken along, a little more open and closed. */
export function asSetByHand(shot: Shot): Shot[] {
  const { distance, focus, aperture } = shot.camera;
  const mm = distance && distance.value.from === distance.value.to ? distance.value.from : undefined;
  const focusMm =
    typeof focus?.value === 'object' && focus.value.from === focus.value.to ? focus.value.from : undefined;
  const moved = (by: Mm): Change => ({ distanceMm: mm! + by, ...(focusMm !== undefined && { focusMm: focusMm + by }) });
  const n = typeof aperture?.value === 'number' ? aperture.value : undefined;
  return [
    ...(mm === undefined ? [] : [moved(mm * distanceShare), moved(-mm * distanceShare)]),
    ...(n === undefined ? [] : [{ aperture: n * apertureFactor }, { aperture: n / apertureFactor }]),
  ].map((change) => tryChange(shot, change));
}
