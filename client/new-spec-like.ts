/** The command "New Shoot Spec Like This One": asks what is another in the new film, and writes it beside the old one. */
import * as vscode from 'vscode';
import type { BaseLanguageClient as LanguageClient } from 'vscode-languageclient';
import { fileName } from '../server/features/file-name.ts';
import { freePath, write } from './new-files.ts';
import { answered, ask } from './questions.ts';
import { nameOf } from './files.ts';
import { specEditor } from './spec-editor.ts';

/** What is answered beforehand is not asked. */
export interface LikeAnswers {
  readonly title?: string;
  readonly client?: string;
  readonly size?: string;
  readonly day?: string;
}

interface OldFilm {
  readonly client?: string;
  readonly size?: string;
  readonly day?: string;
}

interface Made {
  readonly text: string;
  /** What still names the old film's things, in words. */
  readonly stillOld: readonly string[];
}

export async function newSpecLike(client: LanguageClient, answers: LikeAnswers = {}): Promise<void> {
  const document = specEditor()?.document;
  if (!document) {
    void vscode.window.showInformationMessage(
      vscode.l10n.t('Open a spec first: a file whose name ends in .shoot.yaml.'),
    );
    return;
  }
  const textDocument = { uri: document.uri.toString() };
  const old = await answered<OldFilm | null>(client, 'shootSpec/oldFilm', { textDocument });
  if (!old) return;
  const asked = await askedAnew(nameOf(document.uri), old, answers);
  const made = asked && (await answered<Made | null>(client, 'shootSpec/newSpecLike', { textDocument, asked }));
  if (!asked || !made) return;
  await show(await opened(document, asked.title, made.text));
  if (made.stillOld.length > 0)
    void vscode.window.showInformationMessage(
      vscode.l10n.t('Still as in the old film: {0}.', made.stillOld.join('; ')),
    );
}

/** Undefined when a question was closed. */
async function askedAnew(
  oldName: string,
  old: OldFilm,
  answers: LikeAnswers,
): Promise<(LikeAnswers & { title: string }) | undefined> {
  const question = (prompt: string, value = '', form = /\S/): Promise<string | undefined> =>
    ask({
      title: vscode.l10n.t('New shoot spec like {0}', oldName),
      prompt,
      value,
      validateInput: (typed) =>
        form.test(typed.trim())
          ? undefined
          : vscode.l10n.t('It is written like this: {0}', value || 'Oak spinning top'),
    });
  const title = answers.title ?? (await question(vscode.l10n.t('What is the film called?')));
  if (!title) return undefined;
  const rest: [keyof OldFilm, string, RegExp][] = [
    ['client', vscode.l10n.t('Who is it for?'), /\S/],
    ['size', vscode.l10n.t('How large is the product, wide x deep x high?'), sizeForm],
    [
      'day',
      vscode.l10n.t('What is the first day of shooting? All days of the plan move with it.'),
      /^\d{4}-\d\d-\d\d$/,
    ],
  ];
  const made: { title: string; client?: string; size?: string; day?: string } = { title };
  for (const [key, prompt, form] of rest) {
    const was = old[key];
    if (was === undefined) continue;
    const answer = answers[key] ?? (await question(prompt, was, form));
    if (answer === undefined) return undefined;
    made[key] = answer;
  }
  return made;
}

const sizeForm = /^\d+(\.\d+)? x \d+(\.\d+)? x \d+(\.\d+)? (mm|cm|m)$/;

/** In the folder of the old one; of one that is saved nowhere the new one is not either. */
async function opened({ uri }: vscode.TextDocument, title: string, text: string): Promise<vscode.TextDocument> {
  if (uri.scheme === 'untitled') return vscode.workspace.openTextDocument({ language: 'shoot-spec', content: text });
  const folder = vscode.Uri.joinPath(uri, '..');
  const file = vscode.Uri.joinPath(folder, await freePath(folder, fileName(title), '.shoot.yaml'));
  await write(file, text);
  return vscode.workspace.openTextDocument(file);
}

async function show(document: vscode.TextDocument): Promise<void> {
  await vscode.window.showTextDocument(document, { preview: false });
}
