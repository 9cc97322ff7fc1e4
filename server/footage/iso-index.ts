/** What the index of an MP4 or MOV file says that the library for its tracks does not: times, clock, fields. */
import { type Box, boxesIn, dataView, find, topBoxes, typeAt } from './boxes.ts';
import { type ByteSource, TooMuch } from './byte-source.ts';

export interface IsoTrack {
  readonly id: number;
  readonly kind: string;
  /** Ticks a second of its clock. */
  readonly timescale: number;
  readonly durationS: number;
  /** How long its samples stand one after another, run by run, in ticks, as they are decoded. */
  readonly steps: readonly Run[];
  /** How much later than decoded they are shown, run by run, in ticks. */
  readonly offsets: readonly Run[];
  readonly isInterlaced?: boolean;
  /** How its samples are packed, by the container's name for it. */
  readonly entry: string;
}

export interface Run {
  readonly count: number;
  readonly ticks: number;
}

export interface IsoIndex {
  readonly indexAt: 'start' | 'end' | 'none';
  /** The file ends before something that it says it holds. */
  readonly isCut: boolean;
  readonly tracks: readonly IsoTrack[];
  /** A file of the index alone, which says of the tracks what the whole one does. */
  readonly alone: Uint8Array;
  /** Milliseconds since 1970. */
  readonly createdMs?: number;
}

/** A day at 120 frames a second: more frames than that are no clip. */
const mostFrames = 86_400 * 120;
const mostBrandBytes = 1024;
/** From 1904-01-01, where clocks of MP4 start (ISO/IEC 14496-12, 8.2.2), to 1970-01-01. */
const s1904To1970 = 2_082_844_800;

/** @returns undefined for a file that has no such boxes */
export async function readIsoIndex(source: ByteSource): Promise<IsoIndex | undefined> {
  let [media, isCut, known] = [false, false, false];
  let moov: { bytes: DataView; box: Box; isFirst: boolean } | undefined;
  let ftyp: Uint8Array = new Uint8Array();
  const fragments = new Map<number, Fragments>();
  for await (const box of topBoxes(source)) {
    known ||= ['ftyp', 'moov', 'mdat', 'wide', 'free', 'skip', 'pnot'].includes(box.type);
    if (!known) return undefined;
    isCut ||= box.isCut;
    if (box.isCut && box.type !== 'mdat') break;
    if (box.type === 'mdat') media = true;
    if (box.type === 'ftyp' && box.end - box.start <= mostBrandBytes) ftyp = await source.read(box.start, box.end);
    if (box.type !== 'moov' && box.type !== 'moof') continue;
    const bytes = dataView(await source.read(box.start, box.end));
    const whole = { ...box, start: 0, end: bytes.byteLength };
    if (box.type === 'moov') moov ??= { bytes, box: whole, isFirst: !media };
    else if (moov) addFragment(bytes, whole, moov, fragments);
  }
  if (!known) return undefined;
  if (!moov) return { indexAt: 'none', isCut, tracks: [], alone: ftyp };
  const { bytes, box, isFirst } = moov;
  const tracks = tracksOf(bytes, box).map((track) => withFragments(track, fragments.get(track.id)));
  const alone = joined(['ftyp', ftyp], ['moov', bytesOf(bytes)]);
  return { indexAt: isFirst ? 'start' : 'end', isCut, tracks, alone, createdMs: createdMs(bytes, box) };
}

function joined(...boxes: readonly (readonly [type: string, content: Uint8Array])[]): Uint8Array {
  const whole = new Uint8Array(boxes.reduce((sum, [, content]) => sum + 8 + content.length, 0));
  let at = 0;
  for (const [type, content] of boxes) {
    dataView(whole).setUint32(at, 8 + content.length);
    whole.set(
      [...type].map((letter) => letter.charCodeAt(0)),
      at + 4,
    );
    whole.set(content, at + 8);
    at += 8 + content.length;
  }
  return whole;
}

function bytesOf({ buffer, byteOffset, byteLength }: DataView): Uint8Array {
  return new Uint8Array(buffer, byteOffset, byteLength);
}

function tracksOf(bytes: DataView, moov: Box): IsoTrack[] {
  const movieScale = movieTimescale(bytes, moov);
  const traks = [...boxesIn(bytes, moov.start, moov.end)].filter(({ type }) => type === 'trak');
  return traks.flatMap((trak) => readTrack(bytes, trak, movieScale) ?? []);
}

function readTrack(bytes: DataView, trak: Box, movieScale: number): IsoTrack | undefined {
  const [tkhd, mdhd, hdlr] = [
    find(bytes, trak, 'tkhd'),
    find(bytes, trak, 'mdia', 'mdhd'),
    find(bytes, trak, 'mdia', 'hdlr'),
  ];
  const stbl = find(bytes, trak, 'mdia', 'minf', 'stbl');
  if (!tkhd || !mdhd || !hdlr || !stbl) return undefined;
  const isLong = bytes.getUint8(mdhd.start) === 1;
  const timescale = bytes.getUint32(mdhd.start + (isLong ? 20 : 12));
  if (timescale === 0) return undefined;
  const ticks = isLong ? Number(bytes.getBigUint64(mdhd.start + 24)) : bytes.getUint32(mdhd.start + 16);
  const stsd = find(bytes, stbl, 'stsd');
  return {
    id: bytes.getUint32(tkhd.start + (bytes.getUint8(tkhd.start) === 1 ? 20 : 12)),
    kind: String.fromCharCode(...[8, 9, 10, 11].map((at) => bytes.getUint8(hdlr.start + at))),
    timescale,
    durationS: editedS(bytes, find(bytes, trak, 'edts', 'elst'), movieScale) ?? ticks / timescale,
    steps: runs(bytes, find(bytes, stbl, 'stts'), 'unsigned'),
    offsets: runs(bytes, find(bytes, stbl, 'ctts'), 'signed'),
    isInterlaced: isInterlaced(bytes, stsd),
    entry: stsd && stsd.end - stsd.start >= 16 ? typeAt(bytes, stsd.start + 12) : '',
  };
}

function movieTimescale(bytes: DataView, moov: Box): number {
  const mvhd = find(bytes, moov, 'mvhd');
  return mvhd ? bytes.getUint32(mvhd.start + (bytes.getUint8(mvhd.start) === 1 ? 20 : 12)) : 0;
}

/** Entries of `count` and `ticks` behind a version and their number, as `stts` and `ctts` have. */
function runs(bytes: DataView, box: Box | undefined, as: 'signed' | 'unsigned'): Run[] {
  if (!box) return [];
  const said = bytes.getUint32(box.start + 4);
  const entries = Math.min(said, Math.floor((box.end - box.start - 8) / 8));
  const list: Run[] = [];
  let frames = 0;
  for (let index = 0, at = box.start + 8; index < entries; index++, at += 8) {
    const count = bytes.getUint32(at);
    if ((frames += count) > mostFrames) throw new TooMuch();
    list.push({ count, ticks: as === 'signed' ? bytes.getInt32(at + 4) : bytes.getUint32(at + 4) });
  }
  return list;
}

/** How long the edit list shows the track; undefined without one. Empty edits only shift it. */
function editedS(bytes: DataView, elst: Box | undefined, movieScale: number): number | undefined {
  if (!elst || movieScale === 0) return undefined;
  const isLong = bytes.getUint8(elst.start) === 1;
  const width = isLong ? 20 : 12;
  const entries = Math.min(bytes.getUint32(elst.start + 4), Math.floor((elst.end - elst.start - 8) / width));
  let ticks = 0;
  for (let index = 0, at = elst.start + 8; index < entries; index++, at += width) {
    const mediaTime = isLong ? Number(bytes.getBigInt64(at + 8)) : bytes.getInt32(at + 4);
    if (mediaTime >= 0) ticks += isLong ? Number(bytes.getBigUint64(at)) : bytes.getUint32(at);
  }
  return ticks > 0 ? ticks / movieScale : undefined;
}

/** What `fiel` says (QuickTime File Format, field handling): two fields a frame. */
function isInterlaced(bytes: DataView, stsd: Box | undefined): boolean | undefined {
  if (!stsd) return undefined;
  const [entry] = boxesIn(bytes, stsd.start + 8, stsd.end);
  // Behind the fixed fields of a visual sample entry.
  const from = entry && entry.start + 78;
  if (!entry || from === undefined || from > entry.end) return undefined;
  const fiel = [...boxesIn(bytes, from, entry.end)].find(({ type }) => type === 'fiel');
  return fiel && bytes.getUint8(fiel.start) === 2;
}

function createdMs(bytes: DataView, moov: Box): number | undefined {
  const mvhd = find(bytes, moov, 'mvhd');
  if (!mvhd) return undefined;
  const isLong = bytes.getUint8(mvhd.start) === 1;
  const seconds = isLong ? Number(bytes.getBigUint64(mvhd.start + 4)) : bytes.getUint32(mvhd.start + 4);
  // Some recorders count from 1970: what would lie before 1970 is meant so.
  const since1970 = seconds >= s1904To1970 ? seconds - s1904To1970 : seconds;
  return seconds === 0 ? undefined : since1970 * 1000;
}

// -- files in fragments ----------------------------------------------------------------------------------------------

interface Fragments {
  readonly runs: Run[];
  frames: number;
}

/** Adds how long the samples of a `moof` stand, track by track (ISO/IEC 14496-12, 8.8). */
function addFragment(
  bytes: DataView,
  moof: Box,
  moov: { readonly bytes: DataView; readonly box: Box },
  all: Map<number, Fragments>,
): void {
  for (const traf of boxesIn(bytes, moof.start, moof.end)) {
    const tfhd = traf.type === 'traf' ? find(bytes, traf, 'tfhd') : undefined;
    if (!tfhd) continue;
    const id = bytes.getUint32(tfhd.start + 4);
    const list = all.get(id) ?? { runs: [], frames: 0 };
    all.set(id, list);
    const usual = usualTicks(bytes, tfhd) ?? trackTicks(moov.bytes, moov.box, id) ?? 0;
    for (const trun of boxesIn(bytes, traf.start, traf.end)) {
      if (trun.type === 'trun') addRun(bytes, trun, usual, list);
    }
  }
}

/** The duration that `tfhd` gives all samples. */
function usualTicks(bytes: DataView, tfhd: Box): number | undefined {
  const flags = bytes.getUint32(tfhd.start) & 0xffffff;
  if (!(flags & 0x8)) return undefined;
  const at = tfhd.start + 8 + (flags & 0x1 ? 8 : 0) + (flags & 0x2 ? 4 : 0);
  return at + 4 <= tfhd.end ? bytes.getUint32(at) : undefined;
}

/** The duration that `trex` gives all samples of a track. */
function trackTicks(bytes: DataView, moov: Box, id: number): number | undefined {
  const mvex = find(bytes, moov, 'mvex');
  if (!mvex) return undefined;
  for (const trex of boxesIn(bytes, mvex.start, mvex.end)) {
    if (trex.type === 'trex' && bytes.getUint32(trex.start + 4) === id) return bytes.getUint32(trex.start + 12);
  }
  return undefined;
}

function addRun(bytes: DataView, trun: Box, usual: number, list: Fragments): void {
  const flags = bytes.getUint32(trun.start) & 0xffffff;
  const count = bytes.getUint32(trun.start + 4);
  if ((list.frames += count) > mostFrames) throw new TooMuch();
  if (!(flags & 0x100)) {
    list.runs.push({ count, ticks: usual });
    return;
  }
  const width = 4 * [0x100, 0x200, 0x400, 0x800].filter((flag) => flags & flag).length;
  let at = trun.start + 8 + (flags & 0x1 ? 4 : 0) + (flags & 0x4 ? 4 : 0);
  for (let index = 0; index < count && at + 4 <= trun.end; index++, at += width)
    list.runs.push({ count: 1, ticks: bytes.getUint32(at) });
}

function withFragments(track: IsoTrack, fragments: Fragments | undefined): IsoTrack {
  if (!fragments) return track;
  const steps = [...track.steps, ...fragments.runs];
  const ticks = steps.reduce((sum, run) => sum + run.count * run.ticks, 0);
  return { ...track, steps, offsets: [], durationS: Math.max(track.durationS, ticks / track.timescale) };
}
