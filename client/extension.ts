/** What the editor calls: starts the checker and registers the commands. Nothing is checked here. */
import * as vscode from 'vscode';
import type { BaseLanguageClient as LanguageClient } from 'vscode-languageclient';
import { handOver, type HandOverAnswers } from './hand-over.ts';
import { assembleFilm, type FilmAnswers } from './assemble.ts';
import { Comparisons } from './compare.ts';
import { decodeSheet, listenToMusic, showDecoder } from './decode.ts';
import { ourDocuments } from './languages.ts';
import { registerShared } from './shared.ts';
import { createClient } from './start.ts';
import { sortClips } from './sort-clips.ts';
import { provideTasks } from './tasks.ts';

let client: LanguageClient | undefined;

export function activate(context: vscode.ExtensionContext): void {
  const started = createClient(context);
  client = started;
  const cli = context.asAbsolutePath('dist/cli.cjs');
  const { pages } = registerShared(context, started, { documents: ourDocuments, makesPdf: true });
  const comparisons = new Comparisons(started, pages);
  context.subscriptions.push(
    showDecoder(started),
    provideTasks(cli),
    vscode.workspace.onDidGrantWorkspaceTrust(() => started.sendNotification('shootSpec/trusted')),
    vscode.commands.registerCommand('shootSpec.sortClips', sortClips),
    vscode.commands.registerCommand('shootSpec.compare', () => comparisons.show()),
    vscode.commands.registerCommand('shootSpec.assemble', (answers?: FilmAnswers) =>
      assembleFilm(started, cli, answers),
    ),
    vscode.commands.registerCommand('shootSpec.handOver', (answers?: HandOverAnswers) =>
      handOver(started, cli, answers),
    ),
    vscode.commands.registerCommand('shootSpec.decode', () => decodeSheet(started)),
    vscode.commands.registerCommand('shootSpec.listen', () => listenToMusic(started)),
  );
  // Nobody waits for it: a first question stands there at once, and requests wait by themselves. It says what fails.
  void started.start().catch(() => undefined);
}

export async function deactivate(): Promise<void> {
  await client?.stop();
}
