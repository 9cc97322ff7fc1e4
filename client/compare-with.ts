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
  const from = with_ === 'saved' ? {} : { other: with_.toString() };
  const params = { textDocument: { uri: document.uri.toString() }, ...from };
  const answer = await answered<Answer | null>(client, 'shootSpec/compareWith', params);
  if (!answer) return;
  if ('message' in answer) return say(answer.message);
  await pages.show(pageNamed(vscode.l10n.t('{0} compared', nameOf(document.uri)), document.uri), answer.markdown);
}

async function askWhich(document: vscode.TextDocument): Promise<OtherPlan | undefined> {
  const plans = vscode.workspace.textDocuments.filter(
    (one) => one.languageId === document.languageId && one !== document && one.uri.scheme !== 'git',
  );
  const saved = { label: vscode.l10n.t('As it is saved'), answer: 'saved' as const };
  const choices: Choice<OtherPlan>[] = [
    ...(document.isDirty && !document.isUntitled ? [saved] : []),
    ...plans.map(({ uri }) => ({ label: nameOf(uri), description: vscode.workspace.asRelativePath(uri), answer: uri })),
  ];
  if (choices.length > 0) return choose(choices, { title: vscode.l10n.t('Compare with what?') });
  say(vscode.l10n.t('Open the other plan too: this one is as it is saved, and no other is open.'));
  return undefined;
}

function say(words: string): void {
  void vscode.window.showInformationMessage(words);
}
