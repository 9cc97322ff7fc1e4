/** The spec that a command is about. */
import * as vscode from 'vscode';

export const specLanguage = 'shoot-spec';

export const sheetLanguage = 'shoot-takes';

/** The one in front, else one that can be seen. */
export function specEditor(languages: readonly string[] = [specLanguage]): vscode.TextEditor | undefined {
  const { activeTextEditor: active, visibleTextEditors: all } = vscode.window;
  return [active, ...all].find((editor) => editor && languages.includes(editor.document.languageId));
}
