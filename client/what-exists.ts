/** What the open folders have already: for questions that need not be asked, and the steps of the walkthrough. */
import * as vscode from 'vscode';
import type { BaseLanguageClient as LanguageClient } from 'vscode-languageclient';
import { answered } from './questions.ts';

const request = 'shootSpec/begun';

export interface Existing {
  /** Paths from the folder. */
  readonly kits: readonly string[];
  readonly specs: readonly string[];
  /** The kits that the settings name for every spec. */
  readonly usualKits: readonly string[];
}

/** The server looks, as the editor's own search for files needs a program that is not everywhere. */
export function existingIn(client: LanguageClient, folder: vscode.Uri): Promise<Existing | undefined> {
  return answered(client, request, { folder: folder.toString() });
}

/** Ticks the steps of the walkthrough once their file exists, whoever wrote it. */
export function noticeExisting(client: LanguageClient): vscode.Disposable {
  const noted = (kind: 'Kit' | 'Spec') =>
    void vscode.commands.executeCommand('setContext', `shootSpec.has${kind}`, true);
  const kits = vscode.workspace.createFileSystemWatcher('**/*.kit.yaml', false, true, true);
  const specs = vscode.workspace.createFileSystemWatcher('**/*.shoot.yaml', false, true, true);
  const look = async () => {
    for (const { uri } of vscode.workspace.workspaceFolders ?? []) {
      const found = await client.sendRequest<Existing>(request, { folder: uri.toString() }).catch(() => undefined);
      if (found?.kits.length) noted('Kit');
      if (found?.specs.length) noted('Spec');
    }
  };
  const started = client.onDidChangeState(() => client.isRunning() && void look());
  kits.onDidCreate(() => noted('Kit'));
  specs.onDidCreate(() => noted('Spec'));
  // The editor may miss a file that comes right after its folder; a new one is opened, whoever wrote it.
  const opened = vscode.workspace.onDidOpenTextDocument(({ uri, languageId }) => {
    if (!vscode.workspace.getWorkspaceFolder(uri)) return;
    if (languageId === 'shoot-kit') noted('Kit');
    if (languageId === 'shoot-spec') noted('Spec');
  });
  return vscode.Disposable.from(kits, specs, started, opened);
}
