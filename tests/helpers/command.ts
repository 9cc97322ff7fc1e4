/** The bundled `shootspec` command, as tests run it. */
import { spawn, spawnSync, type SpawnSyncOptions } from 'node:child_process';
import { closeSync, mkdtempSync, openSync, readSync, rmSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { mkfifoSync } from './fifo.ts';

export const cli = join(import.meta.dirname, '../../dist/cli.cjs');

export interface Ended {
  readonly status: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

/**
 * Runs the command to its end. What needs nothing but arguments, a folder and an environment runs in a process that is
 * there already (`command-host.mjs`); standard input, other users and streams of one's own get a process of their own.
 */
export function shootspec(args: readonly string[], { cwd, env = process.env, ...rest }: SpawnSyncOptions): Ended {
  if (Object.keys(rest).length === 0) return host().run({ args, cwd: String(cwd), env });
  const { status, stdout, stderr } = spawnSync(process.execPath, [cli, ...args], {
    cwd,
    env,
    timeout: 300_000,
    ...rest,
    encoding: 'utf8',
  });
  return { status, stdout, stderr };
}

/** The process that is kept, and the two named pipes to it: descriptors of our own can be waited for. */
class Host {
  readonly #asks: number;
  readonly #answers: number;

  constructor() {
    const folder = mkdtempSync(join(tmpdir(), 'shootspec-command-'));
    const [asks, answers] = [join(folder, 'asks'), join(folder, 'answers')];
    mkfifoSync(asks);
    mkfifoSync(answers);
    // The shell opens both before the program starts, so that a program that can't start is an end and no wait.
    const child = spawn('sh', ['-c', 'exec "$0" "$1" 3<"$2" 4>"$3"', process.execPath, hostScript, asks, answers], {
      stdio: ['ignore', 'ignore', 'inherit'],
    });
    child.unref();
    this.#asks = openSync(asks, 'w');
    this.#answers = openSync(answers, 'r');
    rmSync(folder, { recursive: true });
  }

  run(asked: object): Ended {
    writeSync(this.#asks, `${JSON.stringify(asked)}\n`);
    const parts: Buffer[] = [];
    for (const part = Buffer.alloc(1 << 16); parts.at(-1)?.at(-1) !== lineEnd;) {
      const count = readSync(this.#answers, part);
      if (count === 0) this.#ended();
      parts.push(Buffer.from(part.subarray(0, count)));
    }
    return JSON.parse(Buffer.concat(parts).toString()) as Ended;
  }

  #ended(): never {
    closeSync(this.#asks);
    kept = undefined;
    throw new Error('the process that runs the command has ended');
  }
}

const hostScript = join(import.meta.dirname, 'command-host.mjs');
const lineEnd = 0x0a;
let kept: Host | undefined;

function host(): Host {
  return (kept ??= new Host());
}
