/**
 * Looks at the head of a JPEG file (Rec. ITU-T T.81, annex B) that may come from a stranger, without unpacking it: how large it is, how
 * it is to be turned (Exif 2.32, tag 0x0112), and the file without what says where and by whom it was taken.
 */
import type { Sketch } from '../core/sketch.ts';

const mostPixels = 50e6;

/** Or why it can't be used, in words that follow its name. */
export function readJpeg(file: Buffer): Sketch | string {
  if (file.length < 4 || file.readUInt16BE(0) !== 0xffd8) return 'is no JPEG file';
  const kept: Buffer[] = [file.subarray(0, 2)];
  let frame: { widthPx: number; heightPx: number; channels: number } | undefined;
  let turned = 1;
  for (let at = 2; at + 4 <= file.length;) {
    if (file[at] !== 0xff) return 'is damaged';
    const marker = file[at + 1]!;
    // Any number of these may stand before a marker.
    if (marker === 0xff) {
      at++;
      continue;
    }
    const end = at + 2 + file.readUInt16BE(at + 2);
    if (end > file.length) return 'is damaged';
    const data = file.subarray(at + 4, end);
    if (isFrame(marker) && data.length >= 6)
      frame = { heightPx: data.readUInt16BE(1), widthPx: data.readUInt16BE(3), channels: data[5]! };
    if (marker === 0xe1) turned = orientationIn(data) ?? turned;
    if (!isAside(marker)) kept.push(file.subarray(at, end));
    if (marker === 0xda) return frame ? sketchOf([...kept, file.subarray(end)], frame, turned) : 'is damaged';
    at = end;
  }
  return 'is damaged';
}

/** The start of a frame: all SOF markers, which 0xc4, 0xc8 and 0xcc are not. */
function isFrame(marker: number): boolean {
  return marker >= 0xc0 && marker <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(marker);
}

/** What applications write besides (APP1 to APP13, APP15, comments). APP0 and APP14 say what the colours are. */
function isAside(marker: number): boolean {
  return (marker >= 0xe1 && marker <= 0xef && marker !== 0xee) || marker === 0xfe;
}

const turns: Readonly<Record<number, Sketch['turnDeg']>> = { 1: 0, 3: 180, 6: 90, 8: 270 };

function sketchOf(
  parts: readonly Buffer[],
  { widthPx, heightPx, channels }: { widthPx: number; heightPx: number; channels: number },
  turned: number,
): Sketch | string {
  const turnDeg = turns[turned];
  if (widthPx === 0 || heightPx === 0) return 'is damaged';
  if (widthPx * heightPx > mostPixels)
    return `has ${widthPx} × ${heightPx} pixels, and ${mostPixels / 1e6} million are the most`;
  if (channels !== 1 && channels !== 3) return 'is not in RGB: save it so';
  if (turnDeg === undefined) return 'is stored mirrored: save it as it is seen';
  const isLying = turnDeg % 180 !== 0;
  return {
    kind: 'jpeg',
    widthPx: isLying ? heightPx : widthPx,
    heightPx: isLying ? widthPx : heightPx,
    turnDeg,
    channels,
    bytes: Uint8Array.from(Buffer.concat(parts)),
  };
}

/** The orientation that Exif says, 1 to 8: the first directory of a TIFF file inside. */
function orientationIn(data: Buffer): number | undefined {
  if (data.length < 14 || data.toString('latin1', 0, 6) !== 'Exif\0\0') return undefined;
  const tiff = data.subarray(6);
  const isLittle = tiff.toString('latin1', 0, 2) === 'II';
  const short = (at: number) => (isLittle ? tiff.readUInt16LE(at) : tiff.readUInt16BE(at));
  const start = isLittle ? tiff.readUInt32LE(4) : tiff.readUInt32BE(4);
  if (start + 2 > tiff.length) return undefined;
  for (let index = 0; index < short(start); index++) {
    const at = start + 2 + 12 * index;
    if (at + 12 > tiff.length) return undefined;
    if (short(at) === 0x0112) return short(at + 8);
  }
  return undefined;
}
