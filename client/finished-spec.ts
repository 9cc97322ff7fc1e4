/** Notices the first finished spec, the last step of the walkthrough: shots and a cut, and no error or warning left. */
import * as vscode from 'vscode';

const source = 'shoot spec';
const context = 'shootSpec.finishedSpec';

export function noticeFinished(): vscode.Disposable {
  const listener = vscode.languages.onDidChangeDiagnostics(({ uris }) => {
    const document = vscode.window.activeTextEditor?.document;
    if (document?.languageId !== 'shoot-spec' || !uris.some((uri) => uri.toString() === document.uri.toString()))
      return;
    if (!isFinished(document)) return;
    void vscode.commands.executeCommand('setContext', context, true);
    listener.dispose();
  });
  return listener;
}

function isFinished(document: vscode.TextDocument): boolean {
  const text = document.getText();
  const findings = vscode.languages.getDiagnostics(document.uri).filter((finding) => finding.source === source);
  const serious = findings.some((finding) => finding.severity <= vscode.DiagnosticSeverity.Warning);
  return !serious && /^shots:/m.test(text) && /^cut:/m.test(text);
}
