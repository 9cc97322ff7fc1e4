/** Sets up the connection to the language server, which does all the checking in a process of its own. */
import * as vscode from 'vscode';
import { LanguageClient, TransportKind } from 'vscode-languageclient/node';
import type { LanguageClientOptions, Middleware, ServerOptions } from 'vscode-languageclient/node';
import { ourDocuments } from './languages.ts';

export function createClient(context: vscode.ExtensionContext): LanguageClient {
  const module = context.asAbsolutePath('dist/server.cjs');
  const server: ServerOptions = {
    run: { module, transport: TransportKind.ipc },
    debug: { module, transport: TransportKind.ipc, options: { execArgv: ['--nolazy', '--inspect=6021'] } },
  };
  const options: LanguageClientOptions = {
    documentSelector: ourDocuments,
    outputChannelName: 'Shoot Spec',
    // `shootSpec.checkRepo` is there before the server is, and `shootSpec/begin` starts a first spec.
    // In a folder that is not trusted no clip is opened.
    initializationOptions: () => ({ ownCommands: true, trusted: vscode.workspace.isTrusted }),
    // Hovers quote the user's own files, so nothing in them may run a command.
    markdown: { isTrusted: false, supportHtml: false },
    middleware: { provideCompletionItem: thenAskAgain },
  };
  return new LanguageClient('shootSpec', 'Shoot Spec', server, options);
}

/**
 * After a key its value is wanted, so the list opens again for it, as by itself: nothing in it is chosen. Editors do
 * that by a command, which no server can know.
 */
const thenAskAgain: NonNullable<Middleware['provideCompletionItem']> = async (
  document,
  position,
  context,
  token,
  next,
) => {
  const found = await next(document, position, context, token);
  const items = Array.isArray(found) ? found : (found?.items ?? []);
  for (const item of items as (vscode.CompletionItem & { data?: { more?: boolean } })[])
    if (item.data?.more)
      item.command = { command: 'editor.action.triggerSuggest', title: '', arguments: [{ auto: true }] };
  return found;
};

/** A command of the server's that is there before the server is. */
export function checkRepo(client: LanguageClient): Promise<unknown> {
  return client.sendRequest('workspace/executeCommand', { command: 'shootSpec.checkRepo', arguments: [] });
}

/** Stops the server if it runs, and starts it afresh. */
export async function restart(client: LanguageClient): Promise<void> {
  try {
    await (client.isRunning() ? client.restart() : client.start());
  } catch (error) {
    client.error(vscode.l10n.t('The checker did not start again.'), error, 'force');
  }
}
