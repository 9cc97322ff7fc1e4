/** Writing files whole or not at all: beside the old one first, then in its place. */
import { randomBytes } from 'node:crypto';
import {
  closeSync,
  fchmodSync,
  fchownSync,
  fsyncSync,
  openSync,
  realpathSync,
  renameSync,
  rmSync,
  type Stats,
  statSync,
  writeFileSync,
} from 'node:fs';
import { constants } from 'node:os';
import { basename, dirname, join, resolve } from 'node:path';
import { readBytes, Refused, UsageError } from './usage.ts';

/**
 * Puts a new text in the place of a file that was read before. Permissions, owner and a link to the file stay; a file
 * that is not as it was read is left alone.
 */
export function replaceFile(file: string, before: Buffer, text: string): void {
  orRefused(file, () => {
    const real = realpathSync(file);
    writeWhole(real, text, statSync(real), () => {
      if (!readBytes(real, before.length + 1).equals(before))
        throw new UsageError(`\`${file}\` was changed by somebody else in the meantime, so it was left as it is.`);
    });
  });
}

/** Writes a file of ours, new or in the place of another; what is no ordinary file (a pipe, a device) is written to. */
export function writeOutput(path: string, text: string | Uint8Array): void {
  const file = resolve(path);
  orRefused(path, () => {
    const stat = statSync(file, { throwIfNoEntry: false });
    if (stat && !stat.isFile() && !stat.isDirectory()) writeFileSync(file, text);
    else writeWhole(stat ? realpathSync(file) : file, text, stat);
  });
}

/** Writes a file that is not there yet. */
export function writeNew(path: string, text: string): void {
  try {
    writeFileSync(resolve(path), text, { flag: 'wx' });
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw new Refused(path, 'written', error);
    throw new UsageError(`There is \`${path}\` already, and it stays. Choose another name.`);
  }
}

function orRefused(path: string, write: () => void): void {
  try {
    write();
  } catch (error) {
    throw error instanceof UsageError ? error : new Refused(path, 'written', error);
  }
}

function writeWhole(
  file: string,
  text: string | Uint8Array,
  old: Stats | undefined,
  lastLook: () => void = () => {},
): void {
  interruptible();
  const part = join(dirname(file), `.${basename(file)}.${randomBytes(6).toString('hex')}.part`);
  const descriptor = openSync(part, 'wx', old ? 0o600 : 0o666);
  try {
    try {
      writeFileSync(descriptor, text);
      if (old) keep(descriptor, old, file);
      fsyncSync(descriptor);
    } finally {
      closeSync(descriptor);
    }
    lastLook();
    renameSync(part, file);
  } catch (error) {
    rmSync(part, { force: true });
    throw error;
  }
}

const interrupts = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const;
let waits = false;

/** An interrupt waits until the file is whole, so that no part of one is left beside it. */
function interruptible(): void {
  if (waits) return;
  waits = true;
  const leave = (signal: NodeJS.Signals) => process.exit(128 + constants.signals[signal]);
  for (const signal of interrupts) process.on(signal, leave);
  // Node tells of it when the work that runs now has ended.
  setImmediate(() => {
    waits = false;
    for (const signal of interrupts) process.off(signal, leave);
  });
}

function keep(descriptor: number, old: Stats, file: string): void {
  try {
    // The owner first: a change of owner takes some permissions away.
    if (process.getuid && (old.uid !== process.getuid() || old.gid !== process.getgid?.()))
      fchownSync(descriptor, old.uid, old.gid);
  } catch {
    throw new UsageError(`\`${file}\` belongs to somebody else and would change its owner, so it was left as it is.`);
  }
  fchmodSync(descriptor, old.mode & 0o7777);
}
