/** A film made from the editor. How it is made is tried in tests/film. */
import * as assert from 'node:assert';
import { rmSync } from 'node:fs';
import * as vscode from 'vscode';
import { afterEach, describe, it } from 'mocha';
import { closeAll, replace, show, uriOf } from './help.ts';

const spec = 'short.shoot.yaml';
const film = 'short.mp4';

export function defineAssembleTests(): void {
  describe('the film of the plan', () => {
    afterEach(async () => {
      for (const file of [spec, film]) rmSync(uriOf(file).fsPath, { force: true });
      await closeAll();
    });
    it('is made of the plan as it stands, and opens', makes);
  });
}

async function makes(): Promise<void> {
  const text = new TextDecoder().decode(await vscode.workspace.fs.readFile(uriOf('music-box.shoot.yaml')));
  const short = text.replaceAll('length: 6 s', 'length: 0.4 s');
  await vscode.workspace.fs.writeFile(uriOf(spec), new TextEncoder().encode(short));
  const editor = await show(spec);
  await replace(editor, 'Tinnabel', 'Tinkle');
  const answers = { deliverable: 'film', isDraft: true, to: uriOf(film) };
  await vscode.commands.executeCommand('shootSpec.assemble', answers);
  assert.ok(!editor.document.isDirty, 'the plan is saved');
  const bytes = await vscode.workspace.fs.readFile(uriOf(film));
  assert.strictEqual(new TextDecoder('latin1').decode(bytes.subarray(4, 8)), 'ftyp');
  const shown = vscode.window.tabGroups.all.flatMap((group) => group.tabs).map(({ label }) => label);
  assert.ok(shown.includes(film), `${film} is shown, not ${shown.join(', ')}`);
}
