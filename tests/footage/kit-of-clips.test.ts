/** Kits drafted from clips that ffmpeg made: what they say is what ffmpeg was told to make. */
import { spawnSync } from 'node:child_process';
import { copyFileSync, existsSync, readFileSync, rmSync, symlinkSync, utimesSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeEach, expect, test } from 'vitest';
import { kitOfClips, type KnownClip } from '../../server/features/kit-of-clips.ts';
import { shootspec } from '../helpers/command.ts';
import { aFolder } from '../helpers/assembled.ts';
import { pictureClip, type PictureRecipe } from '../helpers/clips.ts';
import { checkerFor } from '../helpers/workspace.ts';

let folder: string;
beforeEach(() => {
  folder = aFolder();
});

function kit(...args: string[]) {
  return shootspec(['kit', ...args], { cwd: folder });
}

function record(name: string, recipe: PictureRecipe): void {
  const file = join(folder, name);
  copyFileSync(pictureClip({ seconds: 1, ...recipe }), file);
  utimesSync(file, new Date('2026-01-01'), new Date('2026-01-01'));
}

const findingsIn = (text: string) =>
  checkerFor()
    .check('kits/new.kit.yaml', text)!
    .findings.map(({ message }) => message);

test('modes with what was measured, and what only a person knows as comments', () => {
  record('C0001.MP4', { rate: '25' });
  record('C0002.MP4', { rate: '30000/1001', codec: 'libx265', pixels: 'yuv422p10le' });
  record('C0003.MOV', { raster: '640x360', rate: '50', codec: 'prores_ks', pixels: 'yuv422p10le', ending: 'mov' });
  const { status, stdout, stderr } = kit('.');
  expect([status, stderr]).toEqual([0, '']);
  const modes = stdout.match(/\{ raster.*$/gm)!.map((line) => line.replace(/bitrate: [\d.]+ [kM]b\/s/, 'bitrate: N'));
  expect(modes).toEqual([
    '{ raster: 640x360, rate: 50, codec: intra, bits: 10, chroma: 4:2:2, bitrate: N } # C0003.MOV',
    '{ raster: 320x180, rate: 29.97, codec: h265, bits: 10, chroma: 4:2:2, bitrate: N } # C0002.MP4',
    '{ raster: 320x180, rate: 25, codec: h264, bits: 8, chroma: 4:2:0, bitrate: N } # C0001.MP4',
  ]);
  // All that is wrong with it is what no clip tells.
  const found = findingsIn(stdout);
  expect(found).toHaveLength(1);
  expect(found[0]).toContain('sensor');
  expect(findingsIn(stdout.replace('# sensor:', 'sensor:'))).toEqual([]);
});

test('a bitrate is that of the clip, as ffprobe measures it', () => {
  record('C0001.MP4', { rate: '25' });
  const args = [
    '-v',
    'error',
    '-select_streams',
    'v',
    '-show_entries',
    'stream=bit_rate',
    '-of',
    'csv=p=0',
    'C0001.MP4',
  ];
  const measured = Number(spawnSync('ffprobe', args, { cwd: folder, encoding: 'utf8' }).stdout);
  const [, value, unit] = /bitrate: ([\d.]+) ([kM])b\/s/.exec(kit('C0001.MP4').stdout)!;
  expect((Number(value) * (unit === 'k' ? 1e3 : 1e6)) / measured).toBeCloseTo(1, 1);
});

test('what is no clip of a camera is left out, and it is said', () => {
  record('C0001.MP4', {});
  record('turned.MP4', { turned: 90 });
  record('web.webm', { codec: 'libvpx-vp9', ending: 'webm' });
  writeFileSync(join(folder, 'notes.txt'), 'no clip');
  utimesSync(join(folder, 'notes.txt'), new Date('2026-01-01'), new Date('2026-01-01'));
  symlinkSync('/etc/hostname', join(folder, 'link.mp4'));
  const { stdout, stderr } = kit('C0001.MP4', 'turned.MP4', 'web.webm', 'notes.txt', 'link.mp4');
  expect(stdout.match(/\{ raster.*$/gm)).toEqual([
    expect.stringMatching(/^\{ raster: 320x180, .*# C0001\.MP4 and turned\.MP4$/),
  ]);
  expect(stderr).toContain('`web.webm` is vp9, which is no codec of a kit: left out.');
  expect(stderr).toMatch(/`notes\.txt` can't be read/);
  expect(stderr).toContain('`link.mp4` is a link that leads elsewhere: left out.');
});

test('a file is written once, and never over another', () => {
  record('C0001.MP4', {});
  expect(kit('C0001.MP4', '--camera', 'phone', '-o', 'my.kit.yaml')).toEqual({ status: 0, stdout: '', stderr: '' });
  expect(readFileSync(join(folder, 'my.kit.yaml'), 'utf8')).toContain('\n  phone:\n');
  expect(kit('C0001.MP4', '-o', 'my.kit.yaml').stderr).toContain('There is `my.kit.yaml` already, and it stays.');
  rmSync(join(folder, 'my.kit.yaml'));
  expect(kit('C0001.MP4', '-o', 'my.yaml').stderr).toContain('ends in `.kit.yaml`');
  expect(kit().stderr).toContain('Say which clips');
  expect(kit('nowhere.mp4').stderr).toContain('There is no file or folder `nowhere.mp4`');
  expect(kit('C0001.MP4', '--camera', 'a: b').stderr).toContain('--camera takes a name');
  expect(existsSync(join(folder, 'my.kit.yaml'))).toBe(false);
});

const clip = (name: string, rate: number, bitrate: number, more: Partial<KnownClip['video']> = {}): KnownClip => ({
  name,
  video: {
    codec: 'h265',
    bits: 10,
    chroma: '4:2:0',
    raster: { width: 3840, height: 2160 },
    rotationDeg: 0,
    frames: 100,
    rate,
    smallestStepS: 1 / rate,
    largestStepS: 1 / rate,
    usualStepS: 1 / rate,
    unevenFrames: 0,
    colour: {},
    bitrate,
    ...more,
  },
});

test('rates that are recorded about as large share a mode, others do not', () => {
  const { text } = kitOfClips(
    [clip('A', 25, 98e6), clip('B', 23.976_024, 100e6), clip('C', 50, 198e6), clip('D', 25, 60e6)],
    'cam',
  );
  expect(text!.match(/rate: .*$/gm)).toEqual([
    'rate: [23.976, 25], codec: h265, bits: 10, chroma: 4:2:0, bitrate: 100 Mb/s } # B, A and D',
    'rate: 50, codec: h265, bits: 10, chroma: 4:2:0, bitrate: 198 Mb/s } # C',
  ]);
});

test('names of clips stay within their comment', () => {
  const { text } = kitOfClips([clip('A\ncards: { x: 1 }\n', 25, 1e8, { colour: { transfer: 'arib-std-b67' } })], 'cam');
  expect(text).toContain('colour-space: hlg');
  expect(text).not.toMatch(/^cards/m);
});
