/** Film time, zoom, music and files: what falls on beats, cuts, pixels and levels. */
import { framesPerBeat, tempo as tempoRate, wholeFrameTempos } from '../../calc/beats.ts';
import { levelNames, lowestLevel } from '../../calc/codec.ts';
import { bitsPerPixel } from '../../calc/data.ts';
import { rateFps } from '../../calc/rate.ts';
import { easyReading, holdS } from '../../calc/reading.ts';
import { beatOfFilmS, beatsText, deliverablesOf } from '../../core/derived/edit.ts';
import { beatNear, filmMusic, momentText, tempoText } from '../../core/derived/music.ts';
import { viewAt } from '../../core/derived/framing.ts';
import { capitalPx, titleBox, titleRoom } from '../../core/derived/titles.ts';
import type { Deliverable, Film, Piece, Title } from '../../core/film.ts';
import type { FieldPath } from '../../core/schema/fields.ts';
import * as say from '../../core/say.ts';
import { bitrateUnderCapBps, fileBytes } from '../../core/derived/file.ts';
import { bitRateAbove, bitRateBelow, levelled, streamOf } from '../../core/derived/stream.ts';
import { joined, nearestFirst } from './notes.ts';
import type { FieldValues } from './field-values.ts';

export const tempo: FieldValues = {
  texts({ film }) {
    const frames = film.timeline.rate?.value;
    const beats = filmMusic(film)?.beats;
    // Where it is known what the music is, no other tempo is of use.
    if (beats) return [tempoText(beats)];
    if (!frames) return [];
    const now = film.music?.tempo?.value ?? 100;
    const around = [1, 0.9, 1.1, 0.8, 1.25, 0.7, 1.4].flatMap((factor) => wholeFrameTempos(frames, now * factor));
    // Only what can be written down exactly: a rounded tempo drifts.
    const exact = around.filter((bpm) => Math.abs(bpm * 1000 - Math.round(bpm * 1000)) < 1e-6);
    return nearestFirst(exact, now).map((bpm) => `${say.num(bpm, 3)} bpm`);
  },
  note({ film }, text) {
    const frames = film.timeline.rate?.value;
    const beats = filmMusic(film)?.beats;
    const heard = beats && tempoText(beats) === text ? 'heard in its file' : '';
    const each = frames && framesPerBeat(frames, tempoRate(Number.parseFloat(text)));
    return joined(heard, each ? `${say.num(each.num / each.den, 3)} frames a beat` : '');
  },
};

/** The beat that is heard nearest to what is said, and the first one. */
export const firstBeat: FieldValues = {
  texts({ film }) {
    const { beats, music } = filmMusic(film) ?? {};
    if (!beats || !music) return [];
    return [...new Set([beatNear(beats, music.firstBeatS), beats.firstS].map(momentText))];
  },
  note({ film }, text) {
    const first = filmMusic(film)?.beats?.firstS;
    return first !== undefined && momentText(first) === text
      ? 'the first beat that is heard in its file'
      : 'a beat that is heard';
  },
};

export const musicLength: FieldValues = {
  texts({ film }) {
    const known = filmMusic(film);
    return known ? [say.secondsText(known.heard.durationS, 1)] : [];
  },
  note: () => 'as long as its file is',
};

/** Film time in beats where there is music and they come out even, else in seconds. */
function timeText(film: Film, seconds: number): string {
  const beat = beatOfFilmS(film);
  const beats = beat ? seconds / beat : NaN;
  if (Math.abs(beats * 2 - Math.round(beats * 2)) < 1e-6) return beatsText(Math.round(beats * 2) / 2);
  return say.secondsText(seconds, 3);
}

export const length: FieldValues = {
  texts({ film, path }) {
    const usual = beatOfFilmS(film)
      ? [4, 8, 2, 16, 6, 12, 1].map(beatsText)
      : [3, 2, 4, 1.5, 5, 6, 8].map((seconds) => say.secondsText(seconds));
    const rest = restS(film, Number(path[1]));
    return [...new Set([...(rest > 0 ? [timeText(film, rest)] : []), ...usual])];
  },
  note({ film, path }, text) {
    const piece = film.cut[Number(path[1])];
    if (piece?.lengthS === undefined) return '';
    const inSeconds = text.endsWith(' s') ? '' : say.secondsText(piece.lengthS);
    return joined(inSeconds, piece.endS === undefined ? '' : `ends at ${say.secondsText(piece.endS)}`);
  },
};

/** What the other pieces leave of the film's promised length. */
function restS(film: Film, index: number): number {
  const whole = [...film.deliverables.values()].find((one) => one.lengthS !== undefined && !one.section)?.lengthS ?? 0;
  const others = film.cut.filter((piece) => piece.index !== index);
  return Math.round((whole - others.reduce((sum, piece) => sum + (piece.lengthS ?? 0), 0)) * 1000) / 1000;
}

export const zoom: FieldValues = {
  texts({ film, path }) {
    const most = Math.floor(spare(film, film.cut[Number(path[1])], 1) * 100) / 100;
    const steps = ['1.0', '1.0 to 1.1', '1.0 to 1.2', '1.2', '1.4', '2'];
    const tightest = Number.isFinite(most) && most > 1 ? [say.num(most, 2), `1.0 to ${say.num(most, 2)}`] : [];
    return [...new Set([...steps.slice(0, 3), ...tightest, ...steps.slice(3)])].slice(0, 8);
  },
  note({ film, path }, text) {
    const scale = spare(film, film.cut[Number(path[1])], Number(text.split(' to ').at(-1)));
    if (!Number.isFinite(scale)) return '';
    return scale >= 1 - 1e-9 ? `${say.num(scale, 2)}× the pixels it needs` : `enlarged ${say.num(1 / scale, 2)}×`;
  },
};

/** Recorded pixels for each delivered one at a zoom, in the deliverable that has the fewest; `Infinity` where none is known. */
function spare(film: Film, piece: Piece | undefined, zoomBy: number): number {
  if (!piece) return Infinity;
  const still = { ...piece, zoom: { from: zoomBy, to: zoomBy } };
  const scales = [...film.deliverables.values()].flatMap((one) => viewAt(still, one, 0)?.scale ?? []);
  return Math.min(Infinity, ...scales);
}

/** The cuts, then the beats of bars between them. */
export const at: FieldValues = {
  texts({ film, path }) {
    const cuts = film.cut.flatMap((piece) => (piece.startS === undefined ? [] : [piece.startS]));
    const from = path[0] === 'titles' ? endOfTitleBefore(film, Number(path[1])) : 0;
    const next = [...new Set(cuts)].filter((one) => one >= from - 1e-6);
    const free = from > 0 && !cuts.includes(from) ? [from] : [];
    return [...new Set([...next, ...free].map((one) => timeText(film, one)))].slice(0, 8);
  },
  note({ film, path }) {
    const atS = (path[0] === 'titles' ? film.titles : film.sounds)[Number(path[1])]?.atS;
    const piece = film.cut.find((one) => atS !== undefined && Math.abs((one.startS ?? -1) - atS) < 1e-6);
    if (!piece) return '';
    const what = piece.shotName?.text ?? piece.footage?.text;
    return what ? `where \`${what}\` starts` : 'at a cut';
  },
};

function endOfTitleBefore(film: Film, index: number): number {
  const before = film.titles[index - 1];
  return before?.atS === undefined ? 0 : before.atS + (before.holdS ?? 0);
}

export const hold: FieldValues = {
  texts({ film, path }) {
    const text = film.titles[Number(path[1])]?.text?.value;
    const least = text ? Math.ceil(holdS(text, easyReading) * 2) / 2 : 2;
    return [least, least + 0.5, least + 1, least + 2].map((seconds) => say.secondsText(seconds));
  },
  note({ film, path }, text) {
    const words = film.titles[Number(path[1])]?.text?.value;
    return words && Number.parseFloat(text) >= holdS(words, easyReading) ? 'long enough to read' : '';
  },
};

/** Usual heights of capitals, a share of the picture's shorter side (common practice, no source). */
const usualLetters = [0.06, 0.05, 0.08, 0.04, 0.03];

/** The usual ones, and the largest at which the words have room in every file that shows them. */
export const letters: FieldValues = {
  texts({ film, path }) {
    const title = film.titles[Number(path[1])];
    const most = title?.text
      ? Math.min(...deliverablesOf(title, film).map((one) => mostLetters(title, one)))
      : Infinity;
    const fit = Number.isFinite(most) && most > 0 ? [most] : [];
    return [...new Set([...usualLetters, ...fit].map((share) => say.percentText(share, 1)))];
  },
  note({ film, path }, text) {
    const title = film.titles[Number(path[1])];
    const raster = title && deliverablesOf(title, film).find((one) => one.raster)?.raster?.value;
    return raster ? `${say.num(capitalPx(title, raster, Number.parseFloat(text) / 100), 0)} pixels high` : '';
  },
};

/** In tenths of a percent, rounded down: what is given away is too little to see. */
function mostLetters(title: Title, deliverable: Deliverable): number {
  const raster = deliverable.raster?.value;
  if (!raster) return Infinity;
  const [box, room] = [titleBox(title, raster, 1), titleRoom(deliverable, raster, true)];
  return Math.floor(Math.min(room.widthPx / box.widthPx, room.heightPx / box.heightPx) * 1000 + 1e-6) / 1000;
}

function deliverableAt(film: Film, path: FieldPath): Deliverable | undefined {
  return film.deliverables.get(String(path[1]));
}

/** Bits for each pixel from lean to lavish (common practice, no source); HEVC and its heirs take about 0.6 of them. */
const bitsEach = [0.12, 0.1, 0.16, 0.2, 0.08, 0.3];

/** The next of 1, 1.2, 1.6, 2, 2.5, 3, 4, 5, 6, 8 and their tenfolds. */
function roundUp(value: number): number {
  const ten = 10 ** Math.floor(Math.log10(value) + 1e-9);
  return ten * ([1, 1.2, 1.6, 2, 2.5, 3, 4, 5, 6, 8].find((step) => step * ten >= value * 0.999) ?? 10);
}

export const bitrate: FieldValues = {
  texts({ film, path }) {
    const one = deliverableAt(film, path);
    if (!one?.raster || !one.rate) return [];
    const { width, height } = one.raster.value;
    const pixels = width * height * rateFps(one.rate.value) * (one.codec === 'h264' ? 1 : 0.6);
    const cap = bitrateUnderCapBps(one, film);
    const capped = cap === undefined ? [] : [bitRateBelow(cap)];
    const round = bitsEach.map((bits) => bitRateAbove(roundUp(bits * pixels)));
    return [...new Set([...capped, ...round])].slice(0, 8);
  },
  note({ film, path }) {
    const one = deliverableAt(film, path);
    if (!one?.raster || !one.rate || !one.bitrate) return '';
    const { width, height } = one.raster.value;
    const bytes = fileBytes(one, film);
    const bits = bitsPerPixel(one.bitrate.value, width, height, rateFps(one.rate.value));
    return joined(bytes ? `about ${say.bytesText(bytes)}` : '', `${say.num(bits, 3)} bits for each pixel`);
  },
};

export const codecLevel: FieldValues = {
  texts({ film, path }) {
    const one = deliverableAt(film, path);
    if (!one || !levelled(one.codec)) return [];
    const stream = streamOf(one);
    const all = levelNames(one.codec).filter((name) => /^[\d.]+$/.test(name));
    const lowest = stream && lowestLevel(stream)?.name;
    return all.slice(lowest === undefined ? -4 : Math.max(0, all.indexOf(lowest))).slice(0, 4);
  },
  note({ film, path }, text) {
    const one = deliverableAt(film, path);
    const stream = one && streamOf(one);
    const lowest = stream && lowestLevel(stream)?.name;
    if (lowest === undefined) return '';
    return lowest === text ? 'the lowest that holds it' : 'holds it with room to spare';
  },
};
