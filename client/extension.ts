/** What the editor calls: starts the checker and registers the commands. Nothing is checked here. */
import * as vscode from 'vscode';
import type { LanguageClient } from 'vscode-languageclient/node';
import type { KitAnswers } from '../server/features/new-kit.ts';
import { handOver, type HandOverAnswers } from './hand-over.ts';
import { assembleFilm, type FilmAnswers } from './assemble.ts';
import { noticeExisting } from './what-exists.ts';
import { Comparisons } from './compare.ts';
import type { Answers } from './files.ts';
import { noticeFinished } from './finished-spec.ts';
import { decodeSheet, showDecoder } from './decode.ts';
import { fixAllSafe } from './fix-all.ts';
import { newKit } from './new-kit.ts';
import { Pages } from './pages.ts';
import { newSpec, type Answers as NewSpecAnswers } from './new-spec.ts';
import { Pictures } from './pictures.ts';
import { checkRepo, createClient, restart } from './start.ts';
import { sortClips } from './sort-clips.ts';
import { showStatus } from './status.ts';
import { suggestOnNewLine } from './suggest-on-new-line.ts';
import { provideTasks } from './tasks.ts';

let client: LanguageClient | undefined;

export function activate(context: vscode.ExtensionContext): void {
  const started = createClient(context);
  client = started;
  const cli = context.asAbsolutePath('dist/cli.cjs');
  const pictures = new Pictures(context, started);
  const pages = new Pages(started);
  const comparisons = new Comparisons(started, pages);
  context.subscriptions.push(
    showStatus(started),
    showDecoder(started),
    pictures,
    pages,
    noticeFinished(),
    noticeExisting(started),
    suggestOnNewLine(),
    provideTasks(cli),
    vscode.commands.registerCommand('shootSpec.newSpec', (answers?: NewSpecAnswers) => newSpec(started, answers)),
    started.onNotification('shootSpec/begin', () => newSpec(started)),
    vscode.workspace.onDidGrantWorkspaceTrust(() => started.sendNotification('shootSpec/trusted')),
    vscode.commands.registerCommand('shootSpec.newKit', (answers?: Partial<KitAnswers>) => newKit(answers)),
    vscode.commands.registerCommand('shootSpec.fixAll', fixAllSafe),
    vscode.commands.registerCommand('shootSpec.sortClips', sortClips),
    vscode.commands.registerCommand('shootSpec.showPictures', () => pictures.show()),
    vscode.commands.registerCommand('shootSpec.savePicture', (answers?: Answers) => pictures.save(answers)),
    vscode.commands.registerCommand('shootSpec.saveSheet', (answers?: Answers) => pictures.saveSheet(answers)),
    vscode.commands.registerCommand('shootSpec.saveClientPlan', (answers?: Answers) =>
      pictures.saveClientPlan(answers),
    ),
    vscode.commands.registerCommand('shootSpec.saveSetPage', (answers?: Answers) => pictures.saveSetPage(answers)),
    vscode.commands.registerCommand('shootSpec.compare', () => comparisons.show()),
    vscode.commands.registerCommand('shootSpec.assemble', (answers?: FilmAnswers) =>
      assembleFilm(started, cli, answers),
    ),
    vscode.commands.registerCommand('shootSpec.handOver', (answers?: HandOverAnswers) =>
      handOver(started, cli, answers),
    ),
    vscode.commands.registerCommand('shootSpec.decode', () => decodeSheet(started)),
    vscode.commands.registerCommand('shootSpec.checkRepo', () => checkRepo(started)),
    vscode.commands.registerCommand('shootSpec.showLog', () => started.outputChannel.show()),
    vscode.commands.registerCommand('shootSpec.restart', () => restart(started)),
  );
  // Nobody waits for it: a first question stands there at once, and requests wait by themselves. It says what fails.
  void started.start().catch(() => undefined);
}

export async function deactivate(): Promise<void> {
  await client?.stop();
}
