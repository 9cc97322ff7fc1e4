/**
 * Reads PNG files (ISO/IEC 15948) that may come from a stranger: what the head says is looked at before anything is unpacked,
 * and no more is unpacked than it promises. Not read: interlaced ones, and less than 8 bits for a channel.
 */
import { inflateSync } from 'node:zlib';

export interface Pixels {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Red, green, blue and alpha, 8 bits each, row by row. */
  readonly rgba: Uint8Array;
}

const mostPixels = 16e6;
const signature = Buffer.from([137, 80, 78, 71, 13, 10, 26, 10]);

/** Samples of a pixel, by the kind of colour in the head. */
const samplesOf: Readonly<Record<number, number>> = { 0: 1, 2: 3, 3: 1, 4: 2, 6: 4 };

interface Head {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly colours: number;
  readonly samples: number;
  /** Of a sample. */
  readonly bytes: number;
}

/** Or why it can't be read, in words that follow its name. */
export function readPng(file: Buffer): Pixels | string {
  if (!file.subarray(0, 8).equals(signature)) return 'is no PNG file';
  const head = headOf(file);
  if (typeof head === 'string') return head;
  const { body, palette, palettesAlpha } = chunksOf(file);
  const { widthPx, heightPx, samples, bytes } = head;
  const rowBytes = widthPx * samples * bytes;
  const all = (rowBytes + 1) * heightPx;
  let packed: Buffer;
  try {
    packed = inflateSync(body, { maxOutputLength: all });
  } catch {
    return 'is damaged';
  }
  if (packed.length < all || (head.colours === 3 && !palette)) return 'is damaged';
  const rows = unfiltered(packed, rowBytes, heightPx, samples * bytes);
  return { widthPx, heightPx, rgba: coloured(rows, head, { palette, palettesAlpha }) };
}

function headOf(file: Buffer): Head | string {
  if (file.length < 33 || file.toString('latin1', 12, 16) !== 'IHDR') return 'is damaged';
  const [widthPx, heightPx] = [file.readUInt32BE(16), file.readUInt32BE(20)];
  const [bits, colours, interlaced] = [file[24]!, file[25]!, file[28]!];
  const samples = samplesOf[colours];
  if (widthPx === 0 || heightPx === 0 || samples === undefined) return 'is damaged';
  if (widthPx * heightPx > mostPixels)
    return `has ${widthPx} × ${heightPx} pixels, and ${mostPixels / 1e6} million are the most`;
  if (interlaced !== 0) return 'is interlaced: save it without';
  if (bits !== 8 && !(bits === 16 && colours !== 3)) return `has ${bits} bits for a channel: save it with 8 or 16`;
  return { widthPx, heightPx, colours, samples, bytes: bits / 8 };
}

function chunksOf(file: Buffer): { body: Buffer; palette?: Buffer; palettesAlpha?: Buffer } {
  const body: Buffer[] = [];
  const found = new Map<string, Buffer>();
  for (let at = 8; at + 12 <= file.length;) {
    const length = file.readUInt32BE(at);
    const name = file.toString('latin1', at + 4, at + 8);
    const data = file.subarray(at + 8, at + 8 + length);
    if (name === 'IDAT') body.push(data);
    else found.set(name, data);
    at += 12 + length;
  }
  const [palette, palettesAlpha] = [found.get('PLTE'), found.get('tRNS')];
  return { body: Buffer.concat(body), ...(palette && { palette }), ...(palettesAlpha && { palettesAlpha }) };
}

/** Each row says how it was told by what lies left of it and above (clause 9 of the standard). */
function unfiltered(packed: Buffer, rowBytes: number, rows: number, step: number): Uint8Array {
  const out = new Uint8Array(rowBytes * rows);
  for (let row = 0; row < rows; row++) {
    const filter = packed[row * (rowBytes + 1)]!;
    const from = row * (rowBytes + 1) + 1;
    const to = row * rowBytes;
    for (let at = 0; at < rowBytes; at++) {
      const left = at >= step ? out[to + at - step]! : 0;
      const above = row > 0 ? out[to + at - rowBytes]! : 0;
      const corner = at >= step && row > 0 ? out[to + at - rowBytes - step]! : 0;
      out[to + at] = packed[from + at]! + told(filter, left, above, corner);
    }
  }
  return out;
}

function told(filter: number, left: number, above: number, corner: number): number {
  if (filter === 1) return left;
  if (filter === 2) return above;
  if (filter === 3) return (left + above) >> 1;
  if (filter !== 4) return 0;
  const guess = left + above - corner;
  const [a, b, c] = [Math.abs(guess - left), Math.abs(guess - above), Math.abs(guess - corner)];
  return a <= b && a <= c ? left : b <= c ? above : corner;
}

interface Palette {
  readonly palette: Buffer | undefined;
  readonly palettesAlpha: Buffer | undefined;
}

function coloured(rows: Uint8Array, head: Head, { palette, palettesAlpha }: Palette): Uint8Array {
  const { colours, samples, bytes } = head;
  const count = head.widthPx * head.heightPx;
  const rgba = new Uint8Array(count * 4).fill(255);
  for (let pixel = 0; pixel < count; pixel++) {
    const from = pixel * samples * bytes;
    const to = pixel * 4;
    if (colours === 3) {
      const index = rows[from]!;
      for (let channel = 0; channel < 3; channel++) rgba[to + channel] = palette![index * 3 + channel] ?? 0;
      rgba[to + 3] = palettesAlpha?.[index] ?? 255;
      continue;
    }
    const isGrey = samples < 3;
    for (let channel = 0; channel < 3; channel++) rgba[to + channel] = rows[from + (isGrey ? 0 : channel * bytes)]!;
    if (samples % 2 === 0) rgba[to + 3] = rows[from + (samples - 1) * bytes]!;
  }
  return rgba;
}
