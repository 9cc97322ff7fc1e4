/**
 * Actions for a client that knows commands only, as in the first version of the protocol: each becomes a command of the
 * server's, which asks the client to make the edit. Edits that it takes carry no version, so the command does.
 */
import type { CodeAction, Command, WorkspaceEdit } from 'vscode-languageserver';
import type { OpenFile } from '../open-files.ts';
import { type Session, tell } from './session.ts';

export const applyCommand = 'shootSpec.apply';

export function asCommands(actions: readonly CodeAction[], { uri, version }: OpenFile): Command[] {
  return actions.flatMap(({ title, edit, command }) => {
    if (edit) return { title, command: applyCommand, arguments: [edit, uri, version] };
    return command ? { ...command, title } : [];
  });
}

export async function apply(session: Session, args: readonly unknown[]): Promise<void> {
  const [edit, uri, version] = args;
  if (edit === null || typeof edit !== 'object' || typeof uri !== 'string') return;
  if (session.file(uri)?.version === version) await session.connection.workspace.applyEdit(edit as WorkspaceEdit);
  else tell(session, 'The text has changed since this was offered, so nothing was changed. Ask again.');
}
