/** The panel of pictures in a real editor. What is inside its page is tried in tests/client/panel-page.test.ts. */
import * as assert from 'node:assert';
import * as vscode from 'vscode';
import { afterEach, describe, it } from 'mocha';
import { closeAll, replace, show, until, uriOf } from './help.ts';

const spec = 'music-box.shoot.yaml';

export function definePictureTests(): void {
  describe('the pictures beside the text', () => {
    afterEach(closeAll);
    it('open beside the spec, which keeps the keys', opens);
    it('follow the shot that the cursor is in', followsCursor);
    it('stay while the text is broken, and follow the cursor there', survivesBroken);
    it('show another spec when it comes to the front', followsEditor);
    it('come again from the server after it was restarted', survivesRestart);
    it('are written to a file, as a picture and as the sheet', saves);
  });
}

/** The panel is named after what it shows. */
function panel(): vscode.Tab | undefined {
  const tabs = vscode.window.tabGroups.all.flatMap((group) => group.tabs);
  return tabs.find(
    ({ input }) => input instanceof vscode.TabInputWebview && /shootSpec\.pictures$/.test(input.viewType),
  );
}

function shows(title: string): Promise<vscode.Tab> {
  const now = () => panel()?.label ?? 'no panel';
  return until(`the panel shows ${title}`, () => (now() === title ? panel() : undefined)).catch((error: Error) => {
    throw new Error(`${error.message}; it shows ${now()}`);
  });
}

async function open(): Promise<vscode.TextEditor> {
  const editor = await show(spec);
  moveTo(editor, 'title'); // The editor remembers where the cursor was.
  await vscode.commands.executeCommand('shootSpec.showPictures');
  return editor;
}

function moveTo(editor: vscode.TextEditor, words: string): void {
  const at = editor.document.positionAt(editor.document.getText().indexOf(words));
  editor.selection = new vscode.Selection(at, at);
}

async function opens(): Promise<void> {
  const editor = await open();
  const tab = await shows('whole: the set from above');
  assert.notStrictEqual(tab.group.viewColumn, editor.viewColumn);
  assert.strictEqual(vscode.window.activeTextEditor?.document, editor.document);
  await vscode.commands.executeCommand('shootSpec.showPictures');
  const all = vscode.window.tabGroups.all.flatMap((group) => group.tabs);
  assert.strictEqual(all.filter(({ input }) => input instanceof vscode.TabInputWebview).length, 1);
}

async function followsCursor(): Promise<void> {
  const editor = await open();
  await shows('whole: the set from above');
  moveTo(editor, 'turn: { by');
  await shows('turned: the set from above');
  moveTo(editor, '- { shot: whole');
  await shows('whole: the set from above');
  moveTo(editor, 'lamps:');
  await new Promise((resolve) => setTimeout(resolve, 500));
  await shows('whole: the set from above');
}

async function survivesBroken(): Promise<void> {
  const editor = await open();
  await shows('whole: the set from above');
  await replace(editor, 'title: Tinnabel', 'title: "Tinnabel');
  moveTo(editor, 'turn: { by');
  await shows('turned: the set from above');
}

async function followsEditor(): Promise<void> {
  const text = new TextDecoder().decode(await vscode.workspace.fs.readFile(uriOf(spec)));
  const other = text.replaceAll('turned', 'lifted').replaceAll('whole', 'alone');
  await vscode.workspace.fs.writeFile(uriOf('other.shoot.yaml'), new TextEncoder().encode(other));
  await open();
  await shows('whole: the set from above');
  await show('other.shoot.yaml');
  await shows('alone: the set from above');
  await show('kits/table.kit.yaml');
  await new Promise((resolve) => setTimeout(resolve, 500));
  await shows('alone: the set from above');
  await show(spec);
  await shows('whole: the set from above');
}

async function survivesRestart(): Promise<void> {
  const editor = await open();
  await shows('whole: the set from above');
  await vscode.commands.executeCommand('shootSpec.restart');
  moveTo(editor, 'turn: { by');
  await shows('turned: the set from above');
}

async function saves(): Promise<void> {
  await show(spec);
  const read = async (name: string) => new TextDecoder().decode(await vscode.workspace.fs.readFile(uriOf(name)));
  await vscode.commands.executeCommand('shootSpec.savePicture', {
    to: uriOf('frame.svg'),
    view: 'frame',
    shot: 'turned',
  });
  assert.match(await read('frame.svg'), /^<svg [^]*turned: the frame/);
  await vscode.commands.executeCommand('shootSpec.saveSheet', { to: uriOf('sheet.html') });
  assert.match(await read('sheet.html'), /^<!doctype html>[^]*Tinnabel music box, the comb/);
  await vscode.commands.executeCommand('shootSpec.saveSetPage', { to: uriOf('set.html') });
  assert.match(await read('set.html'), /^<!doctype html>[^]*Take made/);
  await vscode.commands.executeCommand('shootSpec.saveClientPlan', { to: uriOf('plan.html') });
  assert.match(await read('plan.html'), /^<!doctype html>[^]*What you get/);
  await vscode.commands.executeCommand('shootSpec.saveSheet', { to: uriOf('sheet.pdf') });
  assert.match(await read('sheet.pdf'), /^%PDF-/);
}
