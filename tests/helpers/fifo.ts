import { execFileSync } from 'node:child_process';

/** A named pipe: opening it to read would wait for ever. */
export function mkfifoSync(path: string): void {
  execFileSync('mkfifo', [path]);
}
