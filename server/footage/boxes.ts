/**
 * The boxes of an MP4 or MOV file (ISO/IEC 14496-12): what a library for playing them does not hand out, which is the
 * table of times whole, the clock, the order of fields, and where in the file the index lies.
 */
import { type ByteSource, TooMuch } from './byte-source.ts';

export interface Box {
  readonly type: string;
  /** Where its content starts and ends, in whatever it was found in. */
  readonly start: number;
  readonly end: number;
}

/** No file has so many boxes side by side; a hostile one may. */
const mostBoxes = 20_000;

/** The boxes of a stretch of bytes; ends where they stop making sense. */
export function* boxesIn(bytes: DataView, start = 0, end = bytes.byteLength): Generator<Box> {
  for (let at = start, count = 0; at + 8 <= end; count++) {
    if (count > mostBoxes) throw new TooMuch();
    const box = boxAt(bytes, at, end);
    if (!box) return;
    yield box;
    at = box.end;
  }
}

function boxAt(bytes: DataView, at: number, end: number): Box | undefined {
  const size = bytes.getUint32(at);
  const type = typeAt(bytes, at + 4);
  if (size === 0) return { type, start: at + 8, end };
  if (size === 1 && at + 16 > end) return undefined;
  const whole = size === 1 ? Number(bytes.getBigUint64(at + 8)) : size;
  const head = size === 1 ? 16 : 8;
  return whole < head || at + whole > end ? undefined : { type, start: at + head, end: at + whole };
}

export function typeAt(bytes: DataView, at: number): string {
  return String.fromCharCode(
    bytes.getUint8(at),
    bytes.getUint8(at + 1),
    bytes.getUint8(at + 2),
    bytes.getUint8(at + 3),
  );
}

/** The first box along a way of types: `find(moov, 'mdia', 'minf')`. */
export function find(bytes: DataView, within: Box, ...way: string[]): Box | undefined {
  let box: Box | undefined = within;
  for (const type of way) {
    const { start, end }: Box = box;
    box = undefined;
    for (const one of boxesIn(bytes, start, end)) {
      if (one.type !== type) continue;
      box = one;
      break;
    }
    if (!box) return undefined;
  }
  return box;
}

/** A box at the top of a file, which may end before the box does. */
export interface TopBox extends Box {
  readonly isCut: boolean;
}

/** The boxes at the top of a file: a few bytes of each are read. */
export async function* topBoxes(source: ByteSource): AsyncGenerator<TopBox> {
  for (let at = 0, count = 0; at + 8 <= source.size; count++) {
    if (count > mostBoxes) throw new TooMuch();
    const head = dataView(await source.read(at, Math.min(at + 16, source.size)));
    if (head.byteLength < 8) return;
    const size = head.getUint32(0);
    if (size === 1 && head.byteLength < 16) return;
    const whole = size === 0 ? source.size - at : size === 1 ? Number(head.getBigUint64(8)) : size;
    const start = at + (size === 1 ? 16 : 8);
    if (whole < start - at) return;
    const end = at + whole;
    yield { type: typeAt(head, 4), start, end: Math.min(end, source.size), isCut: end > source.size };
    at = end;
  }
}

export function dataView({ buffer, byteOffset, byteLength }: Uint8Array): DataView {
  return new DataView(buffer, byteOffset, byteLength);
}
