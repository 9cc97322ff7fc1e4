/** The command "New Shoot Spec...": asks for a name, a kit and a region, writes the file and opens it. */
import * as vscode from 'vscode';
import type { LanguageClient } from 'vscode-languageclient/node';
import { firstKitText, mainsHzOf } from '../server/features/newSpec.ts';

const firstKitPath = 'kits/phone.kit.yaml';

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
}

export async function newSpec(client: LanguageClient, answers: Answers = {}): Promise<void> {
  const title = answers.title ?? (await askTitle());
  if (title === undefined) return;
  const folder = await chooseFolder();
  if (folder === undefined && vscode.workspace.workspaceFolders !== undefined) return;
  const kit = answers.kit === undefined ? await askKit(folder) : await readKit(folder, answers.kit);
  if (kit === undefined) return;
  const settings = folder && (await readText(vscode.Uri.joinPath(folder.uri, 'shootspec.yaml')));
  const write = (region: string | undefined) =>
    client.sendRequest<Written>('shootSpec/newSpec', { title, kit: kit.file, settings, region });
  let { text } = await write(answers.region);
  if (text === undefined) {
    const region = await askRegion();
    if (region !== undefined) ({ text } = await write(region));
  }
  if (text !== undefined) await open(folder, title, text);
}

async function askTitle(): Promise<string | undefined> {
  const title = await vscode.window.showInputBox({
    title: vscode.l10n.t('New shoot spec'),
    prompt: vscode.l10n.t('What is the film called?'),
    validateInput: (value) => (value.trim() === '' ? vscode.l10n.t('A film needs a name.') : undefined),
  });
  return title?.trim();
}

async function chooseFolder(): Promise<vscode.WorkspaceFolder | undefined> {
  const folders = vscode.workspace.workspaceFolders ?? [];
  return folders.length > 1 ? vscode.window.showWorkspaceFolderPick() : folders[0];
}

interface KitItem extends vscode.QuickPickItem {
  readonly answer?: 'first' | 'none' | vscode.Uri;
}

interface ChosenKit {
  readonly file?: { readonly path: string; readonly text: string };
}

/** Undefined when the question was closed; without `file` when no kit is wanted. */
async function askKit(folder: vscode.WorkspaceFolder | undefined): Promise<ChosenKit | undefined> {
  if (!folder) return {};
  const found = await vscode.workspace.findFiles(new vscode.RelativePattern(folder, '**/*.kit.yaml'), undefined, 200);
  const pathOf = (uri: vscode.Uri): string => uri.path.slice(folder.uri.path.length).replace(/^\//, '');
  const items: KitItem[] = found
    .map((uri) => ({ label: pathOf(uri), answer: uri }))
    .sort((a, b) => a.label.localeCompare(b.label));
  const firstKit = vscode.Uri.joinPath(folder.uri, firstKitPath);
  if (!found.some((uri) => uri.path === firstKit.path)) {
    items.push({
      label: vscode.l10n.t('Write a first kit: a phone and one lamp'),
      detail: firstKitPath,
      answer: 'first',
    });
  }
  items.push({ label: vscode.l10n.t('No kit for now'), answer: 'none' });
  const picked = await vscode.window.showQuickPick(items, {
    title: vscode.l10n.t('New shoot spec'),
    placeHolder: vscode.l10n.t('Which gear is it filmed with?'),
  });
  if (!picked?.answer) return undefined;
  if (picked.answer === 'none') return {};
  if (picked.answer !== 'first') return readKit(folder, pathOf(picked.answer));
  if (!(await exists(firstKit))) {
    await vscode.workspace.fs.writeFile(firstKit, new TextEncoder().encode(firstKitText));
  }
  return readKit(folder, firstKitPath);
}

async function readKit(folder: vscode.WorkspaceFolder | undefined, path: string): Promise<ChosenKit> {
  if (!folder || path === 'none') return {};
  const text = await readText(vscode.Uri.joinPath(folder.uri, path));
  return text === undefined ? {} : { file: { path, text } };
}

async function askRegion(): Promise<string | undefined> {
  const answer = await vscode.window.showInputBox({
    title: vscode.l10n.t('New shoot spec'),
    prompt: vscode.l10n.t('Where do you film? A country code such as DE, or the mains: 50 Hz or 60 Hz.'),
    value: '50 Hz',
    validateInput: (value) =>
      mainsHzOf(value.trim()) === undefined
        ? vscode.l10n.t(
            'Two capital letters for the country, or 50 Hz or 60 Hz. With two kinds of mains, both: JP 60 Hz.',
          )
        : undefined,
  });
  return answer?.trim();
}

async function readText(uri: vscode.Uri): Promise<string | undefined> {
  try {
    return new TextDecoder().decode(await vscode.workspace.fs.readFile(uri));
  } catch {
    return undefined; // There is no such file: nothing is settled there.
  }
}

/** Writes the file beside the others and opens it; without a folder it opens as a file not saved yet. */
async function open(folder: vscode.WorkspaceFolder | undefined, title: string, text: string): Promise<void> {
  const document = folder
    ? await vscode.workspace.openTextDocument(await writeNew(folder.uri, fileName(title), text))
    : await vscode.workspace.openTextDocument({ language: 'shoot-spec', content: text });
  await vscode.window.showTextDocument(document);
}

/** `Clay bird, no. 2` as `clay-bird-no-2`. */
function fileName(title: string): string {
  const plain = title.normalize('NFKD').replace(/\p{M}/gu, '').toLowerCase();
  return plain.replace(/[^a-z0-9]+/g, '-').replace(/^-|-$/g, '') || 'film';
}

/** Never writes over a file: a number is added until the name is free. */
async function writeNew(folder: vscode.Uri, name: string, text: string): Promise<vscode.Uri> {
  for (let count = 1; ; count++) {
    const uri = vscode.Uri.joinPath(folder, `${name}${count > 1 ? `-${count}` : ''}.shoot.yaml`);
    if (await exists(uri)) continue;
    await vscode.workspace.fs.writeFile(uri, new TextEncoder().encode(text));
    return uri;
  }
}

async function exists(uri: vscode.Uri): Promise<boolean> {
  try {
    await vscode.workspace.fs.stat(uri);
    return true;
  } catch {
    return false;
  }
}
