/** Sets up the connection to the language server, which does all the checking in a process of its own. */
import * as vscode from 'vscode';
import { LanguageClient, TransportKind } from 'vscode-languageclient/node';
import type { ServerOptions } from 'vscode-languageclient/node';
import { clientOptions } from './client-options.ts';
import { ourDocuments } from './languages.ts';

export function createClient(context: vscode.ExtensionContext): LanguageClient {
  const module = context.asAbsolutePath('dist/server.cjs');
  const server: ServerOptions = {
    run: { module, transport: TransportKind.ipc },
    debug: { module, transport: TransportKind.ipc, options: { execArgv: ['--nolazy', '--inspect=6021'] } },
  };
  // In a folder that is not trusted no clip is opened.
  const options = clientOptions(ourDocuments, () => ({ trusted: vscode.workspace.isTrusted }));
  return new LanguageClient('shootSpec', 'Shoot Spec', server, options);
}
