/** Pages that the server has words for: shown beside the text, as Markdown. */
import * as vscode from 'vscode';
import type { BaseLanguageClient as LanguageClient } from 'vscode-languageclient';

const scheme = 'shoot-spec-page';

interface Page {
  readonly title: string;
  readonly markdown: string;
}

export class Pages implements vscode.Disposable, vscode.TextDocumentContentProvider {
  /** What each said last. A page in view asks again long after its document was closed, so all are kept. */
  readonly #said = new Map<string, string>();
  readonly #changed = new vscode.EventEmitter<vscode.Uri>();
  readonly #registered: vscode.Disposable[];
  readonly onDidChange = this.#changed.event;

  constructor(client: LanguageClient) {
    client.registerFeature({
      fillClientCapabilities: (capabilities) => {
        capabilities.experimental = { ...(capabilities.experimental as object), shootSpecPages: true };
      },
      initialize: () => undefined,
      getState: () => ({ kind: 'static' }),
      clear: () => undefined,
    });
    this.#registered = [
      vscode.workspace.registerTextDocumentContentProvider(scheme, this),
      client.onNotification('shootSpec/showPage', (page: Page) => this.show(pageNamed(page.title), page.markdown)),
    ];
  }

  dispose(): void {
    for (const one of this.#registered) one.dispose();
    this.#changed.dispose();
  }

  /** A page that the editor opens again after a start has lost what it showed. */
  provideTextDocumentContent(uri: vscode.Uri): string {
    return this.#said.get(uri.toString()) ?? vscode.l10n.t('Ask for this page again: what it showed is not kept.');
  }

  async show(page: vscode.Uri, markdown: string): Promise<void> {
    this.#said.set(page.toString(), markdown);
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

/** The address of a page: its tab has this name; `about` keeps it apart from others of the name. */
export function pageNamed(title: string, about?: vscode.Uri): vscode.Uri {
  const name = title.replace(/[/\\`]/g, '');
  return vscode.Uri.from({ scheme, path: `/${name}.md`, query: about?.toString() ?? '' });
}
