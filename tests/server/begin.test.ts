/** `shootspec begin`, with its answers in options, and at a terminal. */
import { spawn } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { cli, shootspec } from '../helpers/command.ts';

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'begin-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

function run(...args: string[]) {
  return shootspec(args, { cwd: folder });
}

const begin = (...args: string[]) => run('begin', ...args);
const textOf = (path: string) => readFileSync(join(folder, path), 'utf8');
const checked = () => run('check', '--fail-on', 'hint', '.').stdout;

test('with what is usual, it writes a kit, settings and a spec that check clean', () => {
  expect(begin('--title', 'Clay bird, no. 2', '--region', 'DE', '--yes')).toEqual({
    status: 0,
    stdout:
      'Wrote kits/phone.kit.yaml, shootspec.yaml and clay-bird-no-2.shoot.yaml.\n' +
      '`shootspec check clay-bird-no-2.shoot.yaml` checks it; every number in it is there to be written over.\n',
    stderr: '',
  });
  expect(textOf('clay-bird-no-2.shoot.yaml')).toMatch(/^title: Clay bird, no\. 2\nkit: kits\/phone\.kit\.yaml\n/);
  expect(textOf('shootspec.yaml')).toContain('region: DE');
  expect(checked()).toBe('3 files: no findings.\n');
});

test('gear of one’s own, by options alone', () => {
  const own = ['--camera', 'prime', '--sensor', '36x24', '--light', 'bulb'];
  expect(begin('--title', 'Oak top', ...own, '--region', 'JP 60 Hz').status).toBe(0);
  expect(textOf('kits/camera.kit.yaml')).toContain('sensor: 36 x 24 mm');
  expect(textOf('oak-top.shoot.yaml')).toContain('shutter: 1/60 s');
  expect(checked()).toBe('3 files: no findings.\n');
});

test('a second film takes the kit and the region that are there', () => {
  begin('--title', 'Oak top', '--region', 'US', '--yes');
  expect(begin('--title', 'Oak cup').stdout).toContain('Wrote oak-cup.shoot.yaml.');
  expect(textOf('oak-cup.shoot.yaml')).toContain('shutter: 1/60 s');
  expect(begin('--title', 'Oak bowl', '--kit', 'own', '--yes').stdout).toContain('kits/phone-2.kit.yaml');
});

test('nothing that is there is written over', () => {
  writeFileSync(join(folder, 'oak-top.shoot.yaml'), 'title: Mine\n');
  const { status, stderr } = begin('--title', 'Oak top', '--region', 'DE', '--yes');
  expect(status).toBe(2);
  expect(stderr).toContain('already, and it stays. Choose another name.');
  expect(textOf('oak-top.shoot.yaml')).toBe('title: Mine\n');
  expect(existsSync(join(folder, 'kits'))).toBe(false);
});

test('a folder of kits that is a link out of the repo is left alone', () => {
  const elsewhere = mkdtempSync(join(tmpdir(), 'elsewhere-'));
  symlinkSync(elsewhere, join(folder, 'kits'));
  expect(begin('--title', 'Oak top', '--region', 'DE', '--yes').stderr).toContain('leads out of its repo');
  expect(existsSync(join(elsewhere, 'phone.kit.yaml'))).toBe(false);
  rmSync(elsewhere, { recursive: true });
});

test('like another film: what is asked anew is, and the rest stays', () => {
  begin('--title', 'Oak top', '--region', 'DE', '--yes');
  const old = textOf('oak-top.shoot.yaml').replace('cut:', 'schedule: [{ day: 2026-12-02 }] # one day\ncut:');
  writeFileSync(join(folder, 'oak-top.shoot.yaml'), old);
  const like = ['--like', 'oak-top.shoot.yaml', '--title', 'Oak cup'];
  expect(begin(...like, '--day', '2027-03-01', '--yes')).toEqual({
    status: 0,
    stdout: 'Wrote oak-cup.shoot.yaml.\n`shootspec check oak-cup.shoot.yaml` checks it.\n',
    stderr: '',
  });
  expect(textOf('oak-cup.shoot.yaml')).toBe(old.replace('Oak top', 'Oak cup').replace('2026-12-02', '2027-03-01'));
  expect(begin(...like, '--yes').stderr).toContain('already, and it stays');
  expect(begin(...like.slice(0, 3), 'Oak bowl', '--size', 'large', '--yes').stderr).toContain('Wide x deep x high');
  expect(begin(...like, '--region', 'US').stderr).toContain('--region does not go with `--like`');
  expect(begin('--like', 'none.shoot.yaml', '--title', 'B').status).toBe(2);
  expect(begin('--title', 'B', '--day', '2027-03-01').stderr).toContain('--day goes with `--like`');
});

test.each([
  [['--yes'], 'What is the film called? Nobody can be asked here: say it with `--title`.'],
  [['--title', ' '], '--title: A film needs a name.'],
  [['--title', 'Oak top'], 'Which gear is it filmed with? Nobody can be asked here: say it with `--kit`, or `--yes`'],
  [['--title', 'Oak top', '--kit', 'kits/none.kit.yaml'], '--kit: It is one of `first`, `own` or `none`.'],
  [['--title', 'Oak top', '--yes', '--region', 'JP'], '--region: Two letters for the country, or 50 Hz or 60 Hz.'],
  [['--title', 'Oak top', '--yes', '--sensor', 'large'], '--sensor: Width x height in millimetres'],
  [['nowhere', '--title', 'Oak top', '--yes'], 'There is no folder `nowhere`.'],
])('%j is wrong usage, and nothing is written', (args, said) => {
  const { status, stderr } = begin(...args);
  expect(status).toBe(2);
  expect(stderr).toContain(said);
  expect(run('check', '.').stdout).toBe('0 files: no findings.\n');
});

/** Types each answer when its question stands there. */
async function atTerminal(answers: readonly (readonly [question: string, answer: string])[]) {
  const child = spawn('script', ['-qec', `"${process.execPath}" "${cli}" begin`, '/dev/null'], { cwd: folder });
  const waiting = [...answers];
  let [said, seen] = ['', 0];
  child.stdout.on('data', (data: Buffer) => {
    said += data.toString();
    const [next] = waiting;
    const at = next ? said.indexOf(next[0], seen) : -1;
    if (at < 0 || !said.slice(at).includes('> ')) return;
    seen = said.length;
    waiting.shift();
    child.stdin.write(next![1]);
  });
  const status = await new Promise<number | null>((done) => child.on('close', done));
  return { status, said };
}

test('at a terminal it asks, says what is no answer, and asks again', async () => {
  const { status, said } = await atTerminal([
    ['What is the film called?', '\r'],
    ['A film needs a name.', 'Tin frog\r'],
    ['Which gear', '2\r'],
    ['What do you film with?', '3\r'],
    ['How large is its sensor', '\r'],
    ['What lights the product?', 'bulb\r'],
    ['Where do you film?', 'nowhere\r'],
    ['Two letters', 'de\r'],
  ]);
  expect([status, said]).toEqual([0, expect.stringContaining('tin-frog.shoot.yaml` checks it') as string]);
  expect(textOf('kits/camera.kit.yaml')).toContain('bulb:');
  expect(checked()).toBe('3 files: no findings.\n');
});

test('questions that are left write nothing', async () => {
  const { said } = await atTerminal([
    ['What is the film called?', 'Tin frog\r'],
    ['Which gear', '\u0004'],
  ]);
  expect(said).toContain('The questions were left, so nothing was written.');
  expect(existsSync(join(folder, 'kits'))).toBe(false);
});
