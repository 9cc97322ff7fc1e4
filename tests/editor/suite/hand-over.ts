/** A film handed over from the editor. What is written is tried in tests/hand-over. */
import * as assert from 'node:assert';
import { rmSync } from 'node:fs';
import * as vscode from 'vscode';
import { afterEach, describe, it } from 'mocha';
import { closeAll, replace, show, uriOf } from './help.ts';

const [spec, film] = ['handed.shoot.yaml', 'handed.json'];

export function defineHandOverTests(): void {
  describe('a film for another program', () => {
    afterEach(async () => {
      for (const file of [spec, film]) rmSync(uriOf(file).fsPath, { force: true });
      await closeAll();
    });
    it('is written of the plan as it stands', writes);
  });
}

async function writes(): Promise<void> {
  await vscode.workspace.fs.copy(uriOf('music-box.shoot.yaml'), uriOf(spec), { overwrite: true });
  const editor = await show(spec);
  await replace(editor, 'Tinnabel', 'Tinkle');
  await vscode.commands.executeCommand('shootSpec.handOver', { as: 'json', to: uriOf(film) });
  assert.ok(!editor.document.isDirty, 'the plan is saved');
  const text = new TextDecoder().decode(await vscode.workspace.fs.readFile(uriOf(film)));
  assert.match(text, /^\{\n {2}"format": 1,/);
  assert.match(text, /Tinkle/);
}
