/** Wires drafts of papers to the protocol: an action that writes a new file, and shows it. */
import { type CodeAction, CodeActionKind } from 'vscode-languageserver';
import type { Range } from '../core/document/node.ts';
import { draftsAt } from '../features/draft-paper.ts';
import { oneLine } from '../formats/escape.ts';
import { type OpenChecked, type Session } from './session.ts';

/** Shows a draft that its action has just written. */
export const showDraftCommand = 'shootSpec.showDraft';

/** None for a client that can't make files. */
export function paperActions({ client }: Session, { current, target }: OpenChecked, asked: Range): CodeAction[] {
  const { documentChanges, resourceOperations } = client.workspace?.workspaceEdit ?? {};
  if (!documentChanges || !resourceOperations?.includes('create')) return [];
  const shows = client.window?.showDocument?.support === true;
  return draftsAt(current.result, asked).map(({ title, path, text }) => {
    const uri = target.uriOf(path);
    const start = { line: 0, character: 0 };
    return {
      title: oneLine(title),
      kind: CodeActionKind.QuickFix,
      edit: {
        documentChanges: [
          { kind: 'create', uri },
          { textDocument: { uri, version: null }, edits: [{ range: { start, end: start }, newText: text }] },
        ],
      },
      ...(shows && { command: { title: '', command: showDraftCommand, arguments: [uri] } }),
    };
  });
}

export function showDraft({ connection }: Session, [uri]: readonly unknown[]): void {
  if (typeof uri === 'string' && uri.endsWith('.draft.md'))
    void connection.window.showDocument({ uri, takeFocus: true });
}
