/** Cut-out photographs: read as other programs read them, and drawn where the product is, as large and in its light. */
import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { deflateSync } from 'node:zlib';
import { afterAll, describe, expect, test } from 'vitest';
import { Checker } from '../../server/core/checker.ts';
import { litPiece, type LitScene } from '../../server/core/derived/lit/index.ts';
import { wantedLux } from '../../server/core/derived/light.ts';
import type { Film } from '../../server/core/film.ts';
import { NodeHost } from '../../server/node-host.ts';
import { photographOf } from '../../server/photograph/levels.ts';
import { readPng } from '../../server/photograph/png-file.ts';
import { rules } from '../../server/rules/index.ts';
import { paintLit } from '../../server/views/lit/paint.ts';
import { memoryHost, spec, specPath } from '../helpers/workspace.ts';

const folder = mkdtempSync(join(tmpdir(), 'photographs-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const picture = "nullsrc=s=37x23,format=rgba,geq=r='X*6':g='Y*9':b='X*Y':a='255*gt(X,Y)'";
/** The same picture in another form of PNG, as ffmpeg writes it. */
function png(...how: string[]): Buffer {
  const args = ['-v', 'error', '-f', 'lavfi', '-i', picture, '-frames:v', '1', ...how, '-f', 'image2pipe'];
  return execFileSync('ffmpeg', [...args, '-c:v', 'png', '-'], { maxBuffer: 1e8 });
}

function asFfmpegReads(file: Buffer): Buffer {
  const args = ['-v', 'error', '-f', 'png_pipe', '-i', '-', '-pix_fmt', 'rgba', '-f', 'rawvideo', '-'];
  return execFileSync('ffmpeg', args, { input: file });
}

describe('reading', () => {
  // As the colours are told, and each way in which rows are.
  test.each([
    ['rgba', 'none'],
    ['rgb24', 'sub'],
    ['gray', 'up'],
    ['ya8', 'avg'],
    ['pal8', 'mixed'],
    ['rgba', 'paeth'],
  ])('%s, told by `%s`, gives the pixels that ffmpeg reads', (form, filter) => {
    const file = png('-pix_fmt', form, '-pred', filter);
    const found = readPng(file);
    expect(found).toMatchObject({ widthPx: 37, heightPx: 23 });
    expect(typeof found === 'string' ? found : Buffer.from(found.rgba).equals(asFfmpegReads(file))).toBe(true);
  });

  test('16 bits are read as the 8 that count most', () => {
    const found = readPng(png('-pix_fmt', 'rgba64be'));
    const plain = readPng(png('-pix_fmt', 'rgba'));
    if (typeof found === 'string' || typeof plain === 'string') throw new Error('both are read');
    // One of them was rounded when it was made.
    expect(Math.max(...found.rgba.map((code, at) => Math.abs(code - plain.rgba[at]!)))).toBeLessThanOrEqual(1);
  });

  const good = png('-pix_fmt', 'rgba');
  const changed = (at: number, ...bytes: number[]) => {
    const file = Buffer.from(good);
    file.set(bytes, at);
    return file;
  };
  test.each([
    ['another kind of file', Buffer.from('GIF89a'), 'is no PNG file'],
    ['a head alone', good.subarray(0, 20), 'is damaged'],
    ['a file that was cut off', good.subarray(0, good.length - 200), 'is damaged'],
    ['no size', changed(16, 0, 0, 0, 0), 'is damaged'],
    ['more pixels than there is room for', changed(16, 127, 255, 255, 255), /^has 2147483647 × 23 pixels/],
    ['rows in turns', changed(28, 1), 'is interlaced: save it without'],
    ['4 bits', changed(24, 4), 'has 4 bits for a channel: save it with 8 or 16'],
    ['a length that is a lie', changed(33, 255, 255, 255, 255), 'is damaged'],
  ])('%s: it says why', (_what, file, words) => {
    expect(readPng(file)).toEqual(expect.stringMatching(words));
  });

  test('no more is unpacked than the head promises', () => {
    const zeros = deflateSync(Buffer.alloc(2e8));
    const chunk = Buffer.alloc(zeros.length + 12);
    chunk.writeUInt32BE(zeros.length);
    chunk.write('IDAT', 4, 'latin1');
    zeros.copy(chunk, 8);
    expect(readPng(Buffer.concat([good.subarray(0, 33), chunk]))).toBe('is damaged');
  });
});

describe('the repo', () => {
  test('gives what lies in it, and nothing that a link or a path leads out to', () => {
    const repo = join(folder, 'repo');
    mkdirSync(repo);
    writeFileSync(join(repo, 'box.png'), png());
    writeFileSync(join(folder, 'secret.png'), png());
    symlinkSync('../secret.png', join(repo, 'link.png'));
    const host = new NodeHost(repo);
    expect(host.photograph('box.png')).toMatchObject({ widthPx: 37, heightPx: 23 });
    expect(['link.png', '../secret.png', 'none.png', ''].map((path) => host.photograph(path))).toEqual(
      Array(4).fill(undefined),
    );
  });

  test('gives another once the file is another', () => {
    const repo = join(folder, 'changing');
    mkdirSync(repo);
    writeFileSync(join(repo, 'box.png'), 'nothing');
    const host = new NodeHost(repo);
    expect(host.photograph('box.png')).toBe('is no PNG file');
    writeFileSync(join(repo, 'box.png'), png());
    expect(host.photograph('box.png')).toMatchObject({ widthPx: 37 });
  });
});

// -- in the picture --------------------------------------------------------------------------------------------------

/** A photograph of a card in one grey, all of it there or with a hole in its middle. */
function cardOf(grey: number, hole = false) {
  const [widthPx, heightPx] = [300, 200];
  const rgba = new Uint8Array(widthPx * heightPx * 4).fill(grey);
  for (let at = 0; at < widthPx * heightPx; at++) {
    const [x, y] = [at % widthPx, Math.floor(at / widthPx)];
    rgba[at * 4 + 3] = hole && Math.abs(x - 150) < 75 && Math.abs(y - 100) < 50 ? 0 : 255;
  }
  return photographOf({ widthPx, heightPx, rgba });
}

const named = (fields: string) => `product: { size: 30 x 1 x 20 cm, finish: matte, colour: "#767676"${fields} }\n`;

function filmOf(blocks: string, photograph?: ReturnType<typeof cardOf>, camera = 'distance: 60 cm'): Film {
  const host = { ...memoryHost({}), photograph: (path: string) => (path === 'card.png' ? photograph : undefined) };
  return new Checker(host, rules, {}).check(specPath, spec(blocks).replace('distance: 60 cm', camera))!.film!;
}

function painted(film: Film): { pixels: Uint8ClampedArray; scene: LitScene } {
  const scene = litPiece(film, film.cut[0]!, film.deliverables.get('film')!, 0)!;
  return { scene, pixels: paintLit(scene, 320, 180, { photograph: (path) => film.photograph(path) }) };
}

const lux = [...filmOf(named('')).shots.values()].map((shot) => wantedLux(shot)!)[0]!;
const evenly = `lamps: {}\nroom: { light: ${lux.toFixed(2)} lx, source: window, temperature: 5000 K }\n`;
const withCard = named(', picture: card.png') + evenly;
const at = (pixels: Uint8ClampedArray, x: number, y: number) => pixels[(y * 320 + x) * 4]!;

describe('in the picture as lit', () => {
  // ISO 12232: what is exposed as the speed means it is 118 of 255 in sRGB, the code of 18 %.
  test('a photograph of a grey card comes out middle grey at the metered exposure', () => {
    const { pixels } = painted(filmOf(withCard, cardOf(118)));
    expect(at(pixels, 160, 90)).toBeGreaterThan(116);
    expect(at(pixels, 160, 90)).toBeLessThan(120);
  });

  test('it stands where the box of its size would, to a pixel', () => {
    const far = 'distance: 150 cm';
    const [box, cutOut] = [painted(filmOf(withCard, undefined, far)), painted(filmOf(withCard, cardOf(118), far))];
    const differ = (x: number, y: number) => Math.abs(at(box.pixels, x, y) - at(cutOut.pixels, x, y)) > 12;
    let others = 0;
    for (let y = 0; y < 180; y++) for (let x = 0; x < 320; x++) if (differ(x, y)) others++;
    // Its outline is some 500 pixels long; the top of the box is no part of its front.
    expect(others).toBeLessThan(250);
    expect(cutOut.scene.areas.some(({ photograph }) => photograph)).toBe(true);
  });

  test('what is behind is seen through a hole', () => {
    const [whole, open] = [painted(filmOf(withCard, cardOf(20))), painted(filmOf(withCard, cardOf(20, true)))];
    expect(at(open.pixels, 160, 90)).toBeGreaterThan(at(whole.pixels, 160, 90) + 40);
  });

  test('from the side, and where the file is not there, the box is drawn', () => {
    const aside = 'distance: 150 cm\n  angle: 80°';
    const seen = painted(filmOf(withCard, cardOf(118), aside)).scene;
    expect(seen).toEqual(painted(filmOf(withCard, undefined, aside)).scene);
    expect(painted(filmOf(withCard)).scene).toEqual(painted(filmOf(named('') + evenly)).scene);
  });

  test('whoever paints without photographs sees the box too', () => {
    const film = filmOf(withCard, cardOf(118));
    const plain = painted(filmOf(withCard));
    expect(paintLit(painted(film).scene, 320, 180)).toEqual(plain.pixels);
  });
});
