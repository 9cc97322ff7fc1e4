/** Runs the command line that is packed with the extension, in a process of its own. */
import { type ChildProcess, fork } from 'node:child_process';
import { once } from 'node:events';
import { isAbsolute } from 'node:path';
import { createInterface } from 'node:readline';
import type { Readable } from 'node:stream';
import * as vscode from 'vscode';
import { ourDocuments } from './languages.ts';

export interface Ran {
  readonly isDone: boolean;
  readonly isCancelled: boolean;
  /** What it has to say, line by line. */
  readonly said: readonly string[];
}

/**
 * @param cli where it is
 * @param tell is told what it sends over its channel
 */
export async function runCommandLine(
  cli: string,
  args: readonly string[],
  cancelled?: vscode.CancellationToken,
  tell: (message: unknown) => void = () => undefined,
): Promise<Ran> {
  // The editor's own program runs scripts when it is told to be Node; a server's is Node already.
  const env = { ...process.env, ELECTRON_RUN_AS_NODE: '1' };
  const child = fork(cli, args, { execArgv: [], env, stdio: ['ignore', 'ignore', 'pipe', 'ipc'] });
  const said: string[] = [];
  const lines = createInterface(child.stderr as Readable);
  lines.on('line', (line) => said.push(line.replace(/^shootspec: /, '')));
  const allSaid = once(lines, 'close');
  child.on('message', tell);
  // It takes away what it has begun, and ends.
  const stop = cancelled?.onCancellationRequested(() => child.connected && child.disconnect());
  const code = await exitOf(child);
  if (typeof code === 'number') await allSaid;
  stop?.dispose();
  return { isDone: code === 0, isCancelled: cancelled?.isCancellationRequested ?? false, said };
}

/** Or what kept it from starting. Once the channel is closed, `close` never comes. */
async function exitOf(child: ChildProcess): Promise<unknown> {
  try {
    const [code] = (await once(child, 'exit')) as [unknown];
    return code;
  } catch (error) {
    return error;
  }
}

/** Where the clips lie, as the editor's settings say. */
export function footageArgs(): string[] {
  const footage = vscode.workspace.getConfiguration('shootSpec').get<string>('footage') ?? '';
  return isAbsolute(footage) ? ['--footage', footage] : [];
}

/** It reads what lies on the disk, as a build does: the spec, and the kits and sheets that belong to it. */
export async function savedAll(): Promise<boolean> {
  const ours = vscode.workspace.textDocuments.filter(
    (document) => document.isDirty && !document.isUntitled && vscode.languages.match(ourDocuments, document) > 0,
  );
  const saved = await Promise.all(ours.map((document) => document.save()));
  return saved.every(Boolean);
}
