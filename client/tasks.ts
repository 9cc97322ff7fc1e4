/** The task `shoot-spec: check`: the command line over a folder, its findings read back by the problem matcher. */
import { type ChildProcess, spawn } from 'node:child_process';
import * as vscode from 'vscode';

const type = 'shoot-spec';
const matcher = '$shoot-spec';

interface CheckTask extends vscode.TaskDefinition {
  readonly task: 'check';
  /** Files or folders from the workspace folder; all of it where nothing is said. */
  readonly paths?: readonly string[];
}

/** @param cli the command line that is packed with the extension */
export function provideTasks(cli: string): vscode.Disposable {
  return vscode.tasks.registerTaskProvider(type, {
    provideTasks: () =>
      (vscode.workspace.workspaceFolders ?? []).map((folder) => checkTask({ type, task: 'check' }, folder, cli)),
    resolveTask: ({ definition, scope }) => {
      const folder = typeof scope === 'object' ? scope : vscode.workspace.workspaceFolders?.[0];
      return folder && definition['task'] === 'check' ? checkTask(definition as CheckTask, folder, cli) : undefined;
    },
  });
}

function checkTask(definition: CheckTask, folder: vscode.WorkspaceFolder, cli: string): vscode.Task {
  const args = [cli, 'check', '--', ...(definition.paths ?? ['.'])];
  const run = new vscode.CustomExecution(() => Promise.resolve(new Run(args, folder.uri.fsPath)));
  const task = new vscode.Task(definition, folder, 'check', type, run, matcher);
  task.detail = vscode.l10n.t('Checks all specs, kits and settings of the folder');
  task.group = vscode.TaskGroup.Test;
  task.presentationOptions = { reveal: vscode.TaskRevealKind.Silent, clear: true };
  return task;
}

/** A terminal that shows one run of the command line. No shell is in between, so that file names are taken as they are. */
class Run implements vscode.Pseudoterminal {
  readonly #written = new vscode.EventEmitter<string>();
  readonly #closed = new vscode.EventEmitter<number>();
  readonly onDidWrite = this.#written.event;
  readonly onDidClose = this.#closed.event;
  #process: ChildProcess | undefined;

  constructor(
    private readonly args: readonly string[],
    private readonly folder: string,
  ) {}

  open(): void {
    // The editor's own program runs scripts when it is told to be Node; a server's is Node already.
    const env = { ...process.env, ELECTRON_RUN_AS_NODE: '1' };
    const child = spawn(process.execPath, this.args, { cwd: this.folder, env, stdio: ['ignore', 'pipe', 'pipe'] });
    this.#process = child;
    const write = (text: string): void => this.#written.fire(text.replaceAll('\n', '\r\n'));
    child.stdout.setEncoding('utf8').on('data', write);
    child.stderr.setEncoding('utf8').on('data', write);
    child.on('error', (error) => write(`${error.message}\n`));
    child.on('close', (code) => this.#closed.fire(code ?? 1));
  }

  close(): void {
    this.#process?.kill();
  }
}
