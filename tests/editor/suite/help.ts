/** Small helpers for tests inside an extension host. */
import * as assert from 'node:assert';
import * as vscode from 'vscode';

const source = 'shoot spec';

export function uriOf(path: string): vscode.Uri {
  const folder = vscode.workspace.workspaceFolders?.[0];
  assert.ok(folder, 'a folder is open');
  return vscode.Uri.joinPath(folder.uri, path);
}

export async function show(path: string): Promise<vscode.TextEditor> {
  return vscode.window.showTextDocument(await vscode.workspace.openTextDocument(uriOf(path)), { preview: false });
}

export function findings(uri: vscode.Uri): vscode.Diagnostic[] {
  return vscode.languages.getDiagnostics(uri).filter((finding) => finding.source === source);
}

export function errors(uri: vscode.Uri): vscode.Diagnostic[] {
  return findings(uri).filter((finding) => finding.severity === vscode.DiagnosticSeverity.Error);
}

/** Waits until a question has an answer, and fails with its name when it gets none in time. */
export async function until<T>(what: string, ask: () => T | undefined | false, limitMs = 15_000): Promise<T> {
  const end = Date.now() + limitMs;
  while (Date.now() < end) {
    const answer = ask();
    if (answer !== undefined && answer !== false) return answer;
    await new Promise((resolve) => setTimeout(resolve, 25));
  }
  throw new Error(`not within ${limitMs / 1000} s: ${what}`);
}

/** The findings once the checker has spoken about a file and has then been silent for a moment. */
export async function settled(uri: vscode.Uri, quietMs = 600): Promise<vscode.Diagnostic[]> {
  let last = Date.now();
  const listener = vscode.languages.onDidChangeDiagnostics((event) => {
    if (event.uris.some((changed) => changed.toString() === uri.toString())) last = Date.now();
  });
  await until('findings that no longer change', () => Date.now() - last > quietMs);
  listener.dispose();
  return findings(uri);
}

/** Replaces the first place where `before` stands, as typing would. */
export async function replace(editor: vscode.TextEditor, before: string, after: string): Promise<void> {
  const { document } = editor;
  const start = document.getText().indexOf(before);
  assert.ok(start >= 0, `\`${before}\` stands in the file`);
  const range = new vscode.Range(document.positionAt(start), document.positionAt(start + before.length));
  assert.ok(await editor.edit((edit) => edit.replace(range, after)));
}

export async function closeAll(): Promise<void> {
  await vscode.commands.executeCommand('workbench.action.files.revert');
  await vscode.commands.executeCommand('workbench.action.closeAllEditors');
}
