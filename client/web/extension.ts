/** What an editor in a browser calls: the checker runs in a worker, and what needs programs of a machine is left out. */
import * as vscode from 'vscode';
import { BrowserMessageReader, BrowserMessageWriter, LanguageClient } from 'vscode-languageclient/browser';
import {
  filesNotification,
  type Part,
  partRequest,
  type PartName,
  type ToldAtStart,
} from '../../server/browser/told.ts';
import { clientOptions } from '../client-options.ts';
import { documentsOf } from '../languages.ts';
import { registerShared } from '../shared.ts';
import { FilesToTell } from './files-to-tell.ts';

declare const Worker: new (address: string) => ConstructorParameters<typeof BrowserMessageReader>[0];

let client: LanguageClient | undefined;

export function activate(context: vscode.ExtensionContext): void {
  // Hides what can't be done here.
  void vscode.commands.executeCommand('setContext', 'shootSpec.isInBrowser', true);
  const schemes = (vscode.workspace.workspaceFolders ?? []).map(({ uri }) => uri.scheme);
  const documents = documentsOf([...new Set([...schemes, 'file', 'untitled'])]);
  const inPackage = (path: string) => vscode.Uri.joinPath(context.extensionUri, path);
  const files = new FilesToTell();
  let told: ToldAtStart = { files: [] };
  const server = async () => {
    // The server knows them before the first text that may name them.
    told = { files: await files.all(), texts: await translations(inPackage) };
    // The editor's own kind of worker, which the library would not know as one.
    const worker = new Worker(inPackage('dist/web-server.js').toString(true));
    return { reader: new BrowserMessageReader(worker), writer: new BrowserMessageWriter(worker) };
  };
  const options = clientOptions(documents, () => told);
  const started = new LanguageClient('shootSpec', 'Shoot Spec', server, options);
  client = started;
  registerShared(context, started, { documents, makesPdf: false });
  context.subscriptions.push(
    files,
    files.onNews((news) => started.isRunning() && started.sendNotification(filesNotification, news)),
    started.onRequest(partRequest, ({ name }: { name: PartName }) => part(inPackage(`dist/${name}`))),
  );
  void started.start().catch(() => undefined);
}

export async function deactivate(): Promise<void> {
  await client?.stop();
}

async function part(uri: vscode.Uri): Promise<Part> {
  return { address: uri.toString(), text: await textOf(uri) };
}

/** Those of the editor's language, for `pt-br` those of `pt` where there are no others. */
async function translations(inPackage: (path: string) => vscode.Uri): Promise<unknown> {
  const parts = vscode.env.language.toLowerCase().split('-');
  for (let count = parts.length; count > 0; count--) {
    const name = parts.slice(0, count).join('-');
    try {
      return name === 'en' ? undefined : JSON.parse(await textOf(inPackage(`l10n/findings.${name}.json`)));
    } catch {
      // Nobody has made it.
    }
  }
  return undefined;
}

async function textOf(uri: vscode.Uri): Promise<string> {
  return new TextDecoder().decode(await vscode.workspace.fs.readFile(uri));
}
