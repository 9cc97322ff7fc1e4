/** The command behind "Sort Clips into Shots": the code action at the head of the sheet in front, which is then looked at. */
import { sheetLanguage } from './spec-editor.ts';
import * as vscode from 'vscode';

export async function sortClips(): Promise<void> {
  const editor = vscode.window.activeTextEditor;
  if (editor?.document.languageId !== sheetLanguage) return;
  const actions = await vscode.commands.executeCommand<vscode.CodeAction[]>(
    'vscode.executeCodeActionProvider',
    editor.document.uri,
    new vscode.Range(0, 0, 0, 0),
    'refactor.rewrite.sortClips',
  );
  const edit = actions.find((action) => action.edit)?.edit;
  if (edit) {
    await vscode.workspace.applyEdit(edit);
    return;
  }
  const words = vscode.l10n.t(
    'No clip below the footage folder is left to be sorted into a shot that has none yet, or they are still being read.',
  );
  void vscode.window.showInformationMessage(words);
}
