/** What differs in a plan from the last commit: the server compares, and a page beside the text shows it. */
import * as vscode from 'vscode';
import type { LanguageClient } from 'vscode-languageclient/node';
import { askFor, nameOf } from './files.ts';
import { specEditor } from './front.ts';

const scheme = 'shoot-spec-changes';

type Answer = { readonly markdown: string } | { readonly message: string };

export class Comparisons implements vscode.Disposable, vscode.TextDocumentContentProvider {
  readonly #client: LanguageClient;
  /** What was last said of each plan. A page in view asks again long after its document was closed, so all are kept. */
  readonly #pages = new Map<string, string>();
  readonly #changed = new vscode.EventEmitter<vscode.Uri>();
  readonly #registered: vscode.Disposable;
  readonly onDidChange = this.#changed.event;

  constructor(client: LanguageClient) {
    this.#client = client;
    this.#registered = vscode.workspace.registerTextDocumentContentProvider(scheme, this);
  }

  dispose(): void {
    this.#registered.dispose();
    this.#changed.dispose();
  }

  /** A page that the editor opens again after a start has lost what it showed. */
  provideTextDocumentContent(uri: vscode.Uri): string {
    return this.#pages.get(uri.toString()) ?? vscode.l10n.t('Compare the plan again to see what differs now.');
  }

  async show(): Promise<void> {
    const editor = specEditor();
    if (!editor) return say(vscode.l10n.t('Open a shoot spec first: it is compared with its last commit.'));
    // A repo's own settings can make git run programs.
    if (!vscode.workspace.isTrusted) return askForTrust();
    const { uri } = editor.document;
    const answer = await this.#ask(uri);
    if (!answer) return say(vscode.l10n.t("The checker did not answer; its log says why ('Show the Checker's Log')."));
    if ('message' in answer) return say(answer.message);
    await this.#open(pageOf(uri), answer.markdown);
  }

  async #ask(uri: vscode.Uri): Promise<Answer | undefined> {
    const progress = {
      location: vscode.ProgressLocation.Window,
      title: vscode.l10n.t('Comparing with the last commit'),
    };
    const ask = () => askFor<Answer>(this.#client, 'shootSpec/compare', { uri: uri.toString() });
    return vscode.window.withProgress(progress, ask);
  }

  async #open(page: vscode.Uri, markdown: string): Promise<void> {
    this.#pages.set(page.toString(), markdown);
    this.#changed.fire(page);
    try {
      await vscode.commands.executeCommand('markdown.showLockedPreviewToSide', page);
      await vscode.commands.executeCommand('markdown.preview.refresh'); // One that was there already may be older.
    } catch {
      // Where the editor's Markdown is switched off, the page is shown as it is written.
      await vscode.window.showTextDocument(page, { viewColumn: vscode.ViewColumn.Beside, preserveFocus: true });
    }
  }
}

/** The address of a plan's page: the tab has its name, the rest keeps it apart from plans of the same name. */
function pageOf(plan: vscode.Uri): vscode.Uri {
  const title = vscode.l10n.t('{0} since the last commit', nameOf(plan).replace(/\.shoot\.yaml$/, ''));
  return vscode.Uri.from({ scheme, path: `/${title}.md`, query: plan.toString() });
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
