/** What a stranger can write makes no program read or write anything else, and leaves nothing half made. */
import { spawn } from 'node:child_process';
import { copyFileSync, mkdirSync, readdirSync, readFileSync, symlinkSync, utimesSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { cli, shootspec } from '../helpers/command.ts';
import { aFolder, assembled, planned } from '../helpers/assembled.ts';
import { planOf } from '../helpers/filmed.ts';
import { numberedClip, numbersOf } from '../helpers/numbered.ts';
import { sheet, sheetPath, spec, specPath } from '../helpers/workspace.ts';

const film = 'deliver:\n  film: { raster: 160x90, rate: 25, codec: h264, sound: none }\n';
const plan = planOf(
  {},
  `${film}shots:\n  box: { record: 4 s, handles: 0 s }\ncut:\n  - { shot: box, length: 3 frames, from: 1 s }\n`,
);
const takesOf = (clip: string) => `takes:\n  box: { clip: ${JSON.stringify(clip)}, judged: best }\n`;

describe('a clip', () => {
  it('of a name that means something elsewhere is a file like any other', async () => {
    const names = [
      "a';[0:v]movie=b[x].mp4",
      '-f lavfi,color=red.mp4',
      '%{pts} $(id) `id`.mp4',
      'a\u00e4 \u202eb, c=d:e.mp4',
      '%d.mp4',
      '*.mp4',
      'concat|a|b.mp4',
    ];
    const lines = (line: (name: string, index: number) => string) => names.map(line).join('');
    const shots = lines((_, index) => `  s-${index}: { record: 4 s, handles: 0 s }\n`);
    const cut = lines((_, index) => `  - { shot: s-${index}, length: 2 frames, from: ${(index + 1) / 25} s }\n`);
    const takes = lines((name, index) => `  s-${index}: { clip: ${JSON.stringify(name)}, judged: best }\n`);
    const made = await assembled({
      plan: planOf({}, `${film}shots:\n${shots}cut:\n${cut}`),
      takes: `takes:\n${takes}`,
      clips: Object.fromEntries(names.map((name) => [name, numberedClip(50, '25')])),
    });
    expect(numbersOf(made)).toEqual(names.flatMap((_, index) => [index + 1, index + 2]));
  });

  it.each(['../out.mp4', '/etc/passwd', 'http://example.invalid/a.mp4', 'concat:a.mp4|b.mp4', 'file:a.mp4', 'pipe:0'])(
    'at %j is not opened',
    async (name) => {
      const { assembly, faults } = await planned({
        plan,
        takes: takesOf(name),
        clips: { 'A.MP4': numberedClip(50, '25') },
      });
      expect(assembly?.segments.map(({ picture }) => picture.kind) ?? faults).not.toContain('clip');
    },
  );

  it('that is a list of other files is none', async () => {
    const list = join(aFolder(), 'list.mp4');
    writeFileSync(list, "ffconcat version 1.0\nfile '/etc/passwd'\n");
    const { assembly, faults } = await planned({ plan, takes: takesOf('A.MP4'), clips: { 'A.MP4': list } });
    expect(assembly).toBeUndefined();
    expect(faults[0]).toMatch(/^The clip `A.MP4` can't be read/);
  });
});

/** A repo with footage beside its spec. */
function aRepo(): string {
  const root = aFolder();
  writeFileSync(join(root, specPath), spec(plan));
  writeFileSync(join(root, sheetPath), `format: 1\n${sheet(takesOf('A.MP4'))}`);
  mkdirSync(join(root, 'footage'));
  copyFileSync(numberedClip(200, '25'), join(root, 'footage/A.MP4'));
  utimesSync(join(root, 'footage/A.MP4'), new Date('2026-01-01'), new Date('2026-01-01'));
  return root;
}

const run = (root: string, ...args: string[]) => shootspec(['assemble', specPath, ...args], { cwd: root });

describe('the command', () => {
  it('makes the same bytes twice, in a file that starts with a dash too', () => {
    const root = aRepo();
    expect(run(root, '--threads', '2', '-o', 'one.mp4')).toMatchObject({ status: 0 });
    expect(run(root, '--threads', '2', '--output=-two.mp4')).toMatchObject({ status: 0 });
    expect(readFileSync(join(root, 'one.mp4')).equals(readFileSync(join(root, '-two.mp4')))).toBe(true);
    expect(readdirSync(root).filter((name) => name.includes('part'))).toEqual([]);
  });

  it('opens no clip through a link that leads out', () => {
    const root = aRepo();
    const outside = join(aFolder(), 'B.MP4');
    copyFileSync(numberedClip(200, '25'), outside);
    symlinkSync(outside, join(root, 'footage/B.MP4'));
    writeFileSync(join(root, sheetPath), `format: 1\n${sheet(takesOf('B.MP4'))}`);
    const { status, stderr } = run(root, '-o', 'film.mp4');
    expect([status, stderr]).toEqual([
      2,
      'shootspec: The clip `B.MP4` leads out of the footage folder, and nothing outside is opened.\n',
    ]);
    expect(readdirSync(root)).not.toContain('film.mp4');
  });

  it('leaves nothing when it is interrupted, and the old film as it was', async () => {
    const root = aRepo();
    const long = plan.replace('length: 3 frames, from: 1 s', 'length: 4000 s, from: 1 s, speed: 0 %');
    writeFileSync(join(root, specPath), spec(long));
    writeFileSync(join(root, 'film.mp4'), 'old');
    const child = spawn(process.execPath, [cli, 'assemble', specPath, '-o', 'film.mp4'], { cwd: root });
    const ended = new Promise<number | null>((done) => child.on('close', done));
    await expect.poll(() => readdirSync(root).some((name) => name.endsWith('.part'))).toBe(true);
    child.kill('SIGINT');
    expect(await ended).toBe(130);
    expect(readdirSync(root).filter((name) => name.endsWith('.part'))).toEqual([]);
    expect(readFileSync(join(root, 'film.mp4'), 'utf8')).toBe('old');
  });

  it.each([
    [['-o', 'film.mov'], '`film` is a file of the kind mp4: give it a name that ends in `.mp4`.'],
    [['-o', 'no/film.mp4'], 'There is no folder'],
    [
      ['--from', 'noon', '-o', 'film.mp4'],
      "--from: `noon` is no time. Write it like '3 s', '14 beats' or '40 frames'.",
    ],
    [['--deliverable', 'flim', '-o', 'film.mp4'], '--deliverable takes film, not `flim`.'],
    [[], 'Say where the film goes'],
  ])('%j is wrong usage', (args, said) => {
    const { status, stderr } = run(aRepo(), ...args);
    expect(status).toBe(2);
    expect(stderr).toContain(said);
  });

  it('says what it would do, and does nothing', () => {
    const root = aRepo();
    expect(run(root, '--dry-run', '--from', '1 frame')).toMatchObject({
      status: 0,
      stderr: '',
      stdout: 'film: 2 frames at 25 a second, 160x90, h264 in mp4\n  00:00:00:00     2 frames  `A.MP4` from 1.04 s\n',
    });
    expect(readdirSync(root).sort()).toEqual([specPath, sheetPath, 'footage'].sort());
  });
});
