/** Hands a film over to another program: asks as what, of which deliverable and where to; the packed command line writes it. */
import * as vscode from 'vscode';
import type { BaseLanguageClient as LanguageClient } from 'vscode-languageclient';
import { endings, type KindName } from '../server/hand-over/kind-names.ts';
import type { Films } from './assemble.ts';
import { footageArgs, runCommandLine, savedAll } from './command-line.ts';
import { askFor, baseName, nameOf, plainName } from './files.ts';
import { specEditor } from './spec-editor.ts';

/** What a keyboard shortcut or another extension may say beforehand; only the rest is asked. */
export interface HandOverAnswers {
  readonly as?: KindName;
  /** Which table, of `csv`. */
  readonly what?: string;
  readonly deliverable?: string;
  readonly to?: vscode.Uri;
}

interface Wanted extends vscode.QuickPickItem {
  readonly as: KindName;
  readonly what?: string | undefined;
}

/** @param cli the command line that is packed with the extension */
export async function handOver(client: LanguageClient, cli: string, answers: HandOverAnswers = {}): Promise<void> {
  const spec = specEditor()?.document.uri;
  if (spec?.scheme !== 'file') return say(vscode.l10n.t('Open a shoot spec that is saved in a file first.'));
  if (!vscode.workspace.isTrusted) return say(vscode.l10n.t('Films are handed over once this folder is trusted.'));
  const wanted = answers.as ? { label: '', as: answers.as, what: answers.what } : await askAs();
  if (!wanted) return;
  const deliverable = ofOneDeliverable.has(wanted.as) ? await deliverableOf(client, spec, answers) : '';
  if (deliverable === undefined) return;
  const name = [baseName(spec.toString()), deliverable, wanted.what].filter(Boolean).join('-');
  const target = answers.to ?? (await askWhere(spec, plainName(name), wanted.as));
  if (!target || !(await savedAll())) return;
  const args = ['hand-over', spec.fsPath, '--as', wanted.as, '--output', target.fsPath, ...footageArgs()];
  if (deliverable !== '') args.push('--deliverable', deliverable);
  if (wanted.what !== undefined) args.push('--what', wanted.what);
  const { isDone, said } = await runCommandLine(cli, args);
  for (const line of said) client.info(line);
  if (!isDone) void vscode.window.showErrorMessage(said.at(-1) ?? vscode.l10n.t('It was not written.'));
  else say([vscode.l10n.t('Wrote {0}', nameOf(target)), ...said.slice(0, 2)].join('. '));
}

const ofOneDeliverable: ReadonlySet<KindName> = new Set(['otio', 'edl', 'webvtt']);

function askAs(): Thenable<Wanted | undefined> {
  const items: Wanted[] = [
    { as: 'otio', label: vscode.l10n.t('The cut for an editing program'), description: 'OpenTimelineIO' },
    { as: 'edl', label: vscode.l10n.t('The cut for an older editing program'), description: 'CMX 3600' },
    { as: 'webvtt', label: vscode.l10n.t('Captions'), description: 'WebVTT' },
    { as: 'calendar', label: vscode.l10n.t('Days and dates for a calendar'), description: 'iCalendar' },
    { as: 'csv', what: 'shots', label: vscode.l10n.t('A table of the shots'), description: 'CSV' },
    { as: 'csv', what: 'packing', label: vscode.l10n.t('A table of what to pack'), description: 'CSV' },
    { as: 'csv', what: 'takes', label: vscode.l10n.t('A table of the takes'), description: 'CSV' },
    { as: 'json', label: vscode.l10n.t('All numbers for a script'), description: 'JSON' },
  ];
  return vscode.window.showQuickPick(items, { title: vscode.l10n.t('What is handed over?'), matchOnDescription: true });
}

/** Undefined where the question was closed, or there is none. */
async function deliverableOf(client: LanguageClient, spec: vscode.Uri, { deliverable }: HandOverAnswers) {
  if (deliverable !== undefined) return deliverable;
  const known = await askFor<Films>(client, 'shootSpec/films', { uri: spec.toString() });
  const names = known?.films.map(({ name }) => name) ?? [];
  if (names.length > 1) return vscode.window.showQuickPick(names, { title: vscode.l10n.t('Of which film?') });
  if (names.length === 0) say(vscode.l10n.t('This spec has no deliverable: `deliver` says what the film is to be.'));
  return names[0];
}

function askWhere(spec: vscode.Uri, name: string, as: KindName): Thenable<vscode.Uri | undefined> {
  const ending = endings[as].slice(1);
  return vscode.window.showSaveDialog({
    title: vscode.l10n.t('Where it goes'),
    defaultUri: vscode.Uri.joinPath(spec, '..', `${name}.${ending}`),
    filters: { [ending.toUpperCase()]: [ending] },
  });
}

function say(words: string): void {
  void vscode.window.showInformationMessage(words);
}
