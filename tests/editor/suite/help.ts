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

/** The rule of a finding, whether or not its page is linked. */
export function ruleOf({ code }: vscode.Diagnostic): string {
  return String(typeof code === 'object' ? code.value : code);
}

/** Waits until a question has an answer, and fails with its name when it gets none in time. */
export async function until<T>(what: string, ask: () => T | undefined | false, limitMs = 60_000): Promise<T> {
  const end = Date.now() + limitMs;
  while (Date.now() < end) {
    const answer = ask();
    if (answer !== undefined && answer !== false) return answer;
    await new Promise((resolve) => setTimeout(resolve, 25));
  }
  throw new Error(`not within ${limitMs / 1000} s: ${what}`);
}

/** The findings of a text that has surely been checked: a key that means nothing is put at its end, and found with them. */
export async function checked({ document, edit }: vscode.TextEditor): Promise<vscode.Diagnostic[]> {
  const key = 'nonsense';
  const isOurs = (finding: vscode.Diagnostic): boolean => document.getText(finding.range) === key;
  const end = document.lineAt(document.lineCount - 1).range.end;
  assert.ok(await edit((change) => change.insert(end, `\n${key}: 1\n`)));
  const found = await until(`a finding at \`${key}\``, () => {
    const all = findings(document.uri);
    return all.some(isOurs) && all.filter((finding) => !isOurs(finding));
  });
  await vscode.commands.executeCommand('undo');
  return found;
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
