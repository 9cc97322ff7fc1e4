/** A film that is being made for another program: it is told how far it is, and gives up without leaving anything. */
import { fork } from 'node:child_process';
import { once } from 'node:events';
import { readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { aFolder } from '../helpers/assembled.ts';
import { spec, specPath } from '../helpers/workspace.ts';

const cli = join(import.meta.dirname, '../../dist/cli.cjs');
/** Drawn, frame by frame: nothing that a machine is done with at once. */
const plan = `deliver:
  film: { raster: 640x360, rate: 25, sound: none }
shots:
  box: { record: 60 s, turn: { by: 90° } }
cut:
  - { shot: box, length: 50 s }
`;

function started(root: string, ...more: string[]) {
  writeFileSync(join(root, specPath), spec(plan));
  return fork(cli, ['assemble', specPath, '-o', 'film.mp4', ...more], {
    cwd: root,
    stdio: ['ignore', 'ignore', 'ignore', 'ipc'],
  });
}

it('tells the program that started it how many frames are made', async () => {
  const told: unknown[] = [];
  const child = started(aFolder(), '--draft', '--to', '10 frames').on('message', (message) => told.push(message));
  const [code] = (await once(child, 'exit')) as [number];
  expect(code).toBe(0);
  expect(told[0]).toMatchObject({ done: expect.any(Number) as number, all: 10 });
});

it.each([
  ['when that closes the channel', (child: ReturnType<typeof started>) => child.disconnect()],
  ['at a signal', (child: ReturnType<typeof started>) => child.kill('SIGTERM')],
])('leaves no half file %s', async (_when, stop) => {
  const root = aFolder();
  const before = [specPath];
  const child = started(root);
  await once(child, 'message');
  stop(child);
  const [code] = (await once(child, 'exit')) as [number];
  expect(code).toBe(130);
  expect(readdirSync(root)).toEqual(before);
});
