/** What the extension does in a real editor, from colours to fixes. The folder is a copy of tests/editor/workspace. */
import * as assert from 'node:assert';
import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import * as vscode from 'vscode';
import { afterEach, describe, it } from 'mocha';
import type { Context } from 'mocha';
import { checked, closeAll, findings, replace, ruleOf, show, until, uriOf } from './help.ts';

const spec = 'music-box.shoot.yaml';
const kit = 'kits/table.kit.yaml';

export function defineEditorTests(): void {
  describe('in a real editor', () => {
    afterEach(closeAll);
    it('gives each kind of file its own language', givesLanguages);
    it('starts when a shoot spec is opened', starts);
    it('marks an unknown key at its characters, with rule and source', marksUnknownKey);
    it('says in a hover what a key means', hovers);
    it('offers the fix, applies it and is silent; undo brings the finding back', fixes);
    it('fixes by command all that is safe', fixesAll);
    it('outlines the file', outlines);
    it('checks a file that was never saved', checksUnsaved);
    it('checks a spec again when its kit changes in the editor', followsKitInEditor);
    it('checks a spec again when its kit changes on disk', followsKitOnDisk);
    it('takes the severity of a rule from the editor settings', takesSettings);
    it('lays a file out once its settings ask for it, and not before', laysOut);
    it('shows the page of the rule at the cursor', showsRulePage);
    it('finds the findings of files that are not open', findsUnopened);
    it('checks the whole repo by command', checksRepo);
    it('runs the check as a task, which fails as the check does', runsTask);
    it('writes a length in another unit', refactors);
    it('has a walkthrough whose every button works', walksThrough);
    it('writes a new spec in which nothing is wrong', writesNewSpec);
    it('does not write over a spec of the same name', keepsOldSpec);
    it('writes nothing through a link that leads nowhere', writesThroughNoLink);
    it('writes a new kit in which nothing is wrong', writesNewKit);
    it('gives up on a checker that does not answer', givesUp);
    it('has a snippet for a whole spec in which nothing is wrong', hasSpecSnippet);
    it('checks again after the checker was restarted', restarts);
    it('checks again after the checker has died', survivesDeath);
  });
}

async function givesLanguages(): Promise<void> {
  await vscode.workspace.fs.writeFile(uriOf('shootspec.yaml'), new TextEncoder().encode('format: 1\n'));
  const takes = uriOf('day.takes.yaml');
  await vscode.workspace.fs.writeFile(takes, new TextEncoder().encode('format: 1\n'));
  const languages = await Promise.all(
    [spec, 'day.takes.yaml', kit, 'shootspec.yaml'].map(
      async (path) => (await vscode.workspace.openTextDocument(uriOf(path))).languageId,
    ),
  );
  await vscode.workspace.fs.delete(takes);
  assert.deepStrictEqual(languages, ['shoot-spec', 'shoot-takes', 'shoot-kit', 'shoot-settings']);
}

async function starts(): Promise<void> {
  const extension = vscode.extensions.getExtension('shoot-spec.shootspec');
  assert.ok(extension, 'the extension is installed');
  await show(spec);
  await until('the extension is active', () => extension.isActive);
}

async function unknownKey(editor: vscode.TextEditor, when = ''): Promise<vscode.Diagnostic> {
  const { document } = editor;
  return until(`a finding at \`shuter\`${when}`, () => {
    return findings(document.uri).find((finding) => document.getText(finding.range) === 'shuter');
  });
}

async function marksUnknownKey(): Promise<void> {
  const editor = await show(spec);
  const finding = await unknownKey(editor);
  assert.match(finding.message, /shuter/);
  assert.match(ruleOf(finding), /^[a-z-]+$/);
  assert.strictEqual(editor.document.lineAt(finding.range.start.line).text, '  shuter: 1/50 s');
}

async function hovers(): Promise<void> {
  const editor = await show(spec);
  await unknownKey(editor);
  const at = editor.document.positionAt(editor.document.getText().indexOf('white-balance') + 2);
  const hovers = await vscode.commands.executeCommand<vscode.Hover[]>(
    'vscode.executeHoverProvider',
    editor.document.uri,
    at,
  );
  const text = hovers.flatMap(({ contents }) => contents.map((part) => (typeof part === 'string' ? part : part.value)));
  assert.match(text.join('\n'), /white/i);
}

async function quickFixes(uri: vscode.Uri, range: vscode.Range): Promise<vscode.CodeAction[]> {
  return vscode.commands.executeCommand<vscode.CodeAction[]>(
    'vscode.executeCodeActionProvider',
    uri,
    range,
    'quickfix',
  );
}

async function fixes(): Promise<void> {
  const editor = await show(spec);
  const { document } = editor;
  const finding = await unknownKey(editor);
  const actions = await quickFixes(document.uri, finding.range);
  const fix = actions.find((action) => /shutter/.test(action.title));
  assert.ok(fix?.edit, `a fix is offered among: ${actions.map((action) => action.title).join(' | ')}`);
  assert.ok(await vscode.workspace.applyEdit(fix.edit));
  assert.match(document.getText(), /^ {2}shutter: 1\/50 s$/m);
  await until(
    'no finding at `shuter` is left',
    () => !findings(document.uri).some(({ message }) => /shuter/.test(message)),
  );
  await vscode.commands.executeCommand('undo');
  await unknownKey(editor);
}

async function fixesAll(): Promise<void> {
  const editor = await show(spec);
  await unknownKey(editor);
  await replace(editor, '60 cm', '60cm');
  await until('a finding at `60cm`', () =>
    findings(editor.document.uri).find((finding) => editor.document.getText(finding.range).includes('60cm')),
  );
  await vscode.commands.executeCommand('shootSpec.fixAll');
  await until('the unit is spelt right', () => /distance: 60 cm$/m.test(editor.document.getText()));
}

async function outlines(): Promise<void> {
  const editor = await show(spec);
  await unknownKey(editor);
  const symbols = await vscode.commands.executeCommand<vscode.DocumentSymbol[]>(
    'vscode.executeDocumentSymbolProvider',
    editor.document.uri,
  );
  const shots = symbols.find((symbol) => symbol.name === 'shots');
  assert.deepStrictEqual(
    shots?.children.map((child) => child.name),
    ['whole', 'turned'],
  );
}

async function checksUnsaved(): Promise<void> {
  const content = 'title: Not saved yet\nshuter: 1/50 s\n';
  const document = await vscode.workspace.openTextDocument({ language: 'shoot-spec', content });
  await unknownKey(await vscode.window.showTextDocument(document));
}

function isOffKit(): boolean {
  return findings(uriOf(spec)).some((finding) => ruleOf(finding) === 'setting-not-in-kit');
}

async function followsKitInEditor(): Promise<void> {
  await unknownKey(await show(spec));
  await until('no finding about the kit', () => !isOffKit());
  const kitEditor = await show(kit);
  await replace(kitEditor, 'rate: [25, 50]', 'rate: [24]');
  await until('a finding of the spec about the rate', isOffKit);
  await vscode.commands.executeCommand('undo');
  await until('no finding about the rate any more', () => !isOffKit());
}

async function followsKitOnDisk(): Promise<void> {
  await unknownKey(await show(spec));
  await until('no finding about the kit', () => !isOffKit());
  const bytes = await vscode.workspace.fs.readFile(uriOf(kit));
  const changed = new TextDecoder().decode(bytes).replace('rate: [25, 50]', 'rate: [24]');
  await vscode.workspace.fs.writeFile(uriOf(kit), new TextEncoder().encode(changed));
  await until('a finding of the spec about the rate', isOffKit);
  await vscode.workspace.fs.writeFile(uriOf(kit), bytes);
  await until('no finding about the rate any more', () => !isOffKit());
}

async function takesSettings(): Promise<void> {
  const editor = await show(spec);
  const { uri } = editor.document;
  const rule = 'shutter-off-half-frame';
  const shownAs = (severity: vscode.DiagnosticSeverity) => (): boolean =>
    findings(uri).some((finding) => ruleOf(finding) === rule && finding.severity === severity);
  await until('the finding is a warning', shownAs(vscode.DiagnosticSeverity.Warning));
  const settings = vscode.workspace.getConfiguration('shootSpec');
  await settings.update('rules', { [rule]: 'info' }, vscode.ConfigurationTarget.Workspace);
  await until('the finding is for information', shownAs(vscode.DiagnosticSeverity.Information));
  await settings.update('rules', { [rule]: 'none' }, vscode.ConfigurationTarget.Workspace);
  await until('the finding is gone', () => !findings(uri).some((finding) => ruleOf(finding) === rule));
  await settings.update('rules', undefined, vscode.ConfigurationTarget.Workspace);
  await until('the finding is a warning again', shownAs(vscode.DiagnosticSeverity.Warning));
}

/** A spec beside the other, with the same mistake, which nobody opens. */
async function writeUnopened(path: string): Promise<vscode.Uri> {
  const bytes = await vscode.workspace.fs.readFile(uriOf(spec));
  await vscode.workspace.fs.writeFile(uriOf(path), bytes);
  return uriOf(path);
}

/** The editor has something that lays files of this kind out only while the setting is on. */
async function laysOut(): Promise<void> {
  const { document } = await show(spec);
  const edits = () =>
    vscode.commands.executeCommand<vscode.TextEdit[] | undefined>(
      'vscode.executeFormatDocumentProvider',
      document.uri,
      { tabSize: 8, insertSpaces: false },
    );
  const editor = vscode.window.activeTextEditor!;
  await replace(editor, 'title: ', 'title:    ');
  assert.deepStrictEqual((await edits()) ?? [], []);
  const settings = vscode.workspace.getConfiguration('shootSpec');
  await settings.update('format.enable', true, vscode.ConfigurationTarget.Workspace);
  try {
    await until('edits', () => {
      void vscode.commands.executeCommand('editor.action.formatDocument');
      return document.lineAt(0).text.startsWith('title: ') && !document.getText().includes('title:    ');
    });
  } finally {
    await settings.update('format.enable', undefined, vscode.ConfigurationTarget.Workspace);
  }
}

async function showsRulePage(): Promise<void> {
  const editor = await show(spec);
  await until('a finding of a rule with a page', () => {
    const found = findings(editor.document.uri).find(
      ({ code }) => typeof code === 'object' && code.target !== undefined,
    );
    if (found) editor.selection = new vscode.Selection(found.range.start, found.range.start);
    return found;
  });
  await vscode.commands.executeCommand('shootSpec.showRule');
  const page = await until('its page', () =>
    vscode.workspace.textDocuments.find(({ uri }) => uri.scheme === 'shoot-spec-page')?.getText(),
  );
  assert.match(page, /^# [a-z-]+\n[\s\S]*^## Why$/m);
}

async function findsUnopened(): Promise<void> {
  await show(spec);
  const uri = await writeUnopened('unopened.shoot.yaml');
  await until('findings of a file that is not open', () => findings(uri).some(({ message }) => /shuter/.test(message)));
  await vscode.workspace.fs.delete(uri);
  await until('no findings of a file that is gone', () => findings(uri).length === 0);
}

async function checksRepo(): Promise<void> {
  await show(spec);
  const uri = await writeUnopened('second.shoot.yaml');
  await vscode.commands.executeCommand('shootSpec.checkRepo');
  await until('its findings are there', () => findings(uri).length > 0);
  await vscode.workspace.fs.delete(uri);
}

async function runsTask(): Promise<void> {
  await show(spec);
  const tasks = await vscode.tasks.fetchTasks({ type: 'shoot-spec' });
  const [task] = tasks;
  assert.deepStrictEqual(
    tasks.map(({ name, source }) => `${source}: ${name}`),
    ['shoot-spec: check'],
  );
  const ended = new Promise<number | undefined>((done) => {
    const listener = vscode.tasks.onDidEndTaskProcess((event) => {
      listener.dispose();
      done(event.exitCode);
    });
  });
  await vscode.tasks.executeTask(task!);
  assert.strictEqual(await ended, 1, 'the spec has errors, so the check fails');
}

async function refactors(): Promise<void> {
  const editor = await show(spec);
  const { document } = editor;
  await unknownKey(editor);
  const place = document.positionAt(document.getText().indexOf('60 cm'));
  const range = new vscode.Range(place, place);
  const actions = await vscode.commands.executeCommand<vscode.CodeAction[]>(
    'vscode.executeCodeActionProvider',
    document.uri,
    range,
    'refactor',
  );
  const action = actions.find(({ title }) => title === 'Write as `600 mm`');
  assert.ok(action?.edit, `a unit is offered among: ${actions.map(({ title }) => title).join(' | ')}`);
  assert.ok(await vscode.workspace.applyEdit(action.edit));
  assert.match(document.getText(), /distance: 600 mm/);
}

async function walksThrough(): Promise<void> {
  const extension = vscode.extensions.getExtension('shoot-spec.shootspec');
  const { walkthroughs } = extension!.packageJSON.contributes as {
    walkthroughs: { id: string; steps: { description: string; media: { markdown: string } }[] }[];
  };
  const commands = new Set(await vscode.commands.getCommands(true));
  for (const { description, media } of walkthroughs[0]!.steps) {
    for (const [, command] of description.matchAll(/\(command:([a-zA-Z.]+)\)/g))
      assert.ok(commands.has(command!), command);
    const bytes = await vscode.workspace.fs.readFile(vscode.Uri.joinPath(extension!.extensionUri, media.markdown));
    assert.ok(bytes.length > 0, media.markdown);
  }
}

function noErrors(all: readonly vscode.Diagnostic[]): void {
  const errors = all.filter(({ severity }) => severity === vscode.DiagnosticSeverity.Error);
  const told = errors.map((finding) => `${finding.range.start.line + 1}: ${finding.message}`);
  assert.deepStrictEqual(told, []);
}

async function writesNewSpec(): Promise<void> {
  for (const [name, answers] of Object.entries({
    'first-film': { title: 'First film', kit, region: '50 Hz' },
    'second-film': { title: 'Second film', kit, region: 'US' },
    'third-film-no-kit': { title: 'Third film: no kit', kit: 'none', region: 'DE' },
  })) {
    await vscode.commands.executeCommand('shootSpec.newSpec', answers);
    const editor = vscode.window.activeTextEditor;
    assert.strictEqual(editor?.document.uri.path, uriOf(`${name}.shoot.yaml`).path);
    const found = await checked(editor);
    noErrors(found);
    assert.deepStrictEqual(
      found.map(({ message }) => message),
      [],
      'there is nothing to put right in a new spec',
    );
  }
}

async function keepsOldSpec(): Promise<void> {
  const answers = { title: 'Twice', kit, region: 'DE' };
  await vscode.commands.executeCommand('shootSpec.newSpec', answers);
  await vscode.commands.executeCommand('shootSpec.newSpec', answers);
  assert.strictEqual(vscode.window.activeTextEditor?.document.uri.path, uriOf('twice-2.shoot.yaml').path);
}

async function writesThroughNoLink(): Promise<void> {
  const settings = uriOf('shootspec.yaml').fsPath;
  const before = existsSync(settings) ? readFileSync(settings) : undefined;
  const target = uriOf('target.yaml').fsPath;
  const links = [uriOf('linked.shoot.yaml').fsPath, settings];
  for (const link of links) {
    rmSync(link, { force: true });
    symlinkSync(target, link);
  }
  await vscode.commands.executeCommand('shootSpec.newSpec', { title: 'Linked', kit, region: 'DE' });
  assert.strictEqual(vscode.window.activeTextEditor?.document.uri.path, uriOf('linked-2.shoot.yaml').path);
  assert.ok(!existsSync(target), 'nothing is written where the links lead');
  for (const link of links) rmSync(link);
  if (before) writeFileSync(settings, before);
}

async function writesNewKit(): Promise<void> {
  await vscode.commands.executeCommand('shootSpec.newKit', { camera: 'prime', sensor: '36 x 24 mm', light: 'bulb' });
  const editor = vscode.window.activeTextEditor!;
  assert.strictEqual(editor.document.uri.path, uriOf('kits/camera.kit.yaml').path);
  assert.strictEqual(editor.document.getText(editor.selection), '50 mm', 'the first number to replace is selected');
  assert.deepStrictEqual(await checked(editor), []);
  await vscode.workspace.fs.delete(editor.document.uri);
}

async function givesUp(this: Context): Promise<void> {
  if (process.platform === 'win32') return this.skip(); // There is no way to hold a process up.
  await unknownKey(await show(spec));
  const server = serverProcess();
  process.kill(server, 'SIGSTOP');
  try {
    await vscode.commands.executeCommand('shootSpec.newSpec', { title: 'Held up', kit: 'none', region: 'DE' });
  } finally {
    process.kill(server, 'SIGCONT');
  }
  await assert.rejects(async () => vscode.workspace.fs.stat(uriOf('held-up.shoot.yaml')));
}

function serverProcess(): number {
  const children = execFileSync('ps', ['-A', '-o', 'pid=,ppid=,args=']).toString().split('\n');
  const ours = children.map((line) => line.trim().split(/\s+/)).filter(([, parent]) => parent === String(process.pid));
  const server = ours.find((words) => words.some((word) => word.endsWith('server.cjs')));
  assert.ok(server, 'the checker is a process of its own');
  return Number(server[0]);
}

async function hasSpecSnippet(): Promise<void> {
  const uri = uriOf('from-snippet.shoot.yaml');
  await vscode.workspace.fs.writeFile(uri, new Uint8Array());
  const editor = await show('from-snippet.shoot.yaml');
  const start = new vscode.Position(0, 0);
  await vscode.extensions.getExtension('shoot-spec.shootspec')!.activate();
  const { items } = await vscode.commands.executeCommand<vscode.CompletionList>(
    'vscode.executeCompletionItemProvider',
    uri,
    start,
  );
  const found = items.find(({ label }) => label === 'new spec');
  assert.ok(found, 'a whole spec is offered');
  await editor.insertSnippet(found.insertText as vscode.SnippetString, start);
  assert.match(editor.document.getText(), /^title: Name of the film\nkit: kits\//m);
  noErrors(await checked(editor));
}

async function restarts(): Promise<void> {
  const editor = await show(spec);
  await unknownKey(editor);
  await vscode.commands.executeCommand('shootSpec.restart');
  await unknownKey(editor, ' after the restart');
  await vscode.commands.executeCommand('shootSpec.showLog');
}

async function survivesDeath(this: Context): Promise<void> {
  if (process.platform === 'win32') return this.skip(); // There is no `ps` to find the process with.
  const editor = await show(spec);
  await unknownKey(editor);
  process.kill(serverProcess(), 'SIGKILL');
  await until('the findings are gone with the checker', () => findings(editor.document.uri).length === 0);
  await unknownKey(editor, ' after the checker died');
}
