/** Draws the extension's icon, client/icon.png: the comb of a music box, one tooth plucked by a pin. Plain geometry. */
import fs from 'node:fs';
import path from 'node:path';
import { crc32, deflateSync } from 'node:zlib';

const size = 128;
const samples = 4; // Each pixel is the mean of 4 x 4 points, which smooths the edges.
const ground = [24, 58, 64];
const steel = [236, 240, 232];
const brass = [245, 176, 65];

/** Distance from a point to the line between two points. */
function toLine(x, y, [ax, ay, bx, by]) {
  const along = ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / ((bx - ax) ** 2 + (by - ay) ** 2);
  const t = Math.min(1, Math.max(0, along));
  return Math.hypot(x - ax - t * (bx - ax), y - ay - t * (by - ay));
}

function near(x, y, lines, width) {
  return lines.some((line) => toLine(x, y, line) <= width / 2);
}

const back = [[30, 34, 98, 34]];
/** From the lowest note, the longest, to the highest. */
const teeth = [94, 86, 78, 70, 62].map((end, index) => [32 + 16 * index, 34, 32 + 16 * index, end]);
const [plucked] = teeth.splice(2, 1);
const pin = [64, 94, 64, 95];

function colourAt(x, y) {
  const outside = Math.hypot(Math.max(0, Math.abs(x - 64) - 40), Math.max(0, Math.abs(y - 64) - 40)) > 24;
  if (outside) return [0, 0, 0, 0];
  if (near(x, y, [plucked], 8) || near(x, y, [pin], 14)) return [...brass, 255];
  return near(x, y, teeth, 8) || near(x, y, back, 14) ? [...steel, 255] : [...ground, 255];
}

function pixel(column, row) {
  const sum = [0, 0, 0, 0];
  for (let i = 0; i < samples * samples; i++) {
    const x = column + ((i % samples) + 0.5) / samples;
    const y = row + (Math.floor(i / samples) + 0.5) / samples;
    const [red, green, blue, alpha] = colourAt(x, y);
    [red * alpha, green * alpha, blue * alpha, alpha].forEach((part, index) => (sum[index] += part));
  }
  const alpha = sum[3];
  return alpha === 0 ? [0, 0, 0, 0] : [...sum.slice(0, 3).map((c) => Math.round(c / alpha)), Math.round(alpha / 16)];
}

/** One chunk of a PNG file: length, name, bytes, check sum (PNG specification, section 5.3). */
function chunk(name, bytes) {
  const body = Buffer.concat([Buffer.from(name, 'latin1'), bytes]);
  const out = Buffer.alloc(body.length + 8);
  out.writeUInt32BE(bytes.length, 0);
  body.copy(out, 4);
  out.writeUInt32BE(crc32(body), body.length + 4);
  return out;
}

function png() {
  const header = Buffer.alloc(13);
  header.writeUInt32BE(size, 0);
  header.writeUInt32BE(size, 4);
  header.set([8, 6, 0, 0, 0], 8); // 8 bits, red green blue alpha
  const rows = Array.from({ length: size }, (_, row) =>
    Buffer.from([0, ...Array.from({ length: size }, (_, column) => pixel(column, row)).flat()]),
  );
  const signature = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
  const data = deflateSync(Buffer.concat(rows), { level: 9 });
  return Buffer.concat([signature, chunk('IHDR', header), chunk('IDAT', data), chunk('IEND', Buffer.alloc(0))]);
}

fs.writeFileSync(path.resolve(import.meta.dirname, '../client/icon.png'), png());
