/** The command "New Shoot Spec...": asks what is not known yet of name, kit and region, writes the files and opens the spec. */
import * as vscode from 'vscode';
import type { BaseLanguageClient as LanguageClient } from 'vscode-languageclient';
import { countryHere } from '../server/features/country-here.ts';
import { fileName } from '../server/features/file-name.ts';
import { firstKit } from '../server/features/new-kit.ts';
import { mainsHzOf, regionTyped } from '../server/features/region.ts';
import { type Existing, existingIn } from './what-exists.ts';
import { exists, freePath, readText, write } from './new-files.ts';
import { describeKit, type KitFile, kitFile } from './new-kit.ts';
import { answered, ask, type Choice, choose, chooseFolder, untilPageSettles } from './questions.ts';

/** What a keyboard shortcut or another extension may say beforehand; only the rest is asked. */
export interface Answers {
  readonly title?: string;
  /** A kit's path from the folder, or `none`. */
  readonly kit?: string;
  readonly region?: string;
}

/** Without a text where the region has to be asked for. */
interface Written {
  readonly text?: string;
  /** Of a settings file that is to be written too. */
  readonly settings?: string;
}

export async function newSpec(client: LanguageClient, answers: Answers = {}): Promise<void> {
  await untilPageSettles();
  const title = answers.title ?? (await askTitle());
  if (!title) return;
  const folder = await chooseFolder();
  if (folder === undefined && vscode.workspace.workspaceFolders !== undefined) return;
  const kits = folder ? await kitsFor(client, folder.uri, answers) : [];
  if (!kits) return;
  const settings = folder && (await readText(settingsUri(folder.uri)));
  const withSettings = folder !== undefined && settings === undefined && !(await exists(settingsUri(folder.uri)));
  const make = (region: string | undefined) =>
    answered<Written>(client, 'shootSpec/newSpec', { title, kits, settings, withSettings, region });
  let made = await make(answers.region);
  if (made && made.text === undefined) {
    const region = await askRegion();
    made = region ? await make(region) : undefined;
  }
  if (made?.text !== undefined) await open(folder?.uri, title, made.text, made.settings, kits);
}

function askTitle(): Promise<string | undefined> {
  return ask({
    title: vscode.l10n.t('New shoot spec'),
    prompt: vscode.l10n.t('What is the film called?'),
    validateInput: (value) => (value.trim() === '' ? vscode.l10n.t('A film needs a name.') : undefined),
  });
}

// -- the kit -----------------------------------------------------------------------------------------------------------

/** A kit that may not be written yet. */
interface ChosenKit extends KitFile {
  readonly isNew?: boolean;
}

/** Undefined when a question was closed, or the checker did not answer; empty when no kit is wanted. */
async function kitsFor(
  client: LanguageClient,
  folder: vscode.Uri,
  { kit }: Answers,
): Promise<readonly ChosenKit[] | undefined> {
  if (kit !== undefined) return kit === 'none' ? [] : read(folder, [kit]);
  const begun = await existingIn(client, folder);
  if (!begun) return undefined;
  // What the settings name, or the only kit that there is, needs no question.
  const known = begun.usualKits.length > 0 ? begun.usualKits : begun.kits;
  return known.length === 1 || begun.usualKits.length > 0 ? read(folder, known) : askKit(folder, begun);
}

async function askKit(folder: vscode.Uri, { kits }: Existing): Promise<readonly ChosenKit[] | undefined> {
  const choices: Choice<'first' | 'own' | 'none' | { readonly path: string }>[] = [
    ...kits.map((path) => ({ label: path, answer: { path } })),
    ...(kits.length > 0
      ? []
      : [
          {
            label: vscode.l10n.t('A phone and one light panel'),
            detail: vscode.l10n.t('with ordinary numbers, to write over later'),
            answer: 'first' as const,
          },
        ]),
    {
      label: kits.length > 0 ? vscode.l10n.t('Other gear...') : vscode.l10n.t('My own gear...'),
      detail: vscode.l10n.t('three questions'),
      answer: 'own',
    },
    { label: vscode.l10n.t('No kit for now'), answer: 'none' },
  ];
  const placeHolder = vscode.l10n.t('Which gear is it filmed with?');
  const picked = await choose(choices, { title: vscode.l10n.t('New shoot spec'), placeHolder });
  if (picked === undefined || picked === 'none') return picked && [];
  if (typeof picked === 'object') return read(folder, [picked.path]);
  const described = picked === 'first' ? await kitFile(folder, firstKit) : await describeKit(folder);
  return described && [{ ...described, isNew: true }];
}

async function read(folder: vscode.Uri, paths: readonly string[]): Promise<ChosenKit[]> {
  const kits = await Promise.all(
    paths.map(async (path) => ({ path, text: await readText(vscode.Uri.joinPath(folder, path)) })),
  );
  return kits.flatMap(({ path, text }) => (text === undefined ? [] : [{ path, text }]));
}

// -- the region --------------------------------------------------------------------------------------------------------

async function askRegion(): Promise<string | undefined> {
  const answer = await ask({
    title: vscode.l10n.t('New shoot spec'),
    prompt: vscode.l10n.t('Where do you film? A country code such as DE, or the mains: 50 Hz or 60 Hz.'),
    value: countryHere() ?? '50 Hz',
    validateInput: (value) =>
      mainsHzOf(regionTyped(value)) === undefined
        ? vscode.l10n.t('Two letters for the country, or 50 Hz or 60 Hz. With two kinds of mains, both: JP 60 Hz.')
        : undefined,
  });
  return answer === undefined ? undefined : regionTyped(answer);
}

// -- the files ---------------------------------------------------------------------------------------------------------

function settingsUri(folder: vscode.Uri): vscode.Uri {
  return vscode.Uri.joinPath(folder, 'shootspec.yaml');
}

/** Writes what is new beside the others and opens the spec; without a folder it opens as a file not saved yet. */
async function open(
  folder: vscode.Uri | undefined,
  title: string,
  text: string,
  settings: string | undefined,
  kits: readonly ChosenKit[],
): Promise<void> {
  if (!folder) return show(await vscode.workspace.openTextDocument({ language: 'shoot-spec', content: text }));
  for (const { path, text: kit } of kits.filter(({ isNew }) => isNew))
    await write(vscode.Uri.joinPath(folder, path), kit);
  if (settings !== undefined) await write(settingsUri(folder), settings);
  const uri = vscode.Uri.joinPath(folder, await freePath(folder, fileName(title), '.shoot.yaml'));
  await write(uri, text);
  await show(await vscode.workspace.openTextDocument(uri));
}

/** With the first value selected that is surely another in the person's own film. */
async function show(document: vscode.TextDocument): Promise<void> {
  const size = /^product: \{ size: ([^,]+)/m.exec(document.getText());
  const end = size ? size.index + size[0].length : 0;
  const selection = new vscode.Range(document.positionAt(end - (size?.[1]?.length ?? 0)), document.positionAt(end));
  await vscode.window.showTextDocument(document, { preview: false, selection });
}
