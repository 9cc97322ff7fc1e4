/** Pixels as a PNG file (ISO/IEC 15948): 8 bits of red, green and blue, without what is see-through. */
import { zlibSync } from 'fflate';

export function pngOf(rgba: Uint8ClampedArray, width: number, height: number): Uint8Array {
  const head = new Uint8Array(13);
  const fields = new DataView(head.buffer);
  fields.setUint32(0, width);
  fields.setUint32(4, height);
  head.set([8, 2, 0, 0, 0], 8);
  const pieces = [
    Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a),
    chunk('IHDR', head),
    chunk('IDAT', zlibSync(filteredRows(rgba, width, height), { level: 4 })),
    chunk('IEND', new Uint8Array()),
  ];
  const file = new Uint8Array(pieces.reduce((sum, one) => sum + one.length, 0));
  let at = 0;
  for (const piece of pieces) {
    file.set(piece, at);
    at += piece.length;
  }
  return file;
}

/** Each row less the one above it, which suits pictures that change evenly (filter 2). */
function filteredRows(rgba: Uint8ClampedArray, width: number, height: number): Uint8Array {
  const rows = new Uint8Array((width * 3 + 1) * height);
  for (let row = 0, out = 0; row < height; row++) {
    rows[out++] = 2;
    for (let column = 0, at = row * width * 4; column < width; column++, at += 4) {
      for (let channel = 0; channel < 3; channel++) {
        const above = row > 0 ? rgba[at + channel - width * 4]! : 0;
        rows[out++] = rgba[at + channel]! - above;
      }
    }
  }
  return rows;
}

function chunk(name: string, data: Uint8Array): Uint8Array {
  const whole = new Uint8Array(data.length + 12);
  const fields = new DataView(whole.buffer);
  fields.setUint32(0, data.length);
  for (let index = 0; index < 4; index++) whole[4 + index] = name.charCodeAt(index);
  whole.set(data, 8);
  fields.setUint32(data.length + 8, crc(whole.subarray(4, data.length + 8)));
  return whole;
}

const crcTable = Uint32Array.from({ length: 256 }, (_, index) => {
  let value = index;
  for (let bit = 0; bit < 8; bit++) value = value & 1 ? 0xedb88320 ^ (value >>> 1) : value >>> 1;
  return value;
});

function crc(bytes: Uint8Array): number {
  let value = 0xffffffff;
  for (const byte of bytes) value = crcTable[(value ^ byte) & 255]! ^ (value >>> 8);
  return (value ^ 0xffffffff) >>> 0;
}
