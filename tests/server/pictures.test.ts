/** `shootspec sheet` and `shootspec draw` as somebody runs them. */
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { shootspec } from '../helpers/command.ts';
import { kits, spec as baseSpec } from '../helpers/workspace.ts';

const samples = join(import.meta.dirname, '../../sample-workspace');
const folder = mkdtempSync(join(tmpdir(), 'shoot-spec-sheet-'));
afterAll(() => rmSync(folder, { recursive: true }));

function run(...args: string[]) {
  return shootspec(args, { cwd: folder });
}

const spec = (name: string) => join(samples, `${name}.shoot.yaml`);

describe('sheet', () => {
  test.each(['clay-whistle', 'music-box', 'first-draft', 'rocking-horse'])('%s as HTML', (name) => {
    const { status, stderr } = run('sheet', spec(name), '-o', `${name}.html`);
    expect([status, stderr]).toEqual([0, '']);
    const html = readFileSync(join(folder, `${name}.html`), 'utf8');
    expect(html).toMatch(/^<!doctype html>/);
    expect(html.match(/<svg/g)!.length).toBeGreaterThan(3);
  });

  test('as PDF, on the paper of the region or the one that is asked for', () => {
    const box = (file: string) =>
      /\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/.exec(readFileSync(join(folder, file), 'latin1'))!.slice(1);
    expect(run('sheet', spec('music-box'), '-o', 'a.pdf').status).toBe(0);
    expect(readFileSync(join(folder, 'a.pdf'), 'latin1').slice(0, 5)).toBe('%PDF-');
    // ISO 216: A4 is 210 × 297 mm. Letter is 8.5 × 11 in, 72 points an inch.
    expect(box('a.pdf').map(Number)).toEqual(
      [(210 / 25.4) * 72, (297 / 25.4) * 72].map((side) => expect.closeTo(side, 1)),
    );
    expect(run('sheet', spec('rocking-horse'), '-o', 'us.pdf').status).toBe(0);
    expect(box('us.pdf').map(Number)).toEqual([612, 792]);
    expect(run('sheet', spec('music-box'), '-o', 'b.pdf', '--paper', 'letter').status).toBe(0);
    expect(box('b.pdf').map(Number)).toEqual([612, 792]);
  });

  test('as a page to work with on the set', () => {
    expect(run('sheet', spec('music-box'), '--for', 'set', '-o', 'set.html').status).toBe(0);
    expect(readFileSync(join(folder, 'set.html'), 'utf8')).toContain('Take made');
    expect(run('sheet', spec('music-box'), '--for', 'set', '-o', 'set.pdf').stderr).toContain('ends in `.html`');
    expect(run('sheet', spec('music-box'), '--for', 'sale', '-o', 'x.html').stderr).toContain('--for takes set');
  });

  test('wrong usage is said in one line, and nothing is written', () => {
    expect(run('sheet', spec('music-box')).stderr).toContain('a name that ends in `.html` or `.pdf`');
    expect(run('sheet', spec('music-box'), '-o', 'x.txt').status).toBe(2);
    expect(run('sheet', '-o', 'x.html').stderr).toContain('Say which spec');
    expect(run('sheet', join(samples, 'kits/camera.kit.yaml'), '-o', 'x.html').stderr).toContain('is no spec');
    expect(run('sheet', spec('nope'), '-o', 'x.html').stderr).toContain('There is no file');
    expect(existsSync(join(folder, 'x.html'))).toBe(false);
  });
});

describe('draw', () => {
  test('one view of one shot, into a file or to print', () => {
    expect(run('draw', spec('music-box'), '--view', 'frame', '--shot', 'teeth', '-o', 'f.svg').status).toBe(0);
    const svg = readFileSync(join(folder, 'f.svg'), 'utf8');
    expect(svg).toContain('<title>teeth: the frame</title>');
    expect(svg).not.toContain('var(');
    expect(run('draw', spec('music-box'), '--view', 'frame', '--shot', 'teeth').stdout).toBe(svg);
  });

  test('a shot as lit, as a PNG file or in a drawing', () => {
    const lit = ['draw', spec('music-box'), '--as', 'lit', '--shot', 'opening'];
    expect(run(...lit, '-o', 'lit.png', '--width', '480')).toMatchObject({ status: 0, stderr: '' });
    // ISO/IEC 15948: the signature, then the header with width and height.
    const png = readFileSync(join(folder, 'lit.png'));
    expect(png.subarray(1, 4).toString('latin1')).toBe('PNG');
    expect([png.readUInt32BE(16), png.readUInt32BE(20)]).toEqual([480, 270]);
    expect(run(...lit, '-o', 'lit.svg').status).toBe(0);
    const svg = readFileSync(join(folder, 'lit.svg'), 'utf8');
    expect(svg).toContain('data:image/png;base64,');
    expect(svg).toContain('no photograph');
    expect(run(...lit, '--view', 'colour').stderr).toContain('Only `frame` is drawn as lit');
    expect(run(...lit, '-o', 'lit.jpg').stderr).toContain('`-o lit.png`');
    expect(run('draw', spec('music-box'), '--view', 'frame', '--width', '9').stderr).toContain('is that of a PNG file');
  });

  test('a shot that no deliverable shows is drawn as recorded; one that does not show it is named where it is asked for', () => {
    const repo = mkdtempSync(join(folder, 'repo-'));
    for (const [path, text] of Object.entries(kits)) {
      mkdirSync(join(repo, path, '..'), { recursive: true });
      writeFileSync(join(repo, path), text);
    }
    const deliver =
      'deliver:\n  film: { raster: 1920x1080, rate: 25, codec: h264, sound: none, section: 0 s to 4 s }\n';
    const shots = 'shots:\n  box: { record: 12 s }\n  lid: { record: 12 s }\n';
    const cut = 'cut:\n  - { shot: box, length: 5 s }\n  - { shot: lid, length: 5 s }\n';
    writeFileSync(join(repo, 'a.shoot.yaml'), baseSpec(deliver + shots + cut));
    const draw = (...more: string[]) =>
      shootspec(['draw', 'a.shoot.yaml', '--as', 'lit', '--shot', 'lid', '-o', 'lid.png', ...more], { cwd: repo });
    expect(draw('--width', '160')).toMatchObject({ status: 0, stderr: '' });
    expect(readFileSync(join(repo, 'lid.png')).subarray(1, 4).toString('latin1')).toBe('PNG');
    expect(draw('--deliverable', 'film').stderr).toContain('`film` shows nothing of `lid`.');
  });

  test('names that are not there are said with those that are', () => {
    expect(run('draw', spec('music-box'), '--view', 'plan').stderr).toContain(
      '--view takes set-above, set-side, frame',
    );
    expect(run('draw', spec('music-box')).stderr).toContain('Say which view');
    expect(run('draw', spec('music-box'), '--view', 'frame', '--shot', 'toes').stderr).toContain('opening, hand-turns');
    expect(run('draw', spec('music-box'), '--view', 'frame', '--deliverable', 'toes').stderr).toContain('film, story');
  });
});
