/** The spec that a command is about. */
import * as vscode from 'vscode';

export const specLanguage = 'shoot-spec';

/** The one in front, else one that can be seen. */
export function specEditor(): vscode.TextEditor | undefined {
  const { activeTextEditor: active, visibleTextEditors: all } = vscode.window;
  return [active, ...all].find((editor) => editor?.document.languageId === specLanguage);
}
