/** What the connection to the language server is told, wherever that runs. */
import type * as vscode from 'vscode';
import type { LanguageClientOptions, Middleware } from 'vscode-languageclient';

/** @param more what the server begins with, beside what every server does */
export function clientOptions(
  documentSelector: LanguageClientOptions['documentSelector'],
  more: () => object,
): LanguageClientOptions {
  return {
    documentSelector,
    outputChannelName: 'Shoot Spec',
    // `shootSpec.checkRepo` is there before the server is, and `shootSpec/begin` starts a first spec.
    initializationOptions: () => ({ ownCommands: true, ...more() }),
    // Hovers quote the user's own files, so nothing in them may run a command.
    markdown: { isTrusted: false, supportHtml: false },
    middleware: { provideCompletionItem: thenAskAgain },
  };
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
