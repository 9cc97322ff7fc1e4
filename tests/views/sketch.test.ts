/** Sketches of shots: read from files as cameras and drawing programs write them, and shown wherever the shot is. */
import { copyFileSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { Checker, type CheckResult } from '../../server/core/checker.ts';
import { shownOf } from '../../server/features/pictures.ts';
import { PositionMap } from '../../server/features/position-map.ts';
import { NodeHost } from '../../server/node-host.ts';
import { readJpeg } from '../../server/photograph/jpeg-file.ts';
import { rules } from '../../server/rules/index.ts';
import { sheetHtml } from '../../server/views/sheet/html.ts';
import { setPageHtml } from '../../server/views/set-page/html.ts';
import { paperFor } from '../../server/views/sheet.ts';
import { madeClip } from '../helpers/clips.ts';
import { DiskRepo } from '../helpers/server.ts';
import { spec } from '../helpers/workspace.ts';

const drawn = (ending: string, size: string, more: readonly string[] = []) =>
  madeClip(ending, ['-f', 'lavfi', '-i', `testsrc=size=${size}:duration=1`, '-frames:v', '1', ...more]);

/** As it is bundled: from its sources the PDF library is another build of it. */
const { sheetPdf } = createRequire(import.meta.url)('../../dist/pdf.cjs') as typeof import('../../server/pdf/index.ts');

let repo: DiskRepo;
beforeAll(() => {
  repo = new DiskRepo();
  const folder = join(repo.root, 'sketches');
  mkdirSync(folder);
  copyFileSync(drawn('png', '320x180'), join(folder, 'wide.png'));
  copyFileSync(drawn('png', '1700x900'), join(folder, 'large.png'));
  copyFileSync(drawn('jpg', '320x180', ['-q:v', '4']), join(folder, 'photo.jpg'));
  writeFileSync(join(folder, 'turned.jpg'), turnedJpeg(readFileSync(join(folder, 'photo.jpg')), 6));
  writeFileSync(join(folder, 'words.png'), 'no picture');
  writeFileSync(join(folder, 'cut.jpg'), readFileSync(join(folder, 'photo.jpg')).subarray(0, 200));
  writeFileSync(join(folder, 'huge.jpg'), Buffer.concat([readFileSync(join(folder, 'photo.jpg')), Buffer.alloc(4e6)]));
  writeFileSync(
    join(folder, 'endless.png'),
    Buffer.concat([readFileSync(join(folder, 'wide.png')), Buffer.alloc(20e6)]),
  );
});
afterAll(() => repo.remove());

/** As a phone that is held upright writes it: what it is to be turned by, and where it was. */
function turnedJpeg(plain: Buffer, orientation: number): Buffer {
  const tiff = Buffer.alloc(26);
  tiff.write('MM\0*', 'latin1');
  tiff.writeUInt32BE(8, 4);
  tiff.writeUInt16BE(1, 8);
  tiff.writeUInt16BE(0x0112, 10);
  tiff.writeUInt16BE(3, 12);
  tiff.writeUInt32BE(1, 14);
  tiff.writeUInt16BE(orientation, 18);
  const data = Buffer.concat([Buffer.from('Exif\0\0', 'latin1'), tiff, Buffer.from('taken at home')]);
  const head = Buffer.from([0xff, 0xe1, 0, 0]);
  head.writeUInt16BE(data.length + 2, 2);
  return Buffer.concat([plain.subarray(0, 2), head, data, plain.subarray(2)]);
}

function checked(sketch: string): CheckResult {
  const text = spec(`shots:\n  box: { record: 12 s, sketch: ${sketch} }\n`);
  return new Checker(new NodeHost(repo.root), rules).checkAs('shoot', text);
}
const said = (sketch: string) => checked(sketch).findings.map(({ message }) => message);

describe('a sketch is read', () => {
  test.each([
    ['wide.png', 'png', 320, 180, 0],
    // Halved, to 1600 at most.
    ['large.png', 'png', 850, 450, 0],
    ['photo.jpg', 'jpeg', 320, 180, 0],
    ['turned.jpg', 'jpeg', 180, 320, 90],
  ])('%s', (name, kind, widthPx, heightPx, turnDeg) => {
    const { film, findings } = checked(`sketches/${name}`);
    expect(findings).toEqual([]);
    expect(film!.sketch(`sketches/${name}`)).toMatchObject({ kind, widthPx, heightPx, turnDeg, channels: 3 });
  });

  test('without what the camera says of place and owner', () => {
    const sketch = checked('sketches/turned.jpg').film!.sketch('sketches/turned.jpg');
    expect(Buffer.from((sketch as { bytes: Uint8Array }).bytes).includes('taken at home')).toBe(false);
  });

  test('with any bytes spoilt, it is one or the other and nothing is thrown', () => {
    const plain = turnedJpeg(readFileSync(join(repo.root, 'sketches/photo.jpg')), 6);
    for (let at = 0; at < 700; at++) {
      const spoilt = Buffer.from(plain);
      spoilt[at] = (spoilt[at]! + 1 + at * 7) % 256;
      expect(['string', 'object']).toContain(typeof readJpeg(spoilt));
      expect(['string', 'object']).toContain(typeof readJpeg(plain.subarray(0, at)));
    }
  });
});

describe('one that cannot be used is said', () => {
  test.each([
    ['sketches/none.png', 'The sketch `sketches/none.png` of box is not in this folder, so nothing is shown of it.'],
    ['../wide.png', 'The sketch `../wide.png` of box '],
    ['sketches', 'The sketch `sketches` of box is not in this folder'],
    ['sketches/words.png', 'is neither a PNG nor a JPEG file.'],
    ['sketches/cut.jpg', 'is damaged.'],
    ['sketches/huge.jpg', 'is larger than 4 MB: 1600 pixels a side are enough.'],
    ['sketches/endless.png', 'is larger than 20 MB: 1600 pixels a side are enough.'],
  ])('%s', (sketch, message) => {
    expect(said(sketch)).toEqual([expect.stringContaining(message)]);
  });
});

describe('it is shown', () => {
  const href = /href="data:image\/(png|jpeg);base64,/g;

  test('in the panel, where there is one', () => {
    const shown = (result: CheckResult) =>
      shownOf(result, { view: 'sketch' }, new PositionMap(result.doc.text, result.doc.text))!;
    const picture = shown(checked('sketches/turned.jpg'));
    expect(picture.view).toBe('sketch');
    expect(picture.svg.match(href)).toHaveLength(1);
    expect(picture.svg).toMatch(/transform="rotate\(90 /);
    const plain = new Checker(new NodeHost(repo.root), rules).checkAs('shoot', spec(''));
    expect(shown(plain).views.map(({ name }) => name)).not.toContain('sketch');
  });

  test.each(['sketches/photo.jpg', 'sketches/wide.png', 'sketches/turned.jpg'])('on papers: %s', async (sketch) => {
    const [result, bare] = [checked(sketch), checked('sketches/none.png')];
    const paper = paperFor(result, result.film!);
    const page = { path: 'film.shoot.yaml', script: '', style: '', hashOf: () => 'x' };
    const images = (html: string) => html.match(href)?.length ?? 0;
    // The sheet shows the shot as lit besides.
    expect(images(sheetHtml(paper)) - images(sheetHtml(paperFor(bare, bare.film!)))).toBe(1);
    expect(images(setPageHtml(result, result.film!, page))).toBe(1);
    expect(images(setPageHtml(bare, bare.film!, page))).toBe(0);
    const without = await sheetPdf(paperFor(bare, bare.film!));
    const pdf = Buffer.from(await sheetPdf(paper)).toString('latin1');
    expect(pdf.includes('/DCTDecode')).toBe(sketch.endsWith('jpg'));
    expect(pdf.length).toBeGreaterThan(without.length);
  });
});
