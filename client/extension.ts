/** What the editor calls: starts the checker and registers the commands. Nothing is checked here. */
import * as vscode from 'vscode';
import type { LanguageClient } from 'vscode-languageclient/node';
import { Comparisons } from './compare.ts';
import type { Answers } from './files.ts';
import { noticeFinished } from './finished.ts';
import { fixAllSafe } from './fixAll.ts';
import { newSpec, type Answers as NewSpecAnswers } from './newSpec.ts';
import { Pictures } from './pictures.ts';
import { createClient, restart } from './start.ts';
import { showStatus } from './status.ts';
import { provideTasks } from './tasks.ts';

let client: LanguageClient | undefined;

export async function activate(context: vscode.ExtensionContext): Promise<void> {
  const started = createClient(context);
  client = started;
  const pictures = new Pictures(context, started);
  const comparisons = new Comparisons(started);
  context.subscriptions.push(
    showStatus(started),
    pictures,
    comparisons,
    noticeFinished(),
    provideTasks(context.asAbsolutePath('dist/cli.cjs')),
    vscode.commands.registerCommand('shootSpec.newSpec', (answers?: NewSpecAnswers) => newSpec(started, answers)),
    vscode.commands.registerCommand('shootSpec.fixAll', fixAllSafe),
    vscode.commands.registerCommand('shootSpec.showPictures', () => pictures.show()),
    vscode.commands.registerCommand('shootSpec.savePicture', (answers?: Answers) => pictures.save(answers)),
    vscode.commands.registerCommand('shootSpec.saveSheet', (answers?: Answers) => pictures.saveSheet(answers)),
    vscode.commands.registerCommand('shootSpec.compare', () => comparisons.show()),
    vscode.commands.registerCommand('shootSpec.showLog', () => started.outputChannel.show()),
    vscode.commands.registerCommand('shootSpec.restart', () => restart(started)),
  );
  await started.start();
}

export async function deactivate(): Promise<void> {
  await client?.stop();
}
