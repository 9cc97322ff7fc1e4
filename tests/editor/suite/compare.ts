/** The comparison with the last commit in a real editor. What is compared is tried in tests/server. */
import * as assert from 'node:assert';
import { execFileSync } from 'node:child_process';
import { rmSync, writeFileSync } from 'node:fs';
import * as vscode from 'vscode';
import { after, afterEach, before, describe, it } from 'mocha';
import { closeAll, replace, show, until, uriOf } from './help.ts';

const spec = 'music-box.shoot.yaml';

export function defineCompareTests(): void {
  describe('the comparison with the last commit', () => {
    before(commit);
    afterEach(closeAll);
    after(() => rmSync(uriOf('.git').fsPath, { recursive: true }));
    it('compares with a plan that is not open', comparesWithAnother);
    it('opens a page beside the plan, and brings it up to date when it is asked again', comparesTwice);
  });
}

function commit(): void {
  const git = (...args: string[]) => execFileSync('git', args, { cwd: uriOf('').fsPath });
  git('init', '-q');
  git('add', spec, 'kits');
  git('-c', 'user.name=A', '-c', 'user.email=a@example.org', 'commit', '-qm', 'x');
}

async function comparesWithAnother(): Promise<void> {
  const other = 'second.shoot.yaml';
  writeFileSync(uriOf(other).fsPath, 'title: Second film\n');
  try {
    await show(spec);
    await vscode.commands.executeCommand('shootSpec.compareWith', uriOf(other));
    await until('what differs is shown', () =>
      textOfPages().includes('What differs in the editor from second.shoot.yaml'),
    );
  } finally {
    rmSync(uriOf(other).fsPath);
  }
}

function textOfPages(): string {
  const pages = vscode.workspace.textDocuments.filter(({ uri }) => uri.scheme === 'shoot-spec-page');
  return pages.map((one) => one.getText()).join('\n');
}

async function comparesTwice(): Promise<void> {
  const editor = await show(spec);
  await replace(editor, 'title: Tinnabel', 'title: Tinkle');
  await vscode.commands.executeCommand('shootSpec.compare');
  const tab = await until('a page beside the plan', page);
  assert.notStrictEqual(tab.group.viewColumn, editor.viewColumn);
  await says(/Tinnabel.* → .*Tinkle/);
  await vscode.window.showTextDocument(editor.document, editor.viewColumn);
  await replace(editor, 'title: Tinkle', 'title: Chime');
  await vscode.commands.executeCommand('shootSpec.compare');
  await says(/Tinnabel.* → .*Chime/);
  const all = vscode.window.tabGroups.all.flatMap((group) => group.tabs);
  assert.strictEqual(all.filter(({ label }) => label === tab.label).length, 1);
}

function page(): vscode.Tab | undefined {
  const tabs = vscode.window.tabGroups.all.flatMap((group) => group.tabs);
  return tabs.find(({ label }) => label.includes('music-box since the last commit'));
}

function isPage({ scheme, path }: vscode.Uri): boolean {
  return scheme === 'shoot-spec-page' && path.includes('since the last commit');
}

async function says(words: RegExp): Promise<void> {
  const now = () => vscode.workspace.textDocuments.find(({ uri }) => isPage(uri))?.getText();
  await until(`the page says ${String(words)}`, () => words.test(now() ?? '')).catch((error: Error) => {
    throw new Error(`${error.message}; it says ${now() ?? 'nothing'}`);
  });
}
