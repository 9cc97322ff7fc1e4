/**
 * The resolved film with every number that is reckoned of it, for scripts: `schemas/hand-over.schema.json` says its
 * shape. Units stand in the names; a quantity that can't be reckoned is left out, none is guessed.
 */
import { type Rate, rateFps } from '../calc/rate.ts';
import { runsS, shownStretch } from '../core/derived/edit.ts';
import { loadsOf } from '../core/derived/electrical-loads.ts';
import { fileBytes } from '../core/derived/file.ts';
import { exposureError, faceLight } from '../core/derived/light.ts';
import {
  deliverableMeasures,
  filmMeasures,
  type Measure,
  pieceMeasures,
  shotMeasures,
} from '../core/derived/measures.ts';
import { around, packing } from '../core/derived/packing.ts';
import { dayPlans, dayTime } from '../core/derived/schedule.ts';
import type { Deliverable, Film, Piece, Shot, Val } from '../core/film.ts';
import { dateText } from '../core/say.ts';
import type { Take } from '../core/takes.ts';
import type { Ends } from '../core/units.ts';
import { json } from '../formats/escape.ts';
import type { Kind, ToHandOver } from './kind.ts';

export const filmJson: Kind = {
  make: (asked) => ({ text: json(filmOf(asked)), notes: [] }),
};

function filmOf({ film, result, sheets, path }: ToHandOver): object {
  const { product, brief, region, mainsHz } = film;
  return {
    format: 1,
    spec: path,
    title: film.title?.value,
    country: region?.value.country,
    mainsHz,
    measures: measures(filmMeasures(film)),
    product: {
      ...sizeOf(product.size?.value),
      finish: product.finish,
      weightG: product.weight?.value,
      arrives: date(product.arrives),
      returns: date(product.returns),
      hazards: words(product.hazards),
      parts: [...product.parts.values()].map(({ name, size }) => ({ name, ...sizeOf(size?.value) })),
    },
    brief: brief && {
      client: brief.client?.value,
      mustShow: words(brief.mustShow),
      mustNotShow: words(brief.mustNotShow),
      due: date(brief.due),
    },
    deliverables: [...film.deliverables.values()].map((one) => deliverableOf(one, film)),
    shots: [...film.shots.values()].map((one) => shotOf(one, film)),
    cut: film.cut.map((one) => pieceOf(one, film)),
    titles: film.titles.map(({ text, atS, holdS, fadeS, place, letters, onlyIn }) => ({
      text: text?.value,
      atS,
      holdS,
      fadeS,
      place,
      lettersShare: letters,
      onlyIn: onlyIn && words(onlyIn),
    })),
    music: film.music && {
      track: film.music.track?.value,
      tempoBpm: film.music.tempo?.value,
      firstBeatS: film.music.firstBeatS,
      trimS: film.music.trimS,
      lengthS: film.music.length?.value,
    },
    sounds: film.sounds.map(({ track, atS, lengthS, gain, words: said }) => ({
      track: track?.value,
      atS,
      lengthS,
      gainDb: gain?.value,
      words: said?.value,
    })),
    rights: [...film.rights.values()].map(({ name, kind, proof, media, owner, from, until }) => ({
      name,
      kind: kind?.value,
      proof: proof?.value,
      file: media?.value,
      owner,
      from: date(from),
      until: date(until),
    })),
    days: dayPlans(film).map((plan) => ({
      number: plan.number,
      day: date(plan.day?.day),
      hours: plan.day?.hours && { fromMin: plan.day.hours.value.from, toMin: plan.day.hours.value.to },
      setUps: plan.works.flatMap(({ name }) => name ?? []),
      shots: plan.shots.map(({ name }) => name),
      ...dayTime(plan, film),
    })),
    packing: [...packing(film), ...around(film)].map(({ kind, name, count }) => ({ kind, name, count })),
    takes: sheets.flatMap((sheet) => sheet.takes).map(takeOf),
    findings: result.findings.map(({ rule, severity, message, shots }) => ({ rule, severity, message, shots })),
  };
}

function deliverableOf(one: Deliverable, film: Film): object {
  const stretch = shownStretch(one, film);
  return {
    name: one.name,
    raster: one.raster?.value,
    rate: rateOf((one.rate ?? film.timeline.rate)?.value),
    lengthS: one.lengthS,
    runsS: runsS(one, film),
    section: stretch && { fromS: stretch.from, toS: stretch.to },
    container: one.container,
    codec: one.codec,
    profile: one.profile?.value,
    level: one.codecLevel?.value,
    bits: one.bits,
    chroma: one.chroma,
    colourSpace: one.colourSpace,
    bitrateBps: one.bitrate?.value,
    fileBytes: fileBytes(one, film),
    largestFileBytes: one.largestFile?.value,
    sound: one.sound,
    loudnessLufs: one.loudness?.value,
    truePeakDbtp: one.truePeak?.value,
    shownOn: one.shownOn,
    territory: one.territory,
    measures: measures(deliverableMeasures(one, film)),
  };
}

function shotOf(shot: Shot, film: Film): object {
  const { camera, lit } = shot;
  const light = faceLight(shot, 0);
  const loads = loadsOf(shot, film);
  return {
    name: shot.name,
    setUp: shot.setUpName?.value,
    subject: shot.subject.name,
    shows: words(shot.shows),
    people: words(shot.people),
    takes: shot.takes,
    recordS: shot.record?.value,
    handlesS: shot.handlesS,
    actionS: shot.actionS,
    camera: {
      body: camera.body?.name ?? camera.bodyName?.value,
      lens: camera.lens?.name ?? camera.lensName?.value,
      support: camera.supportName?.value,
      focalMm: ends(camera.focal),
      distanceMm: ends(camera.distance),
      heightMm: ends(camera.height),
      angleDeg: ends(camera.angle),
      raster: camera.raster?.value,
      rate: rateOf(camera.rate?.value),
      codec: camera.codec?.value,
      bits: camera.bits?.value,
      colourSpace: camera.colourSpace?.value,
      fNumber: camera.aperture?.value,
      iso: camera.iso?.value,
      whiteBalanceK: camera.whiteBalance?.value,
      filters: words(camera.filterNames),
    },
    lamps: lit.map((lamp) => ({
      name: lamp.name,
      kit: lamp.kitName.value,
      role: lamp.role?.value,
      level: ends(lamp.level),
      temperatureK: ends(lamp.temperature),
      distanceMm: ends(lamp.distance),
      angleDeg: ends(lamp.angle),
      heightMm: ends(lamp.height),
      lux: light.complete ? light.lamps.find((one) => one.lamp === lamp)?.lux : undefined,
    })),
    roomLux: light.roomLux,
    exposureErrorStops: exposureError(shot, 0),
    mainsW: loads.watts,
    mainsVa: loads.va,
    measures: measures(shotMeasures(shot, film)),
    measuresAtEnd: measures(shotMeasures(shot, film, 1)),
  };
}

function pieceOf(piece: Piece, film: Film): object {
  const { shotName, footage, colour, startS, endS, startFrame, endFrame, fromS, speed } = piece;
  return {
    shot: shotName?.value,
    footage: footage?.value,
    colour: colour?.value,
    startS,
    endS,
    startFrame,
    endFrame,
    fromS,
    speed,
    zoom: piece.zoom,
    shift: piece.shift,
    straightenDeg: piece.straightenDeg,
    flip: piece.flip?.value,
    dissolveS: piece.dissolveS,
    fadeInS: piece.fadeInS,
    fadeOutS: piece.fadeOutS,
    sound: piece.sound,
    measures: measures(pieceMeasures(piece, film)),
  };
}

function takeOf({ shotName, clips, judged, part, action, piece, day, sheet }: Take): object {
  return {
    shot: shotName.value,
    clips: words(clips),
    judged: judged?.value,
    partS: part?.value,
    actionS: action?.value,
    piece: piece?.value,
    day: date(day ?? sheet.day),
  };
}

// -- values ----------------------------------------------------------------------------------------------------------

/** One without end, as a depth that reaches to the horizon, has its words and no number. */
function measures(all: readonly Measure[]): object[] {
  return all.map(({ name, value, unit, text }) => ({
    name,
    ...(Number.isFinite(value) && { value }),
    unit,
    text,
  }));
}

function rateOf(rate: Rate | undefined): object | undefined {
  return rate && { ...rate, fps: rateFps(rate) };
}

function sizeOf(
  box: { readonly widthMm: number; readonly heightMm: number; readonly depthMm?: number } | undefined,
): object {
  return box ? { widthMm: box.widthMm, depthMm: box.depthMm, heightMm: box.heightMm } : {};
}

function ends(val: Val<Ends> | undefined): Ends | undefined {
  return val?.value;
}

function words(all: readonly Val<string>[]): string[] {
  return all.map(({ value }) => value);
}

function date(val: Val<number> | undefined): string | undefined {
  return val && dateText(val.value);
}
