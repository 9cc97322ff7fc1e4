/**
 * A process that runs the bundled command as often as it is asked to, since starting one takes longer than what most tests
 * ask of it. Reads lines of JSON `{ args, cwd, env }` from descriptor 3, answers with `{ status, stdout, stderr }` on 4.
 */
import { readSync, writeSync } from 'node:fs';
import { createRequire } from 'node:module';
import path from 'node:path';

const dist = path.join(import.meta.dirname, '../../dist');
process.argv[1] = path.join(dist, 'cli.cjs');
const { run } = createRequire(import.meta.url)(path.join(dist, 'command.cjs'));

async function answer({ args, cwd, env }) {
  const said = { stdout: '', stderr: '' };
  for (const name of ['stdout', 'stderr'])
    process[name].write = (text) => {
      said[name] += text;
      return true;
    };
  process.env = env;
  process.chdir(cwd);
  const status = await run(args);
  return { status, ...said };
}

function send(text) {
  const bytes = Buffer.from(`${text}\n`);
  for (let sent = 0; sent < bytes.length;) sent += writeSync(4, bytes, sent);
}

/** Waits with nothing else going on, so that a command that ends the process ends it at once. */
function asked() {
  const parts = [];
  for (const part = Buffer.alloc(1 << 16); parts.at(-1)?.at(-1) !== lineEnd;) {
    const count = readSync(3, part);
    if (count === 0) return undefined;
    parts.push(Buffer.from(part.subarray(0, count)));
  }
  return JSON.parse(Buffer.concat(parts).toString());
}

const lineEnd = 0x0a;
for (let request; (request = asked());) send(JSON.stringify(await answer(request)));
process.exit();
