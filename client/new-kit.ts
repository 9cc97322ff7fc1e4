/** The command "New Kit...": three questions, and a kit that works at once, with ordinary numbers to write over. */
import * as vscode from 'vscode';
import {
  type KitAnswers,
  kitName,
  newKitSnippet,
  newKitText,
  sensorTyped,
  usualSensor,
} from '../server/features/new-kit.ts';
import { freePath, write } from './new-files.ts';
import { ask, choose, chooseFolder, untilPageSettles } from './questions.ts';

export interface KitFile {
  /** From the folder. */
  readonly path: string;
  readonly text: string;
}

/** @param answers what a keyboard shortcut or another extension says beforehand; only the rest is asked */
export async function newKit(answers: Partial<KitAnswers> = {}): Promise<void> {
  await untilPageSettles();
  const folder = await chooseFolder();
  if (folder === undefined && vscode.workspace.workspaceFolders !== undefined) return;
  const kit = await describeKit(folder?.uri, answers);
  if (!kit) return;
  const { openTextDocument } = vscode.workspace;
  const document = folder
    ? await openTextDocument(await written(folder.uri, kit))
    : await openTextDocument({ language: 'shoot-kit', content: kit.text });
  const editor = await vscode.window.showTextDocument(document, { preview: false });
  const whole = new vscode.Range(document.positionAt(0), document.positionAt(kit.text.length));
  await editor.insertSnippet(new vscode.SnippetString(newKitSnippet(kit.text)), whole);
  if (folder) await document.save();
}

/** Nothing is written yet, so that a question that is closed leaves nothing behind. */
export async function describeKit(
  folder: vscode.Uri | undefined,
  answers: Partial<KitAnswers> = {},
): Promise<KitFile | undefined> {
  const camera = answers.camera ?? (await askCamera());
  const sensor = camera && (answers.sensor ?? (await askSensor(camera)));
  const light = sensor && (answers.light ?? (await askLight()));
  return camera && sensor && light ? kitFile(folder, { camera, sensor, light }) : undefined;
}

export async function kitFile(folder: vscode.Uri | undefined, answers: KitAnswers): Promise<KitFile> {
  const [name, ending] = [`kits/${kitName(answers)}`, '.kit.yaml'];
  return { path: folder ? await freePath(folder, name, ending) : name + ending, text: newKitText(answers) };
}

async function written(folder: vscode.Uri, { path, text }: KitFile): Promise<vscode.Uri> {
  const uri = vscode.Uri.joinPath(folder, path);
  await write(uri, text);
  return uri;
}

function askCamera(): Promise<KitAnswers['camera'] | undefined> {
  return choose<KitAnswers['camera']>(
    [
      { label: vscode.l10n.t('A phone'), answer: 'phone' },
      { label: vscode.l10n.t('A camera with a zoom lens'), answer: 'zoom' },
      { label: vscode.l10n.t('A camera with a lens that does not zoom'), answer: 'prime' },
    ],
    { title: title(1), placeHolder: vscode.l10n.t('What do you film with?') },
  );
}

async function askSensor(camera: KitAnswers['camera']): Promise<string | undefined> {
  const answer = await ask({
    title: title(2),
    prompt: vscode.l10n.t(
      'How large is its sensor, wide x high? The data sheet says it. An ordinary size stands here.',
    ),
    value: usualSensor[camera],
    validateInput: (text) =>
      sensorTyped(text) === undefined ? vscode.l10n.t('Width x height in millimetres: 23.5 x 15.6 mm.') : undefined,
  });
  return answer === undefined ? undefined : sensorTyped(answer);
}

function askLight(): Promise<KitAnswers['light'] | undefined> {
  return choose<KitAnswers['light']>(
    [
      { label: vscode.l10n.t('A light panel'), answer: 'panel' },
      { label: vscode.l10n.t('A lamp with an ordinary bulb'), answer: 'bulb' },
      { label: vscode.l10n.t('Daylight, no lamp'), answer: 'none' },
    ],
    { title: title(3), placeHolder: vscode.l10n.t('What lights the product?') },
  );
}

function title(step: number): string {
  return vscode.l10n.t('New kit ({0} of 3)', step);
}
