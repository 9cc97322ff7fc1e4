/** What differs in a plan from what is saved of it, or from another open plan: a page beside the text shows it. */
import * as vscode from 'vscode';
import type { BaseLanguageClient as LanguageClient } from 'vscode-languageclient';
import { answered, type Choice, choose } from './questions.ts';
import { nameOf } from './files.ts';
import { pageNamed, type Pages } from './pages.ts';
import { specEditor } from './spec-editor.ts';

/** What a keyboard shortcut or another extension may say beforehand. */
export type OtherPlan = vscode.Uri | 'saved';

type Answer = { readonly markdown: string } | { readonly message: string };

export async function compareWith(client: LanguageClient, pages: Pages, other?: OtherPlan): Promise<void> {
  const document = specEditor()?.document;
  if (!document) return say(vscode.l10n.t('Open a shoot spec first: it is compared with another.'));
  const with_ = other ?? (await askWhich(document));
  if (with_ === undefined) return;
  // The checker reads an open text, and what was opened for it is closed by the editor.
  if (with_ !== 'saved') await vscode.workspace.openTextDocument(with_);
  const from = with_ === 'saved' ? {} : { other: with_.toString() };
  const params = { textDocument: { uri: document.uri.toString() }, ...from };
  const answer = await answered<Answer | null>(client, 'shootSpec/compareWith', params);
  if (!answer) return;
  if ('message' in answer) return say(answer.message);
  await pages.show(pageNamed(vscode.l10n.t('{0} compared', nameOf(document.uri)), document.uri), answer.markdown);
}

async function askWhich(document: vscode.TextDocument): Promise<OtherPlan | undefined> {
  const saved = { label: vscode.l10n.t('As it is saved'), answer: 'saved' as const };
  const choices: Choice<OtherPlan>[] = [
    ...(document.isDirty && !document.isUntitled ? [saved] : []),
    ...(await otherPlans(document)).map((uri) => ({ label: vscode.workspace.asRelativePath(uri), answer: uri })),
  ];
  if (choices.length > 0) return choose(choices, { title: vscode.l10n.t('Compare with what?') });
  say(vscode.l10n.t('There is no other plan in this folder, and this one is as it is saved.'));
  return undefined;
}

const mostPlans = 500;

/** Those that are open first. */
async function otherPlans({ uri: own, languageId }: vscode.TextDocument): Promise<vscode.Uri[]> {
  const open = vscode.workspace.textDocuments.filter(
    (one) => one.languageId === languageId && one.uri.scheme !== 'git',
  );
  const files = await vscode.workspace.findFiles('**/*.shoot.yaml', undefined, mostPlans);
  const known = new Map([...open.map(({ uri }) => uri), ...sorted(files)].map((uri) => [uri.toString(), uri]));
  known.delete(own.toString());
  return [...known.values()];
}

const sorted = (files: readonly vscode.Uri[]) => [...files].sort((a, b) => (a.path < b.path ? -1 : 1));

function say(words: string): void {
  void vscode.window.showInformationMessage(words);
}
