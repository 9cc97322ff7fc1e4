/** The command behind "Fix All That Is Safe": the same code action as on save, for the file in front. */
import * as vscode from 'vscode';
import { languageIds } from './languages.ts';

export async function fixAllSafe(): Promise<void> {
  const editor = vscode.window.activeTextEditor;
  if (!editor || !languageIds.includes(editor.document.languageId)) return;
  const { document } = editor;
  const whole = new vscode.Range(document.positionAt(0), document.positionAt(document.getText().length));
  const actions = await vscode.commands.executeCommand<vscode.CodeAction[]>(
    'vscode.executeCodeActionProvider',
    document.uri,
    whole,
    'source.fixAll.shootSpec',
  );
  const edit = actions.find((action) => action.edit)?.edit;
  if (!edit) {
    vscode.window.setStatusBarMessage(vscode.l10n.t('Nothing here can be fixed without a choice of yours.'), 4000);
    return;
  }
  await vscode.workspace.applyEdit(edit);
}
