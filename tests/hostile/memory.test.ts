/** A server that is used all day must not grow: measured from outside, where the system says what it holds. */
import { once } from 'node:events';
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { Client, DiskRepo } from '../helpers/server.ts';
import { sampleFiles } from './corpus.ts';
import { figures } from './figures.ts';

const { edits, openings, mostGrowthMb } = figures.memory;

/** What could be thrown away is, before anybody measures: only what is held on to counts. */
const collectOnSignal =
  '--import=data:text/javascript,process.on("SIGUSR2",()=>{gc();gc();process.stderr.write("collected")})';

test.runIf(process.platform === 'linux')(
  `${edits} edits and ${openings} openings make the server no more than ${mostGrowthMb} MB larger`,
  async () => {
    const repo = new DiskRepo(sampleFiles);
    const client = new Client(['--expose-gc', collectOnSignal]);
    await client.initialize(repo.root);
    const uri = repo.uri('music-box.shoot.yaml');
    let version = 1;
    await client.open(uri, sampleFiles['music-box.shoot.yaml']!, version);

    const lines = sampleFiles['music-box.shoot.yaml']!.split('\n');
    const inTitle = { line: lines.findIndex((line) => line.startsWith('title:')), character: 8 };
    const firstShot = { line: lines.indexOf('shots:') + 1, character: 0 };
    const changes = [
      { range: { start: inTitle, end: inTitle }, text: 'x' },
      { range: { start: inTitle, end: { ...inTitle, character: 9 } }, text: '' },
      { range: { start: firstShot, end: firstShot }, text: '  spare: { record: 2 s }\n' },
      { range: { start: firstShot, end: { ...firstShot, line: firstShot.line + 1 } }, text: '' },
    ];
    /** A letter typed into the title and taken out again, a shot written and deleted. */
    const type = async (count: number): Promise<void> => {
      for (let edit = 0; edit < count; edit++) {
        await client.connection.sendNotification('textDocument/didChange', {
          textDocument: { uri, version: ++version },
          contentChanges: [changes[edit % changes.length]!],
        });
        // An answer now and then, so that texts are read and not only kept.
        if (edit % 20 === 0) await client.request('textDocument/documentSymbol', { textDocument: { uri } });
      }
      await client.findings(uri, (_, checked) => checked === version);
    };
    const openAndClose = async (count: number): Promise<void> => {
      for (let opening = 0; opening < count; opening++) {
        const other = repo.uri(`films/film-${opening}.shoot.yaml`);
        await client.open(other, sampleFiles['tea-pour.shoot.yaml']!);
        await client.request('textDocument/hover', {
          textDocument: { uri: other },
          position: { line: 3, character: 2 },
        });
        await client.connection.sendNotification('textDocument/didClose', { textDocument: { uri: other } });
        client.pushed.length = 0;
      }
    };
    /** What is held once all is done that was asked for. */
    const held = async (): Promise<number> => {
      await client.request('textDocument/documentSymbol', { textDocument: { uri } });
      const collected = once(client.process.stderr!, 'data');
      client.process.kill('SIGUSR2');
      await collected;
      return settledMb(client.process.pid!);
    };

    // The machine code and the usual heap of a server that works come first.
    await type(2500);
    await openAndClose(120);
    const before = await held();
    await type(edits);
    await openAndClose(openings);
    const after = await held();
    await client.stop();
    repo.remove();
    expect(after - before).toBeLessThan(mostGrowthMb);
  },
);

/** Freed memory goes back to the system a while later: what is held when it no longer becomes less. */
async function settledMb(pid: number): Promise<number> {
  let least = heldMb(pid);
  for (let steady = 0; steady < 4; steady++) {
    await new Promise((later) => setTimeout(later, 100));
    const now = heldMb(pid);
    if (now < least - 0.5) steady = 0;
    least = Math.min(least, now);
  }
  return least;
}

function heldMb(pid: number): number {
  return Number(/^VmRSS:\s*(\d+) kB/m.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))![1]) / 1024;
}
