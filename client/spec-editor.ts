/** The spec that a command is about. */
import * as vscode from 'vscode';

export const specLanguage = 'shoot-spec';

export const sheetLanguage = 'shoot-takes';

/** What is chosen in a list of files is opened before something is done with it. */
export async function openFirst(file: unknown): Promise<void> {
  if (!(file instanceof vscode.Uri)) return;
  if (specEditor()?.document.uri.toString() !== file.toString()) await vscode.window.showTextDocument(file);
}

/** The one in front, else one that can be seen. */
export function specEditor(languages: readonly string[] = [specLanguage]): vscode.TextEditor | undefined {
  const { activeTextEditor: active, visibleTextEditors: all } = vscode.window;
  return [active, ...all].find((editor) => editor && languages.includes(editor.document.languageId));
}
