/** The command behind "Show the Page of This Rule": of the finding at the cursor, or of one of several. */
import * as vscode from 'vscode';
import { languageIds } from './languages.ts';

export async function showRulePage(): Promise<void> {
  const editor = vscode.window.activeTextEditor;
  if (!editor || !languageIds.includes(editor.document.languageId)) return;
  const rules = rulesAt(editor);
  if (rules.length === 0) {
    vscode.window.setStatusBarMessage(vscode.l10n.t('There is no finding at the cursor.'), 4000);
    return;
  }
  const rule = rules.length === 1 ? rules[0] : await vscode.window.showQuickPick(rules);
  // The server's command, which answers with the page.
  if (rule !== undefined) await vscode.commands.executeCommand('shootSpec.showRulePage', rule);
}

/** The gravest first, each once: those at the cursor, else those on its line. */
function rulesAt({ document, selection }: vscode.TextEditor): string[] {
  const all = vscode.languages
    .getDiagnostics(document.uri)
    .filter(({ range }) => range.start.line <= selection.active.line && range.end.line >= selection.active.line)
    .sort((a, b) => a.severity - b.severity);
  const here = all.filter(({ range }) => range.contains(selection.active));
  return [...new Set((here.length > 0 ? here : all).flatMap(({ code }) => codeText(code) ?? []))];
}

function codeText(code: vscode.Diagnostic['code']): string | undefined {
  const value = typeof code === 'object' ? code.value : code;
  return value === undefined ? undefined : String(value);
}
