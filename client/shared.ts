/** What the extension does wherever it runs, with a server in a process or in a worker. */
import * as vscode from 'vscode';
import type { BaseLanguageClient as LanguageClient } from 'vscode-languageclient';
import type { KitAnswers } from '../server/features/new-kit.ts';
import { compareWith, type OtherPlan } from './compare-with.ts';
import type { Answers } from './files.ts';
import { noticeFinished } from './finished-spec.ts';
import { fixAllSafe } from './fix-all.ts';
import { newKit } from './new-kit.ts';
import { newSpec, type Answers as NewSpecAnswers } from './new-spec.ts';
import { newSpecLike, type LikeAnswers } from './new-spec-like.ts';
import { Pages } from './pages.ts';
import { Pictures } from './pictures.ts';
import { showRulePage } from './rule-page.ts';
import { openFirst } from './spec-editor.ts';
import { showStatus } from './status.ts';
import { suggestOnNewLine } from './suggest-on-new-line.ts';
import { noticeExisting } from './what-exists.ts';

interface Here {
  /** Those that are checked. */
  readonly documents: vscode.DocumentSelector;
  readonly makesPdf: boolean;
}

export function registerShared(
  context: vscode.ExtensionContext,
  client: LanguageClient,
  { documents, makesPdf }: Here,
): { readonly pages: Pages } {
  const pictures = new Pictures(context, client, makesPdf);
  const pages = new Pages(client);
  context.subscriptions.push(
    showStatus(client, documents),
    pictures,
    pages,
    noticeFinished(),
    noticeExisting(client),
    suggestOnNewLine(),
    vscode.commands.registerCommand('shootSpec.newSpec', (answers?: NewSpecAnswers) => newSpec(client, answers)),
    vscode.commands.registerCommand('shootSpec.newSpecLike', (answers?: LikeAnswers) => newSpecLike(client, answers)),
    client.onNotification('shootSpec/begin', () => newSpec(client)),
    vscode.commands.registerCommand('shootSpec.newKit', (answers?: Partial<KitAnswers>) => newKit(answers)),
    vscode.commands.registerCommand('shootSpec.fixAll', fixAllSafe),
    vscode.commands.registerCommand('shootSpec.showRule', showRulePage),
    vscode.commands.registerCommand('shootSpec.showPictures', async (file?: vscode.Uri) => {
      await openFirst(file);
      pictures.show();
    }),
    vscode.commands.registerCommand('shootSpec.savePicture', (answers?: Answers) => pictures.save(answers)),
    vscode.commands.registerCommand('shootSpec.saveSheet', (answers?: Answers) => pictures.saveSheet(answers)),
    vscode.commands.registerCommand('shootSpec.saveClientPlan', (answers?: Answers) =>
      pictures.saveClientPlan(answers),
    ),
    vscode.commands.registerCommand('shootSpec.saveSetPage', (answers?: Answers) => pictures.saveSetPage(answers)),
    vscode.commands.registerCommand('shootSpec.compareWith', (other?: OtherPlan) => compareWith(client, pages, other)),
    vscode.commands.registerCommand('shootSpec.checkRepo', () => checkRepo(client)),
    vscode.commands.registerCommand('shootSpec.showLog', () => client.outputChannel.show()),
    vscode.commands.registerCommand('shootSpec.restart', () => restart(client)),
  );
  return { pages };
}

/** A command of the server's that is there before the server is. */
function checkRepo(client: LanguageClient): Promise<unknown> {
  return client.sendRequest('workspace/executeCommand', { command: 'shootSpec.checkRepo', arguments: [] });
}

/** Stops the server if it runs, and starts it afresh. */
async function restart(client: LanguageClient): Promise<void> {
  try {
    if (client.isRunning()) await client.stop();
    await client.start();
  } catch (error) {
    client.error(vscode.l10n.t('The checker did not start again.'), error, 'force');
  }
}
