/** Questions that wait when something else takes the focus (the walkthrough does), and the server's answers, waited for. */
import * as vscode from 'vscode';
import type { BaseLanguageClient as LanguageClient } from 'vscode-languageclient';

/** A checker that has not answered by then does not run, or hangs. */
const limitMs = 10_000;

/** The page of a walkthrough takes the focus a quarter of a second after its button was pressed. */
const pageSettlesMs = 400;

/** Before a first question: what is typed into one that loses the focus again would be lost. */
export async function untilPageSettles(): Promise<void> {
  const tab = vscode.window.tabGroups.activeTabGroup.activeTab;
  // What is neither text nor a page of an extension: a walkthrough, the settings.
  if (tab && tab.input === undefined) await new Promise((settled) => setTimeout(settled, pageSettlesMs));
}

export async function ask(options: vscode.InputBoxOptions): Promise<string | undefined> {
  return (await vscode.window.showInputBox({ ignoreFocusOut: true, ...options }))?.trim();
}

export interface Choice<T> extends vscode.QuickPickItem {
  readonly answer: T;
}

export async function choose<T>(
  choices: readonly Choice<T>[],
  options: vscode.QuickPickOptions,
): Promise<T | undefined> {
  const picked = await vscode.window.showQuickPick([...choices], { ignoreFocusOut: true, ...options });
  return picked?.answer;
}

export async function chooseFolder(): Promise<vscode.WorkspaceFolder | undefined> {
  const folders = vscode.workspace.workspaceFolders ?? [];
  return folders.length > 1 ? vscode.window.showWorkspaceFolderPick({ ignoreFocusOut: true }) : folders[0];
}

/** Undefined where there is no answer, which was said then. */
export async function answered<T>(client: LanguageClient, request: string, params: object): Promise<T | undefined> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<never>((_, reject) => {
    timer = setTimeout(() => reject(new Error(`${request}: no answer within ${limitMs / 1000} s.`)), limitMs);
  });
  try {
    return await Promise.race([client.sendRequest<T>(request, params), late]);
  } catch (error) {
    client.warn(`${request} was not answered.`, error, false);
    void offerRestart();
    return undefined;
  } finally {
    clearTimeout(timer);
  }
}

async function offerRestart(): Promise<void> {
  const [restart, log] = [vscode.l10n.t('Restart'), vscode.l10n.t('Show the log')];
  const message = vscode.l10n.t('The checker does not answer, and nothing was written without it.');
  const picked = await vscode.window.showErrorMessage(message, restart, log);
  if (picked !== undefined)
    await vscode.commands.executeCommand(picked === restart ? 'shootSpec.restart' : 'shootSpec.showLog');
}
