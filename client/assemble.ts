/** Puts the film of a plan together: the command line that is packed with the extension makes it, in a process of its own. */
import * as vscode from 'vscode';
import type { BaseLanguageClient as LanguageClient } from 'vscode-languageclient';
import { footageArgs, type Ran, runCommandLine, savedAll } from './command-line.ts';
import { askFor, baseName, nameOf, plainName } from './files.ts';
import { specEditor } from './spec-editor.ts';

/** What a keyboard shortcut or another extension may say beforehand; only the rest is asked. */
export interface FilmAnswers {
  readonly deliverable?: string;
  readonly isDraft?: boolean;
  readonly to?: vscode.Uri;
}

/** What the server knows of them. */
export interface Films {
  readonly films: readonly Film[];
  readonly howToGet?: string;
}

export interface Film {
  readonly name: string;
  readonly container: string;
  readonly raster?: string;
}

interface Wanted {
  readonly film: Film;
  readonly isDraft: boolean;
}

/** @param cli the command line that is packed with the extension */
export async function assembleFilm(client: LanguageClient, cli: string, answers: FilmAnswers = {}): Promise<void> {
  const spec = specEditor()?.document.uri;
  if (spec?.scheme !== 'file')
    return say(
      vscode.l10n.t('Open a shoot spec that is saved in a file first: the film is made from it and its takes.'),
    );
  if (!vscode.workspace.isTrusted) return say(vscode.l10n.t('Films are made once this folder is trusted.'));
  const known = await askFor<Films>(client, 'shootSpec/films', { uri: spec.toString() });
  if (!known) return say(vscode.l10n.t("The checker did not answer; its log says why ('Show the Checker's Log')."));
  const { films, howToGet } = known;
  if (howToGet !== undefined) {
    void vscode.window.showWarningMessage(
      vscode.l10n.t('Films are made by ffmpeg, which is not on the path. {0}', howToGet),
    );
    return;
  }
  if (films.length === 0)
    return say(vscode.l10n.t('This spec has no deliverable: `deliver` says what the film is to be.'));
  const wanted = await wantedOf(films, answers);
  const target = wanted && (answers.to ?? (await askWhere(spec, wanted, films)));
  if (!target) return;
  if (await savedAll()) await make(client, { cli, spec, target, ...wanted });
}

async function wantedOf(films: readonly Film[], answers: FilmAnswers): Promise<Wanted | undefined> {
  const named = films.find(({ name }) => name === answers.deliverable);
  if (named) return { film: named, isDraft: answers.isDraft ?? false };
  const items = films.flatMap((film) => [
    { label: film.name, description: film.raster ?? '', film, isDraft: false },
    { label: vscode.l10n.t('{0}, as a draft', film.name), description: draftSays(), film, isDraft: true },
  ]);
  return vscode.window.showQuickPick(items, { title: vscode.l10n.t('Which film is made?') });
}

function draftSays(): string {
  return vscode.l10n.t('half the size, and fast');
}

async function askWhere(spec: vscode.Uri, { film, isDraft }: Wanted, films: readonly Film[]) {
  const name = [baseName(spec.toString()), films.length > 1 && film.name, isDraft && 'draft'].filter(Boolean).join('-');
  return vscode.window.showSaveDialog({
    title: vscode.l10n.t('Where the film goes'),
    defaultUri: vscode.Uri.joinPath(spec, '..', `${plainName(name)}.${film.container}`),
    filters: { [vscode.l10n.t('Film')]: [film.container] },
  });
}

// -- making it -------------------------------------------------------------------------------------------------------

/** What the command line sends over its channel. */
interface HowFar {
  readonly done: number;
  readonly all: number;
  readonly leftS?: number;
}

interface ToMake extends Wanted {
  readonly cli: string;
  readonly spec: vscode.Uri;
  readonly target: vscode.Uri;
}

async function make(client: LanguageClient, what: ToMake): Promise<void> {
  const made = await vscode.window.withProgress(
    {
      location: vscode.ProgressLocation.Notification,
      title: vscode.l10n.t('Making {0}', nameOf(what.target)),
      cancellable: true,
    },
    (progress, cancelled) => run(what, progress, cancelled),
  );
  for (const line of made.said) client.info(line);
  if (made.isCancelled) return;
  if (!made.isDone) return tell(vscode.window.showErrorMessage, made.said.at(-1) ?? vscode.l10n.t('It was not made.'));
  await show(what.target);
  const [first] = made.said;
  if (first === undefined) vscode.window.setStatusBarMessage(vscode.l10n.t('Wrote {0}', nameOf(what.target)), 4000);
  else tell(vscode.window.showInformationMessage, made.said.length > 1 ? `${first} (+${made.said.length - 1})` : first);

  function tell(message: (words: string, ...items: string[]) => Thenable<string | undefined>, words: string): void {
    const log = vscode.l10n.t('Show the Log');
    void message(words, log).then((chosen) => chosen === log && client.outputChannel.show());
  }
}

function run(
  { cli, spec, target, film, isDraft }: ToMake,
  progress: vscode.Progress<{ message?: string; increment?: number }>,
  cancelled: vscode.CancellationToken,
): Promise<Ran> {
  const args = ['assemble', spec.fsPath, '--deliverable', film.name, '--output', target.fsPath, ...footageArgs()];
  if (isDraft) args.push('--draft');
  let shown = 0;
  return runCommandLine(cli, args, cancelled, (sent) => {
    const { done, all, leftS } = sent as HowFar;
    const percent = (100 * done) / all;
    const message =
      leftS === undefined
        ? vscode.l10n.t('{0} of {1} frames', done, all)
        : vscode.l10n.t('{0} of {1} frames, {2} s left', done, all, leftS);
    progress.report({ message, increment: percent - shown });
    shown = percent;
  });
}

/** In the editor where it plays such files, else where the system shows it. */
async function show(film: vscode.Uri): Promise<void> {
  const plays = /\.(mp4|webm)$/i.test(film.path);
  await vscode.commands.executeCommand(plays ? 'vscode.open' : 'revealFileInOS', film);
}

function say(words: string): void {
  void vscode.window.showInformationMessage(words);
}
