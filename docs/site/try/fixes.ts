/** Fixes of a finding, as the server has tried them, and the texts that they make. */
import type { CodeAction, Diagnostic, TextEdit } from 'vscode-languageserver-types';
import { Text } from '@codemirror/state';
import { spanOf } from './places.ts';

export interface Fix {
  readonly title: string;
  /** By the address of the file. */
  readonly edits: readonly { readonly uri: string; readonly edits: readonly TextEdit[] }[];
}

type Ask = <T>(method: string, params: object) => Promise<T>;

/** Those that change text; the ones that accept the finding stand last, as the server has them. */
export async function fixesOf(ask: Ask, uri: string, diagnostic: Diagnostic): Promise<Fix[]> {
  const actions = await ask<CodeAction[]>('textDocument/codeAction', {
    textDocument: { uri },
    range: diagnostic.range,
    context: { diagnostics: [diagnostic], only: ['quickfix'], triggerKind: 1 },
  });
  return actions.filter((action) => isOf(action, diagnostic)).flatMap(({ title, edit }) => {
    const edits = (edit?.documentChanges ?? []).flatMap((change) =>
      'textDocument' in change ? [{ uri: change.textDocument.uri, edits: change.edits.filter(isPlain) }] : [],
    );
    return edits.length > 0 ? [{ title, edits }] : [];
  });
}

/** Others may stand at the same place; settings that work belong to all of them. */
function isOf({ diagnostics }: CodeAction, { code, message }: Diagnostic): boolean {
  return !diagnostics || diagnostics.some((one) => one.code === code && one.message === message);
}

function isPlain(edit: object): edit is TextEdit {
  return 'newText' in edit;
}

/** The changes of an editor for edits of the protocol. */
export function changesOf(text: string, edits: readonly TextEdit[]) {
  const doc = Text.of(text.split('\n'));
  return edits.map((edit) => ({ ...spanOf(doc, edit.range), insert: edit.newText }));
}
