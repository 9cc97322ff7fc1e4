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
    // Hovers quote the user's own files, so nothing in them may run a command.
    markdown: { isTrusted: false, supportHtml: false },
    middleware: { provideCompletionItem: thenAskAgain },
  };
  return new LanguageClient('shootSpec', 'Shoot Spec', server, options);
}

/** After a key its value is wanted, so the list opens again for it. Editors do that by a command, which no server can know. */
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
    if (item.data?.more) item.command = { command: 'editor.action.triggerSuggest', title: '' };
  return found;
};

/** Stops the server if it runs, and starts it afresh. */
export async function restart(client: LanguageClient): Promise<void> {
  try {
    await (client.isRunning() ? client.restart() : client.start());
  } catch (error) {
    client.error(vscode.l10n.t('The checker did not start again.'), error, 'force');
  }
}
