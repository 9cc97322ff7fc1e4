/** Files that the commands write: never over one that is there. */
import * as vscode from 'vscode';

export async function readText(uri: vscode.Uri): Promise<string | undefined> {
  try {
    return new TextDecoder().decode(await vscode.workspace.fs.readFile(uri));
  } catch {
    return undefined; // There is no such file.
  }
}

export function write(uri: vscode.Uri, text: string): Thenable<void> {
  return vscode.workspace.fs.writeFile(uri, new TextEncoder().encode(text));
}

/** A path from the folder that nothing has yet: a number is added until it is free. */
export async function freePath(folder: vscode.Uri, name: string, ending: string): Promise<string> {
  for (let count = 1; ; count++) {
    const path = `${name}${count > 1 ? `-${count}` : ''}${ending}`;
    if (!(await exists(vscode.Uri.joinPath(folder, path)))) return path;
  }
}

/** Is there something of that name? A link that leads nowhere is: it would be written through. */
export async function exists(uri: vscode.Uri): Promise<boolean> {
  try {
    await vscode.workspace.fs.stat(uri);
    return true;
  } catch {
    return false;
  }
}
