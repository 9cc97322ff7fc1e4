/** What the plan implies, in numbers: for hovers, and for whoever else shows them. Each line stands for itself. */
import { framesPerBeat, tempo } from '../calc/beats.ts';
import { bitsPerPixel } from '../calc/data.ts';
import { lowestLevel } from '../calc/codec.ts';
import { streamOf } from '../core/derived/stream.ts';
import { rateFps } from '../calc/rate.ts';
import { pxPerMmAt, viewAt } from '../core/derived/framing.ts';
import { exposureError, faceLight, wantedLux } from '../core/derived/light.ts';
import { actionSpan, fieldAt, lensAt, subjectSeen } from '../core/derived/optics.ts';
import { sharpInCut } from '../core/derived/sharp.ts';
import { shutterAngle, shutterSeconds, turningRpm } from '../core/derived/time.ts';
import type { Deliverable, Film, LampPlace, Piece, Shot } from '../core/film.ts';
import * as say from '../core/say.ts';
import { showsPiece } from '../core/resolve/edit.ts';

/** A shot: shutter, light, sharpness, picture, turning, storage. */
export function shotNumbers(shot: Shot, film: Film): string[] {
  return [...shutterLines(shot), ...lightLines(shot), ...lensLines(shot, film), ...takeLines(shot)];
}

function shutterLines(shot: Shot): string[] {
  const [s, angle] = [shutterSeconds(shot), shutterAngle(shot)];
  if (s === undefined || angle === undefined || !shot.camera.rate) return [];
  return [`Shutter ${say.shutterText(s)} is ${say.angleText(angle)} at ${shot.camera.rate.text} frames/s`];
}

function lightLines(shot: Shot): string[] {
  const wanted = wantedLux(shot);
  const light = faceLight(shot, 0);
  const error = exposureError(shot, 0);
  const lamps = light.lamps.map(
    ({ lamp, lux, share }) => `${lamp.name} ${say.luxText(lux)} (${say.percentText(share)})`,
  );
  const lines: string[] = [];
  if (lamps.length > 0 && light.complete) {
    const room = light.roomLux > 0 ? [`room ${say.luxText(light.roomLux)}`] : [];
    lines.push(
      `Light on the side toward the camera ${say.luxText(light.totalLux)}: ${say.listText([...lamps, ...room])}`,
    );
  }
  if (wanted !== undefined)
    lines.push(`The settings want ${say.luxText(wanted)}${error === undefined ? '' : `: ${offText(error, shot)}`}`);
  return lines;
}

function offText(stops: number, shot: Shot): string {
  const planned = shot.camera.exposure?.value ?? 0;
  const against = planned
    ? ` than the ${say.stopsText(planned)} ${planned > 0 ? 'over' : 'under'} that you mean`
    : ' than the meter wants';
  return Math.abs(stops) < 0.05 ? 'just as planned' : `${say.brighterText(stops)}${against}`;
}

function lensLines(shot: Shot, film: Film): string[] {
  const lens = lensAt(shot, 0);
  if (!lens) return [];
  const field = fieldAt(lens, lens.distanceMm);
  const lines = [
    `Picture at the subject ${say.lengthText(field.widthMm)} wide, ${say.lengthText(field.heightMm)} high (${say.num(lens.focalMm)} mm lens at ${say.lengthText(lens.distanceMm)})`,
  ];
  const sharp = sharpInCut(shot, film, 0);
  if (sharp) {
    const { zone, zoom } = sharp;
    const where = say.num(zoom, 2) === '1' ? '' : ` where the cut zooms ${say.timesText(zoom, 2)}`;
    const { fromS, toS } = actionSpan(shot);
    const depth = subjectSeen(shot, fromS, toS)?.depthMm;
    const far = Number.isFinite(zone.farMm)
      ? `to ${say.lengthText(zone.farMm)} (${say.lengthText(zone.totalMm)} deep)`
      : 'to the horizon';
    const needs =
      depth === undefined
        ? ''
        : `; ${shot.subject.name === 'product' ? 'the product' : `\`${shot.subject.name}\``} is ${say.lengthText(depth)} deep from here`;
    lines.push(
      `Sharp from ${say.lengthText(zone.nearMm)} ${far} at ${say.apertureText(lens.fNumber!)}${where}${needs}`,
    );
  }
  return lines;
}

function takeLines(shot: Shot): string[] {
  const lines: string[] = [];
  const rpm = turningRpm(shot);
  if (rpm && shot.record) lines.push(`Turns ${say.angleText(Math.abs(6 * rpm))} a second`);
  const bitrate = shot.camera.mode?.bitrate?.value;
  if (shot.record) {
    const bytes = bitrate && (bitrate / 8) * shot.record.value * shot.takes;
    const takes = `${shot.takes} ${shot.takes === 1 ? 'take' : 'takes'} of ${shot.record.text}`;
    lines.push(bytes ? `${takes}: ${say.bytesText(bytes)} at ${say.bitRateText(bitrate)}` : takes);
  }
  return lines;
}

/** A lamp at its place, in each shot where it is lit. */
export function lampNumbers(lamp: LampPlace, film: Film): string[] {
  const shots = [...film.shots.values()].filter((shot) => shot.lit.includes(lamp));
  if (shots.length === 0) return ['Lit in no shot'];
  const lines = shots.slice(0, 6).flatMap((shot) => {
    const light = faceLight(shot, 0).lamps.find((one) => one.lamp === lamp);
    return light
      ? [
          `${shot.name}: ${say.luxText(light.lux)} on the side toward the camera, ${say.percentText(light.share)} of its light`,
        ]
      : [];
  });
  return lines.length > 0 ? lines : [`Lit in ${say.listText(shots.map((shot) => shot.name))}`];
}

/** A piece of the cut: its time, and the pixels it has in each deliverable. */
export function pieceNumbers(piece: Piece, film: Film): string[] {
  const lines: string[] = [];
  if (piece.startS !== undefined && piece.endS !== undefined) {
    const frames = piece.startFrame === undefined ? '' : `, frames ${piece.startFrame} to ${piece.endFrame! - 1}`;
    lines.push(`On screen from ${say.secondsText(piece.startS)} to ${say.secondsText(piece.endS)}${frames}`);
  }
  for (const deliverable of film.deliverables.values()) {
    if (!showsPiece(deliverable, piece)) continue;
    const [start, end] = [viewAt(piece, deliverable, 0), viewAt(piece, deliverable, 1)];
    if (!start || !end) continue;
    const least = Math.min(start.scale, end.scale);
    const zoom =
      start.zoom === end.zoom
        ? `zoom ${say.num(start.zoom, 2)}`
        : `zoom ${say.num(start.zoom, 2)} to ${say.num(end.zoom, 2)}`;
    const px = pxPerMmAt(end, deliverable);
    const spare =
      least >= 1 ? `${say.num(least, 2)} times the pixels it needs` : `enlarged by ${say.percentText(1 / least - 1)}`;
    lines.push(`${deliverable.name}: ${zoom}, ${spare}${px ? `, ${say.num(px)} px for each mm at the end` : ''}`);
  }
  return lines;
}

/** A finished file: length, size, level. */
export function deliverableNumbers(deliverable: Deliverable): string[] {
  const { raster, rate, bitrate, sectionS } = deliverable;
  const lines: string[] = [];
  if (sectionS) lines.push(`The cut gives it ${say.secondsText(sectionS.to - sectionS.from)}`);
  if (!raster || !rate || !bitrate) return lines;
  const fps = rateFps(rate.value);
  lines.push(
    `${say.num(bitsPerPixel(bitrate.value, raster.value.width, raster.value.height, fps), 3)} bits for each pixel`,
  );
  if (sectionS) lines.push(`About ${say.bytesText((bitrate.value / 8) * (sectionS.to - sectionS.from))} of picture`);
  const stream = streamOf(deliverable);
  const level = stream && lowestLevel(stream)?.name;
  if (level) lines.push(`Lowest level that holds it: ${level}`);
  return lines;
}

/** The music against the frames. */
export function musicNumbers(film: Film): string[] {
  const bpm = film.music?.tempo?.value;
  const rate = film.timeline.rate;
  if (!bpm || !rate) return [];
  const each = framesPerBeat(rate.value, tempo(bpm));
  return [`A beat is ${say.num(60 / bpm, 3)} s: ${say.num(each.num / each.den, 3)} frames at ${rate.text}`];
}

/** The whole film. */
export function filmNumbers(film: Film): string[] {
  const lines: string[] = [];
  if (film.cutS !== undefined) lines.push(`The cut runs ${say.secondsText(film.cutS)}`);
  const bytes = [...film.shots.values()].reduce(
    (sum, shot) => sum + ((shot.camera.mode?.bitrate?.value ?? 0) / 8) * (shot.record?.value ?? 0) * shot.takes,
    0,
  );
  if (bytes > 0) lines.push(`All takes together ${say.bytesText(bytes)}`);
  return lines;
}
