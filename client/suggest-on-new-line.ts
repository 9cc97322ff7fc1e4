/**
 * Opens the list by itself on a new line inside a block, where otherwise only a letter would. Nothing in it is chosen.
 * After Enter, Tab still indents: the key's binding looks at the context that is set here. A line that came with its key
 * from the list is indented already, so there Tab takes what is offered.
 */
import * as vscode from 'vscode';
import { languageIds } from './languages.ts';

const openedContext = 'shootSpec.openedOnNewLine';

export function suggestOnNewLine(): vscode.Disposable {
  let isNew = false;
  let cameWithKey = false;
  let isOpened = false;
  const noteOpened = (now: boolean) => {
    if (now !== isOpened) void vscode.commands.executeCommand('setContext', openedContext, now);
    isOpened = now;
  };
  return vscode.Disposable.from(
    vscode.workspace.onDidChangeTextDocument(({ document, contentChanges, reason }) => {
      if (contentChanges.length === 0 || document !== vscode.window.activeTextEditor?.document) return;
      isNew = reason === undefined && isOurs(document) && contentChanges.some(({ text }) => startsLine(text));
      cameWithKey = contentChanges.some(({ text }) => /:\n *(?:- )?$/.test(text));
      if (!isNew) noteOpened(false);
    }),
    // Comes after the change, and tells where the cursor went with it.
    vscode.window.onDidChangeTextEditorSelection(({ textEditor: { document }, selections: [at, other] }) => {
      if (!isNew || document !== vscode.window.activeTextEditor?.document) return;
      isNew = false;
      const wanted = other === undefined && at!.isEmpty && isOpen(document, at!.active);
      noteOpened(wanted && !cameWithKey);
      if (wanted) void vscode.commands.executeCommand('editor.action.triggerSuggest', { auto: true });
    }),
  );
}

function isOurs(document: vscode.TextDocument): boolean {
  const suggests = vscode.workspace.getConfiguration('editor', document).get('suggestOnTriggerCharacters');
  return languageIds.includes(document.languageId) && suggests !== false;
}

/** Enter with its indentation, Tab, or a key that was taken with the line below it. */
function startsLine(text: string): boolean {
  return /\n *(?:- )?$|^ {2,}$/.test(text);
}

/** Indented, with nothing but the dash of an item. At the margin one often leaves a line empty. */
function isOpen(document: vscode.TextDocument, { line, character }: vscode.Position): boolean {
  const { text } = document.lineAt(line);
  return character === text.length && /^ +$|^ *- +$/.test(text);
}
