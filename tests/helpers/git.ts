/** Git in a folder of a test, with no settings of whoever runs the tests. */
import { spawnSync } from 'node:child_process';

export const gitEnv: NodeJS.ProcessEnv = {
  ...process.env,
  GIT_CONFIG_GLOBAL: '/dev/null',
  GIT_CONFIG_NOSYSTEM: '1',
  ...Object.fromEntries(
    ['AUTHOR', 'COMMITTER'].flatMap((who) => [
      [`GIT_${who}_NAME`, 'A'],
      [`GIT_${who}_EMAIL`, 'a@example.org'],
    ]),
  ),
};

export function git(folder: string, ...args: string[]): void {
  const { status, stderr } = spawnSync('git', args, { cwd: folder, env: gitEnv, encoding: 'utf8' });
  if (status !== 0) throw new Error(stderr);
}

/** Commits all that is in a folder; it becomes a repo if it is none. */
export function commitAll(folder: string): void {
  git(folder, 'init', '-q');
  git(folder, 'add', '-A');
  git(folder, 'commit', '-qm', 'x');
}
