/**
 * The one program that decodes: looked for once on the path, run with a list of arguments and never through a shell, for one
 * local file at a time, with limits of time and of what it may put out.
 */
import { type ChildProcessWithoutNullStreams, spawn } from 'node:child_process';
import { accessSync, constants, statSync } from 'node:fs';
import { delimiter, dirname, isAbsolute, join } from 'node:path';

export interface Ffmpeg {
  readonly path: string;
  /** As it says of itself: `5.1.6-0+deb12u1`. */
  readonly version: string;
  /** Whether it knows `-fps_mode`, which took the place of `-vsync` in 5.1. */
  readonly hasFpsMode: boolean;
}

/** How to get it, system by system. */
export const howToGetFfmpeg =
  'Debian and Ubuntu: `sudo apt install ffmpeg`; Fedora: `sudo dnf install ffmpeg-free`; macOS with Homebrew: `brew install ffmpeg`; Windows: `winget install ffmpeg`. Any build since 5 will do.';

/** Wanted by name and with what it needs to start; nothing else of the environment reaches it (`FFREPORT` writes files). */
const keptOfEnvironment = ['PATH', 'HOME', 'LANG', 'LD_LIBRARY_PATH', 'SYSTEMROOT', 'SystemRoot', 'TEMP', 'TMP'];

let found: Promise<Ffmpeg | undefined> | undefined;

/** The program on the path, looked for once in the life of the process; undefined where there is none since 5. */
export function ffmpeg(): Promise<Ffmpeg | undefined> {
  found ??= findFfmpeg(process.env['PATH'] ?? process.env['Path'] ?? '');
  return found;
}

/** Looks in the folders of a path. Relative ones are left out: what lies in a repo is never run. */
export async function findFfmpeg(path: string): Promise<Ffmpeg | undefined> {
  const name = process.platform === 'win32' ? 'ffmpeg.exe' : 'ffmpeg';
  for (const folder of path.split(delimiter).filter(isAbsolute)) {
    const file = join(folder, name);
    if (!isProgram(file)) continue;
    const version = await versionOf(file);
    if (version) return version;
  }
  return undefined;
}

function isProgram(file: string): boolean {
  try {
    accessSync(file, constants.X_OK);
    return statSync(file).isFile();
  } catch {
    return false;
  }
}

async function versionOf(path: string): Promise<Ffmpeg | undefined> {
  const chunks: Buffer[] = [];
  const ended = await runProgram(path, ['-hide_banner', '-version'], (chunk) => chunks.push(chunk), { mostS: 20 });
  if (ended.why) return undefined;
  const version = /^ffmpeg version (\S+)/.exec(Buffer.concat(chunks).toString('utf8'))?.[1];
  if (!version) return undefined;
  // Builds between releases are named by a date or a count of changes, and are newer than what they come from.
  const [, major, minor] = /^n?(\d+)\.(\d+)/.exec(version) ?? [];
  if (major === undefined) return { path, version, hasFpsMode: true };
  const release = Number(major) + Number(minor) / 100;
  return release < 5 ? undefined : { path, version, hasFpsMode: release >= 5.01 };
}

export interface RunLimits {
  readonly mostS: number;
  readonly mostBytes?: number;
  readonly signal?: AbortSignal;
}

export interface Ended {
  /** Undefined when it came to its end; else what went wrong, in words. */
  readonly why?: string;
  /** Whether the file has no track of the kind that was asked for. */
  readonly noTrack?: true;
  /** Whether it was stopped because somebody asked. */
  readonly cancelled?: true;
}

/** What may hold clips. Lists of other files (playlists, concatenations) and devices are not among them. */
const demuxers = 'mov,matroska,webm,avi,mxf,mpegts,mpeg,flv,wav,w64,flac,mp3,aac,ogg,aiff,caf,h264,hevc,dv';

/**
 * Runs it on one file.
 *
 * @param file an absolute path; whatever its name, it is taken for nothing but a file
 * @param output arguments that say what to make of it; its standard output goes to `take`
 */
export function decodeFile(
  { path }: Ffmpeg,
  file: string,
  { before = [], output }: { readonly before?: readonly string[]; readonly output: readonly string[] },
  take: (chunk: Buffer) => void,
  limits: RunLimits,
): Promise<Ended> {
  const args = ['-hide_banner', '-nostdin', '-loglevel', 'error', ...inputOf(file, before), ...output, 'pipe:1'];
  return runProgram(path, args, take, limits);
}

/** One file as an input: whatever its name, it is taken for nothing but a file. */
export function inputOf(file: string, before: readonly string[] = []): string[] {
  return ['-protocol_whitelist', 'file,pipe', '-format_whitelist', demuxers, ...before, '-i', `file:${file}`];
}

async function runProgram(
  program: string,
  args: readonly string[],
  take: (chunk: Buffer) => void,
  { mostBytes = Infinity, ...limits }: RunLimits,
): Promise<Ended> {
  const { child, stop, ended } = startProgram(program, args, limits);
  child.stdin.end();
  let bytes = 0;
  child.stdout.on('data', (chunk: Buffer) => {
    bytes += chunk.length;
    if (bytes > mostBytes) stop({ why: 'is larger than what is looked at' });
    else take(chunk);
  });
  return ended;
}

export interface Running {
  readonly child: ChildProcessWithoutNullStreams;
  /** Ends it at once; what it puts out afterwards counts no more. */
  stop(why: Ended): void;
  /** Never rejects. */
  readonly ended: Promise<Ended>;
}

/**
 * Starts it with a list of arguments and no shell, to be fed and read by its pipes.
 *
 * @param folder where it works: files of ours are named from there; beside the program where not said
 */
export function startProgram(
  program: string,
  args: readonly string[],
  { mostS, signal }: Omit<RunLimits, 'mostBytes'>,
  folder = dirname(program),
): Running {
  const child = spawn(program, args, {
    shell: false,
    windowsHide: true,
    cwd: folder,
    env: Object.fromEntries(keptOfEnvironment.flatMap((key) => (process.env[key] ? [[key, process.env[key]]] : []))),
    stdio: 'pipe',
  });
  let stopped: Ended | undefined;
  const stop = (why: Ended) => {
    stopped ??= why;
    child.stdout.removeAllListeners('data').resume();
    child.kill('SIGKILL');
  };
  const cancel = () => stop({ why: 'cancelled', cancelled: true });
  signal?.addEventListener('abort', cancel);
  const timer = setTimeout(() => stop({ why: `took longer than ${mostS} s` }), mostS * 1000);
  let said = '';
  child.stderr.on('data', (chunk: Buffer) => (said = (said + chunk.toString('utf8')).slice(0, 4000)));
  // It may end before it has read all: how it ended says more.
  child.stdin.on('error', () => undefined);
  const ended = new Promise<Ended>((resolve) => {
    const end = (how: Ended) => {
      clearTimeout(timer);
      signal?.removeEventListener('abort', cancel);
      resolve(stopped ?? how);
    };
    child.on('error', (error) => end({ why: error.message }));
    child.on('close', (code) => end(code === 0 ? {} : endedBadly(said, code)));
  });
  if (signal?.aborted) cancel();
  return { child, stop, ended };
}

/** The first thing it said, in one line without control characters and without the path. */
function endedBadly(said: string, code: number | null): Ended {
  if (/matches no streams/.test(said)) return { why: 'it has no such track', noTrack: true };
  const line = said.trim().split('\n')[0] ?? '';
  // eslint-disable-next-line no-control-regex -- what a file may hold
  const plain = line.replace(/[\u0000-\u001f\u007f-\u009f]/g, ' ').replace(/^.*file:.*: /, '');
  return { why: plain.slice(0, 200) || `the program ended with ${code}` };
}
