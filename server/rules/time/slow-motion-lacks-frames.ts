import { type Rate, rateFps } from '../../calc/rate.ts';
import { quantities } from '../../core/quantities/table.ts';
import { recordedFps, shutterSeconds, stepOf } from '../../core/derived/time.ts';
import { steadyShuttersS } from '../../core/derived/shutters.ts';
import type { Film, Mode, Piece, Shot, Val } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import type { Seconds, Stops } from '../../core/units.ts';
import { exposureTrade } from '../exposure/exposure-fixes.ts';
import { brighterText, listText, num, percentText, rasterText, shutterText } from '../../core/say.ts';

export default defineRule({
  id: 'slow-motion-lacks-frames',
  family: 'time',
  summary: 'A speed change needs frames that were not recorded, or steps over them unevenly.',
  severity: 'warning',
  sources: ['arithmetic'],
  messages: {
    lacks:
      '{shot}: {rate} recorded and played at {speed} gives {k} of a frame for each frame of the {edit} film, so {held}. {way}',
    sparse:
      '{shot}: a picture every {interval}, played at {speed}, gives {k} of a picture for each frame of the {edit} film, so pictures are held and it stutters. {way}',
    uneven:
      '{shot}: {rate} recorded and played at {speed} steps over {k} frames for each frame of the {edit} film: the step is uneven.{way}',
  },
  piece(piece, { film, report }) {
    const { shot, speedAt } = piece;
    const recorded = shot && recordedFps(shot);
    // What is recorded, as the user says it.
    const rate = shot?.interval ? { text: `a picture every ${shot.interval.text}` } : shot?.camera.rate;
    const edit = film.timeline.rate;
    const k = stepOf(piece, film);
    if (!shot || !speedAt || !rate || !recorded || !edit || !k) return;
    const data = { shot: shot.name, rate: rate.text, speed: speedAt.text, edit: edit.text, k: num(k, 2) };
    if (k < 0.999 && shot.interval) {
      const way = denser(shot, piece, film);
      report({
        message: 'sparse',
        data: { ...data, interval: shot.interval.text, way: way.text },
        at: speedAt,
        excess: 1 / k,
        fixes: () => [...evenSpeeds(piece, film), ...way.fixes],
        explainedBy: ['stuttering-speed'],
      });
    } else if (k < 0.999) {
      report({
        message: 'lacks',
        data: { ...data, held: heldText(k), way: lacksText(piece, film) },
        at: speedAt,
        severity: gravityOf(k),
        fixes: () => [...fasterRates(shot, film), ...evenSpeeds(piece, film)],
        explainedBy: ['stuttering-speed'],
      });
    } else if (Math.abs(k - Math.round(k)) > 0.02 + 1e-6 && k < stepsAlike) {
      report({
        message: 'uneven',
        data: { ...data, way: wayText(piece, film) },
        at: speedAt,
        severity: 'info',
        fixes: () => [...fasterRates(shot, film), ...evenSpeeds(piece, film)],
        explainedBy: ['stuttering-speed'],
      });
    }
  },
});

/** From here on one frame more or less at a step is a fifth of it, which nobody sees (common practice, no source). */
const stepsAlike = 5;
/** An action that takes so long is slow by itself: more frames of it, to be played more slowly still, are no help. */
const slowS: Seconds = 60;
/** No timer of a camera takes pictures more often (common practice, no source). */
const leastIntervalS: Seconds = 1;

function isSlow({ action }: Shot): boolean {
  return (action?.lasts?.value ?? 0) >= slowS;
}

/** More pictures of a time-lapse; where its timer can't take so many, it is none, and is filmed. */
function denser(shot: Shot, piece: Piece, film: Film): { text: string; fixes: readonly FixIdea[] } {
  const k = stepOf(piece, film)!;
  const neededS = Math.floor(shot.interval!.value * k * 100 + 1e-6) / 100;
  const even = evenSpeed(piece, film);
  const faster = isWritable(even) && hasEnough(piece, even) ? `play it at ${percentText(Math.abs(even), 2)}` : '';
  if (neededS >= leastIntervalS) {
    const text = `Take one every ${neededS} s${faster && `, or ${faster}`}.`;
    return { text, fixes: [set(`Take one every ${neededS} s`, [shot, 'interval', `${neededS} s`])] };
  }
  const { rate } = shot.camera;
  const filmed = rate && Math.abs(piece.speed) * rateFps(rate.value) >= rateFps(film.timeline.rate!.value) * 0.999;
  const ways = [faster, ...(filmed ? [`film it at ${rate.text}, without \`interval\``] : [])].filter(Boolean);
  const text = capital(`${ways.join(', or ') || 'play it faster'}.`);
  const filming = {
    title: `Film it at ${rate?.text}, not picture by picture`,
    remove: [{ block: shot, key: 'interval' }],
  };
  return { text, fixes: filmed ? [filming] : [] };
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** What helps where there are too few frames: a rate that the camera has, else another pace. */
function lacksText(piece: Piece, film: Film): string {
  const shot = piece.shot!;
  const needed = recordedFps(shot)! / stepOf(piece, film)!;
  const { action } = shot;
  if (isSlow(shot)) return `What happens takes ${action!.lasts!.text}: play it at its own speed, or faster.`;
  const rates = (shot.camera.body?.modes ?? []).flatMap((mode) => mode.rates.map((one) => rateFps(one.value)));
  const most = Math.max(...rates);
  const needs = `It needs ${num(needed, 1)} frames a second`;
  if (rates.length === 0 || most >= needed * 0.999) return `${needs}.`;
  return `${needs}, and the camera goes to ${num(most, 2)}: let it happen more slowly on the set, and play it faster.`;
}

/** A frame in ten that is held: seen where something moves evenly, by whoever looks for it (common practice, no source). */
const fewHeld = 0.9;

function gravityOf(k: number): 'info' | undefined {
  return k >= fewHeld ? 'info' : undefined;
}

function heldText(k: number): string {
  if (k < fewHeld) return 'frames are held and the motion stutters';
  return `one frame in ${num(1 / (1 - k), 0)} is held, a small hitch in what moves evenly`;
}

/** What steps evenly: another rate of the camera at this speed, else the nearest speed for which there is enough to show. */
function wayText(piece: Piece, film: Film): string {
  const faster = fasterRate(piece.shot!, film);
  const steps =
    faster && num(Math.abs(piece.speed) * (rateFps(faster.rate.value) / rateFps(film.timeline.rate!.value)));
  if (faster) return ` Recorded at ${faster.rate.text} it steps evenly, ${steps} frames each.`;
  const even = wholeSteps(piece, film).find((one) => hasEnough(piece, speedOf(one, piece, film)));
  return even ? ` ${percentText(Math.abs(speedOf(even, piece, film)), 2)} steps evenly.` : '';
}

/** Is so much of the action, or of the take, there to be shown at a speed? */
function hasEnough({ shot, lengthS = 0, fromS, speed }: Piece, at: number): boolean {
  if (Math.abs(at) <= Math.abs(speed) || !shot) return true;
  const takesS = lengthS * Math.abs(at);
  const left = shot.record ? shot.record.value - (at > 0 ? fromS : 0) : Infinity;
  return takesS <= Math.min(shot.action?.lasts?.value ?? Infinity, left) + 1e-6;
}

/** Whole numbers of recorded frames for each of the film, one at least, the nearest first. */
function wholeSteps(piece: Piece, film: Film): number[] {
  const k = stepOf(piece, film)!;
  const nearest = Math.max(1, Math.round(k));
  const other = Math.max(1, nearest > k ? nearest - 1 : nearest + 1);
  // Real speed is no slow motion: whoever wants slow motion is not helped by it.
  const isFast = Math.abs(piece.speed) >= 1 || isSlow(piece.shot!);
  const suits = (steps: number) => isFast || Math.abs(speedOf(steps, piece, film)) < 1 - 1e-9;
  return [...new Set([nearest, other])].filter((steps) => suits(steps) && isWritable(speedOf(steps, piece, film)));
}

function speedOf(steps: number, piece: Piece, film: Film): number {
  return (Math.sign(piece.speed) * steps * rateFps(film.timeline.rate!.value)) / recordedFps(piece.shot!)!;
}

/** Is it one that the format takes? */
function isWritable(speed: number): boolean {
  return Math.abs(speed) <= quantities['playing-speed'].bounds![0]!.to;
}

/** The nearest speed that steps over a whole number of frames, one at least. */
function evenSpeed(piece: Piece, film: Film): number {
  return speedOf(Math.max(1, Math.round(stepOf(piece, film)!)), piece, film);
}

function evenSpeeds(piece: Piece, film: Film): FixIdea[] {
  const steps = wholeSteps(piece, film).find((one) => hasEnough(piece, speedOf(one, piece, film)));
  if (steps === undefined) return [];
  const speed = speedOf(steps, piece, film);
  const text = percentText(speed, 2);
  const use = steps === 1 ? 'every frame is used' : `${steps} frames a step`;
  const moreTake = num((piece.lengthS ?? 0) * (Math.abs(speed) - Math.abs(piece.speed)), 1);
  const price =
    piece.lengthS && Number(moreTake) !== 0
      ? `, ${moreTake.replace('-', '')} s ${Number(moreTake) > 0 ? 'more' : 'less'} of the take`
      : '';
  return [set(`Play at ${text} (${use}${price})`, [piece, 'speed', text])];
}

interface Faster {
  readonly mode: Mode;
  readonly rate: Val<Rate>;
}

/** The slowest rate of the kit that gives whole steps in every piece of the shot; its own raster first. None of what is slow. */
function fasterRate(shot: Shot, film: Film): Faster | undefined {
  if (shot.interval || isSlow(shot)) return undefined;
  const edit = rateFps(film.timeline.rate!.value);
  const { colourSpace } = shot.camera;
  const now = rateFps(shot.camera.rate!.value);
  const whole = (fps: number) =>
    shot.pieces.every(({ speed }) => {
      const k = (Math.abs(speed) * fps) / edit;
      return speed === 0 || (k >= 0.999 && Math.abs(k - Math.round(k)) <= 0.02 + 1e-6);
    });
  // Of 59.94 and 60, the one that is a whole number of the edit's frames.
  const offEdit = (rate: Rate) => Math.abs(rateFps(rate) / edit - Math.round(rateFps(rate) / edit));
  const modes = (shot.camera.body?.modes ?? []).filter(
    (mode) => !colourSpace || mode.colourSpaces.includes(colourSpace.value),
  );
  const rows = modes.flatMap((mode) =>
    mode.rates.filter((one) => rateFps(one.value) > now && whole(rateFps(one.value))).map((rate) => ({ mode, rate })),
  );
  return rows.sort(
    (a, b) =>
      Number(sameRaster(b.mode, shot)) - Number(sameRaster(a.mode, shot)) ||
      Math.round(rateFps(a.rate.value)) - Math.round(rateFps(b.rate.value)) ||
      offEdit(a.rate.value) - offEdit(b.rate.value),
  )[0];
}

function sameRaster(mode: Mode, shot: Shot): boolean {
  return mode.raster?.text === shot.camera.raster?.text;
}

/** The steady shutter nearest to half a frame at a rate, where the shutter is written as a time. */
function shutterAt(shot: Shot, film: Film, fps: number, edit: number): number | undefined {
  const { shutter } = shot.camera;
  if (!shutter || shutter.value === 'auto' || shutter.value.kind !== 'time') return undefined;
  const k = Math.max(...shot.pieces.map(({ speed }) => (Math.abs(speed) * fps) / edit));
  const speed = Math.max(...shot.pieces.map((one) => Math.abs(one.speed)));
  return steadyShuttersS(shot, film, { fps, k, speed }, 40)[0];
}

/** Stops that the shutter gains: a time stays as it is where no better one fits, if it fits at all; an angle is so much shorter. */
function gainOf(shot: Shot, fps: number, timeS: Seconds | undefined): Stops | undefined {
  const { shutter, rate } = shot.camera;
  const nowS = shutterSeconds(shot);
  if (timeS !== undefined && nowS !== undefined) return Math.log2(timeS / nowS);
  const isTime = shutter && shutter.value !== 'auto' && shutter.value.kind === 'time';
  if (!isTime || nowS === undefined) return Math.log2(rateFps(rate!.value) / fps);
  return nowS * fps > 1 + 1e-9 ? undefined : 0;
}

/** Recording faster, with what the mode gives up. */
function fasterRates(shot: Shot, film: Film): FixIdea[] {
  const edit = rateFps(film.timeline.rate!.value);
  const best = fasterRate(shot, film);
  if (!best) return [];
  const { mode, rate } = best;
  const { camera } = shot;
  const fps = rateFps(rate.value);
  const timeS = shutterAt(shot, film, fps, edit);
  const gain = gainOf(shot, fps, timeS);
  if (gain === undefined) return [];
  const pay = exposureTrade(shot, film, gain);
  const changes: Parameters<typeof set>[1][] = [[camera, 'rate', rate.text]];
  const gives: string[] = [brighterText(gain + (pay?.gain ?? 0))];
  if (mode.raster && camera.raster && !sameRaster(mode, shot)) {
    changes.push([camera, 'raster', mode.raster.text]);
    gives.push(rasterText(mode.raster.value));
  }
  if (camera.bits && camera.bits.value !== mode.bits) {
    changes.push([camera, 'bits', String(mode.bits)]);
    gives.push(`${mode.bits} bits`);
  }
  const shutter = timeS === undefined ? [] : [shutterText(timeS)];
  for (const text of shutter) changes.push([camera, 'shutter', text]);
  const also = [...shutter.map((text) => `shutter to ${text}`), ...(pay?.what ?? [])];
  const title = `Set ${listText([`rate to ${rate.text}`, ...also])} (${gives.join(', ')})`;
  return [set(title, ...changes, ...(pay?.changes ?? []))];
}
