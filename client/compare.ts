/** What differs in a plan from the last commit: the server compares, and a page beside the text shows it. */
import * as vscode from 'vscode';
import type { BaseLanguageClient as LanguageClient } from 'vscode-languageclient';
import { askFor, nameOf } from './files.ts';
import { sheetLanguage, specEditor, specLanguage } from './spec-editor.ts';
import { pageNamed, Pages } from './pages.ts';

type Answer = { readonly markdown: string } | { readonly message: string };

export class Comparisons {
  readonly #client: LanguageClient;
  readonly #pages: Pages;

  constructor(client: LanguageClient, pages: Pages) {
    this.#client = client;
    this.#pages = pages;
  }

  async show(): Promise<void> {
    const editor = specEditor([specLanguage, sheetLanguage]);
    if (!editor) return say(vscode.l10n.t('Open a shoot spec first: it is compared with its last commit.'));
    // A repo's own settings can make git run programs.
    if (!vscode.workspace.isTrusted) return askForTrust();
    const { uri } = editor.document;
    const answer = await this.#ask(uri);
    if (!answer) return say(vscode.l10n.t("The checker did not answer; its log says why ('Show the Checker's Log')."));
    if ('message' in answer) return say(answer.message);
    await this.#pages.show(pageOf(uri), answer.markdown);
  }

  async #ask(uri: vscode.Uri): Promise<Answer | undefined> {
    const progress = {
      location: vscode.ProgressLocation.Window,
      title: vscode.l10n.t('Comparing with the last commit'),
    };
    const ask = () => askFor<Answer>(this.#client, 'shootSpec/compare', { uri: uri.toString() });
    return vscode.window.withProgress(progress, ask);
  }
}

/** The address of a plan's page: the tab has its name, the rest keeps it apart from plans of the same name. */
function pageOf(plan: vscode.Uri): vscode.Uri {
  const title = vscode.l10n.t('{0} since the last commit', nameOf(plan).replace(/\.shoot\.yaml$/, ''));
  return pageNamed(title, plan);
}

function say(words: string): void {
  void vscode.window.showInformationMessage(words);
}

async function askForTrust(): Promise<void> {
  const manage = vscode.l10n.t('Trust This Folder...');
  const words = vscode.l10n.t(
    'Comparing runs git in this folder, so it waits until you say that you trust the folder.',
  );
  if ((await vscode.window.showInformationMessage(words, manage)) === manage)
    await vscode.commands.executeCommand('workbench.trust.manage');
}
