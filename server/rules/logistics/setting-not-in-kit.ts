import { streamBytes } from '../../calc/data.ts';
import { cleanShuttersS, lampRippleHz } from '../../calc/flicker.ts';
import { rateFps } from '../../calc/rate.ts';
import { shutterS } from '../../calc/shutter.ts';
import { mired } from '../../calc/temperature.ts';
import { fileS, shutterSeconds } from '../../core/derived/time.ts';
import type { Camera, CameraBody, LampPlace, Shot } from '../../core/film.ts';
import { fits } from '../../core/resolve/kit.ts';
import { type Context, defineRule, type FixIdea, type Limit, set } from '../../core/rule.ts';
import * as say from '../../core/say.ts';
import type { Ends, Seconds, Shutter } from '../../core/units.ts';
import { askedText, nearestRows, valueAtFault } from './nearest-modes.ts';
import { smallestStop } from './smallest-stop.ts';

/** Marks on gear are rounded to thirds of a stop: within a tenth of a stop it is the marked value. */
const markStops = 0.1;
/** Marked shutters and rates leave out the 1.001 of broadcast rates. */
const markShare = 1.0015;
/** Differences of white that nobody sees, in mired. */
const markMired = 5;

const messages = {
  mode: '{shot}: {camera} has no mode with {asked}: each may exist, but not all at once. Nearest: {nearest}.',
  aperture: "{shot}: {lens} has {least} to {most}, so {aperture} can't be set.",
  fixedAperture: "{shot}: {lens} has {least} and nothing else, so {aperture} can't be set.{range}",
  iso: "{shot}: {camera} has ISO {least} to {most}, so ISO {iso} can't be set.",
  shutter: "{shot}: {camera} has {least} to {most}, so {shutter} can't be set.",
  frame: '{shot}: {shutter} is longer than a frame: at {rate} each lasts {frame}, and no camera exposes for longer.',
  focal: "{shot}: {lens} has {least} to {most}, so {focal} can't be set.",
  fixedFocal: "{shot}: {lens} has {least} and nothing else, so {focal} can't be set.",
  // Places of lamps that take the same value over are joined like shots.
  temperature: "{shot}: {kind} gives white from {least} to {most}, so {temperature} can't be set.",
  fixedTemperature: "{shot}: {kind} gives white of {least} and no other, so {temperature} can't be set.{filtered}",
  level: "{shot}: {kind} goes from {least} to {most}, so {level} can't be set.",
  card: '{shot}: {bitrate} wants a card of {needed} MB/s; {card} takes {writes} MB/s, so recording can stop by itself. Use a faster card, or a mode with a lower bitrate.',
  take: '{shot}: a take of {record} is longer than the {longest} that {camera} records in one go. Record it in parts.',
  file: '{shot}: a take of {record} at {bitrate} is {size}; {camera} ends a file at {limit}, after {after}, and stops or starts another.',
} as const;

type Ctx = Context<typeof messages, { headroom: Limit }>;

export default defineRule({
  id: 'setting-not-in-kit',
  family: 'logistics',
  summary: 'A camera, lens, lamp or card is asked for something that it does not have.',
  severity: 'error',
  sources: [
    'the kit',
    "a frame can't be exposed for longer than it lasts",
    'card headroom: common practice, no source',
  ],
  limits: {
    headroom: { quantity: 'number', default: '1.2', meaning: 'How many times faster than the mode a card must write.' },
  },
  messages,
  shot(shot, context) {
    checkMode(shot, context);
    checkAperture(shot, context);
    checkFocal(shot, context);
    checkIso(shot, context);
    checkShutter(shot, context);
    checkTake(shot, context);
    checkCard(shot, context);
  },
  lamp(place, context) {
    checkTemperature(place, context);
    checkLevel(place, context);
  },
});

function checkMode(shot: Shot, { report }: Ctx): void {
  const { body, mode } = shot.camera;
  if (!body || body.modes.length === 0 || mode || isOfPictures(shot, body)) return;
  const rows = nearestRows(shot, body);
  // Each has commas of its own.
  const nearest = rows.map((row) => row.text).join('; ');
  report({
    message: 'mode',
    data: { shot: shot.name, camera: say.quoted(body.name), asked: askedText(shot.camera), nearest },
    at: valueAtFault(shot, body) ?? shot,
    fixes: rows.map((row) => row.fix),
  });
}

/** Pictures of a time-lapse are photographs where they are larger than any film that the camera records. */
function isOfPictures({ interval, camera: { raster } }: Shot, { modes }: CameraBody): boolean {
  return (
    interval !== undefined && modes.every((one) => one.raster && raster && one.raster.value.width < raster.value.width)
  );
}

/** The end of a range that a value lies beyond; undefined within it, a tenth of a stop allowed. */
function endBeyond(value: number, { from, to }: Ends, stopsPerDoubling: number): number | undefined {
  const least = Math.min(from, to);
  const most = Math.max(from, to);
  const stops = (a: number, b: number) => stopsPerDoubling * Math.log2(a / b);
  if (stops(least, value) > markStops + 1e-6) return least;
  return stops(value, most) > markStops + 1e-6 ? most : undefined;
}

function checkAperture({ name, camera }: Shot, { report }: Ctx): void {
  const { aperture, lens } = camera;
  if (!lens?.aperture || typeof aperture?.value !== 'number') return;
  const { from, to } = lens.aperture.value;
  const end = endBeyond(aperture.value, { from, to }, 2);
  if (end === undefined) return;
  const text = say.apertureText(end);
  const price = say.brighterText(2 * Math.log2(aperture.value / end));
  report({
    message: from === to ? 'fixedAperture' : 'aperture',
    data: {
      shot: name,
      lens: say.quoted(lens.name),
      least: say.apertureText(from),
      most: say.apertureText(to),
      aperture: aperture.text,
      range: rangeText(camera, aperture.value),
    },
    at: aperture,
    fixes: [set(`Set aperture to ${text} (${price})`, [camera, 'aperture', text])],
  });
}

/** A lens that stops down is easily written as if it did not. */
function rangeText(camera: Camera, asked: number): string {
  const most = smallestStop(camera);
  const { from } = camera.lens!.aperture!.value;
  if (most === undefined || asked < from) return '';
  return ` If the lens stops down, say so in the kit: \`aperture: ${say.apertureText(from)} to ${say.apertureText(most)}\`.`;
}

function checkFocal({ name, camera }: Shot, { report }: Ctx): void {
  const { focal, lens } = camera;
  if (!focal || !lens?.focal || focal === lens.focal) return;
  const range = lens.focal.value;
  const outside = (mm: number) => mm < range.from * 0.99 || mm > range.to * 1.01;
  if (!outside(focal.value.from) && !outside(focal.value.to)) return;
  const end = say.lengthText(focal.value.from < range.from ? range.from : range.to);
  const still = focal.value.from === focal.value.to;
  report({
    message: range.from === range.to ? 'fixedFocal' : 'focal',
    data: {
      shot: name,
      lens: say.quoted(lens.name),
      least: say.lengthText(range.from),
      most: say.lengthText(range.to),
      focal: focal.text,
    },
    at: focal,
    fixes: still ? [set(`Set focal to ${end}`, [camera, 'focal', end])] : [],
  });
}

function checkIso({ name, camera }: Shot, { report }: Ctx): void {
  const { iso, body } = camera;
  if (!body?.iso || typeof iso?.value !== 'number') return;
  const { from, to } = body.iso.value;
  const end = endBeyond(iso.value, { from, to }, 1);
  if (end === undefined) return;
  const price = say.brighterText(Math.log2(end / iso.value));
  report({
    message: 'iso',
    data: { shot: name, camera: say.quoted(body.name), least: from, most: to, iso: iso.text },
    at: iso,
    fixes: [set(`Set ISO to ${say.num(end)} (${price})`, [camera, 'iso', say.num(end)])],
  });
}

function checkShutter(shot: Shot, context: Ctx): void {
  const { camera, name } = shot;
  const { shutter, rate, body } = camera;
  const timeS = shutterSeconds(shot);
  if (timeS === undefined || !shutter) return;
  const frameS = rate && 1 / rateFps(rate.value);
  // Between the pictures of a time-lapse there is time.
  if (rate && frameS && !shot.interval && timeS > frameS * markShare) {
    context.report({
      message: 'frame',
      data: { shot: name, shutter: shutter.text, rate: rate.text, frame: say.shutterText(frameS) },
      at: shutter,
      fixes: () => shutterFixes(shot, frameS, timeS, context),
    });
    return;
  }
  const range = body && shutterRange(shot);
  const end = range && endBeyond(timeS, range, 1);
  if (!range || end === undefined) return;
  const text = say.shutterText(end);
  context.report({
    message: 'shutter',
    data: {
      shot: name,
      camera: say.quoted(body.name),
      least: say.shutterText(range.from),
      most: say.shutterText(range.to),
      shutter: shutter.text,
    },
    at: shutter,
    fixes: [set(`Set shutter to ${text} (${say.brighterText(Math.log2(end / timeS))})`, [camera, 'shutter', text])],
  });
}

/** Shortest to longest shutter in seconds; ends given as angles need the shot's rate. */
function shutterRange({ camera }: Shot): Ends | undefined {
  const range = camera.body?.shutter?.value;
  const fps = camera.rate && rateFps(camera.rate.value);
  const seconds = (one: Shutter) => (one.kind === 'time' ? one.s : fps && shutterS(one.deg, fps));
  const [a, b] = range ? [seconds(range.from), seconds(range.to)] : [];
  return a && b ? { from: Math.min(a, b), to: Math.max(a, b) } : undefined;
}

/** Half a frame without pulses of mains light first, then the whole frame. */
function shutterFixes({ camera }: Shot, frameS: Seconds, nowS: Seconds, { film }: Ctx): FixIdea[] {
  const clean = film.mainsHz === undefined ? [] : cleanShuttersS(lampRippleHz(film.mainsHz), 1 / frameS);
  const nearHalf = [...clean, frameS / 2].sort((a, b) => Math.abs(a - frameS / 2) - Math.abs(b - frameS / 2));
  const steady = nearHalf.find((s) => clean.includes(s) && s > frameS * 0.35 && s < frameS * 0.65);
  const texts = new Set<string>();
  return [steady ?? frameS / 2, frameS].flatMap((s) => {
    const text = say.shutterText(s);
    if (texts.has(text)) return [];
    texts.add(text);
    const quiet = s === steady ? `, flicker-free at ${film.mainsHz} Hz` : '';
    const angle = say.angleText((360 * s) / frameS);
    const price = say.brighterText(Math.log2(s / nowS));
    return [set(`Set shutter to ${text} (${angle}${quiet}, ${price})`, [camera, 'shutter', text])];
  });
}

function checkTake(shot: Shot, { report }: Ctx): void {
  const { record, camera } = shot;
  const { body, mode } = camera;
  if (!record || !body) return;
  const data = { shot: shot.name, record: record.text, camera: say.quoted(body.name) };
  if (body.longestTake && !shot.interval && record.value > body.longestTake.value) {
    report({ message: 'take', data: { ...data, longest: body.longestTake.text }, at: record });
    return;
  }
  const bitrate = mode?.bitrate;
  if (!bitrate || !body.fileLimit) return;
  const size = streamBytes(bitrate.value, fileS(shot, record.value));
  if (size <= body.fileLimit.value) return;
  const after = say.secondsText((body.fileLimit.value * 8) / bitrate.value, 0);
  report({
    message: 'file',
    severity: 'info',
    data: { ...data, bitrate: bitrate.text, size: say.bytesText(size), limit: body.fileLimit.text, after },
    at: record,
  });
}

/** The cards of the shot's day where they are named, else all that fit: the fastest of them decides. */
function checkCard(shot: Shot, { film, limits, report }: Ctx): void {
  const { body, mode, rate, raster } = shot.camera;
  // Between the pictures of a time-lapse there is time to write.
  if (!body || !mode?.bitrate || shot.interval) return;
  const named = film.schedule.find((day) => day.order?.some((one) => one.value === shot.setUpName?.value))?.cards;
  const names = named?.map((one) => one.value) ?? [...film.kit.cards.keys()];
  const cards = names.flatMap((name) => film.kit.cards.get(name) ?? []).filter((card) => fits(card, body.name));
  const fastest = cards.reduce(
    (best, card) => ((card.writes?.value ?? Infinity) > best ? (card.writes?.value ?? Infinity) : best),
    0,
  );
  // A time-lapse writes one picture in each interval.
  const needed = (mode.bitrate.value / 8) * limits.headroom * Math.min(1, fileS(shot, 1));
  if (cards.length === 0 || fastest >= needed * (1 - 1e-6)) return;
  const card = cards.find((one) => one.writes?.value === fastest)!;
  report({
    message: 'card',
    data: {
      shot: shot.name,
      bitrate: mode.bitrate.text,
      needed: say.num(needed / 1e6, 0),
      card: say.quoted(card.name),
      writes: say.num(fastest / 1e6, 0),
    },
    at: rate ?? raster ?? shot,
    related: [{ start: card.start, end: card.end, file: card.file, message: 'the fastest card' }],
  });
}

function checkTemperature(place: LampPlace, { report }: Ctx): void {
  const { lamp, temperature, name } = place;
  const range = lamp?.temperature?.value;
  // A lamp of one white lends it to places that say none.
  if (!lamp || !range || !temperature || temperature === lamp.temperature) return;
  const least = Math.min(range.from, range.to);
  const most = Math.max(range.from, range.to);
  const endFor = (k: number) => {
    if (Math.abs(mired(k) - mired(Math.min(most, Math.max(least, k)))) <= markMired) return undefined;
    return k < least ? least : most;
  };
  const end = endFor(temperature.value.from) ?? endFor(temperature.value.to);
  if (end === undefined) return;
  report({
    message: least === most ? 'fixedTemperature' : 'temperature',
    data: {
      shot: name,
      kind: say.quoted(lamp.name),
      least: say.kelvinText(least),
      most: say.kelvinText(most),
      temperature: temperature.text,
      filtered: filteredText(place, least),
    },
    at: temperature,
    fixes: () => setPlace(place, 'temperature', temperature.value, say.kelvinText(end)),
  });
}

/** Who writes what comes through a filter hears that it is reckoned with. */
function filteredText({ modifiers }: LampPlace, least: number): string {
  const warms = modifiers.reduce((sum, one) => sum + one.warms, 0);
  if (warms === 0) return '';
  const names = say.listText(modifiers.filter((one) => one.warms !== 0).map((one) => say.quoted(one.name)));
  const through = say.kelvinText(Math.round(1e5 / (mired(least) + warms)) * 10);
  return ` ${names} is reckoned on top and makes ${through} of it: say what the lamp itself gives.`;
}

function checkLevel(place: LampPlace, { report }: Ctx): void {
  const { lamp, level, name } = place;
  if (!lamp?.level || !level) return;
  const { from: least, to: most } = lamp.level.value;
  // A lamp at 0 % is put out, which needs no dimmer.
  const outside = (share: number) => share > 0 && (share < least - 1e-6 || share > most + 1e-6);
  const wrong = [level.value.from, level.value.to].find(outside);
  if (wrong === undefined) return;
  const low = say.percentText(least, 1);
  const high = say.percentText(most, 1);
  report({
    message: 'level',
    data: { shot: name, kind: say.quoted(lamp.name), least: low, most: high, level: level.text },
    at: level,
    fixes: () => setPlace(place, 'level', level.value, wrong < least ? low : high),
  });
}

/** A value that changes during the take has no single nearest one. */
function setPlace(place: LampPlace, key: string, { from, to }: Ends, text: string): FixIdea[] {
  return from === to ? [set(`Set ${key} of ${say.quoted(place.name)} to ${text}`, [place, key, text])] : [];
}
