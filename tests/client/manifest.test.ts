/** The manifest and what it points at agree with each other and with the code. */
import fs from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { languageIds } from '../../client/languages.ts';
import { Checker } from '../../server/core/checker.ts';
import { reportOf } from '../../server/formats/report.ts';
import { toText } from '../../server/formats/text.ts';
import { repoCommands } from '../../server/handlers/repo.ts';
import { NodeHost } from '../../server/node-host.ts';
import { rules } from '../../server/rules/index.ts';

const root = path.resolve(import.meta.dirname, '../..');
const read = (file: string): string => fs.readFileSync(path.join(root, file), 'utf8');
const manifest = JSON.parse(read('package.json'));
const words: Record<string, string> = JSON.parse(read('package.nls.json'));
const { contributes } = manifest;

/** `*` in the manifest's list of files stands for any part of a name. */
function isPackaged(file: string): boolean {
  return manifest.files.some((entry: string) => {
    const parts = entry.split('*').map((part) => part.replace(/[.+?^${}()|[\]\\]/g, '\\$&'));
    return new RegExp(`^${parts.join('[^/]*')}(?:/|$)`).test(file);
  });
}

describe('the manifest', () => {
  it('has a text for every name in percent signs, and no text too many', () => {
    const used = [...read('package.json').matchAll(/"%([^%"]+)%"/g)].map((match) => match[1]!);
    expect([...new Set(used)].sort()).toEqual(Object.keys(words).sort());
  });

  it('declares exactly the commands that the code registers', () => {
    const code = ['extension', 'shared'].map((name) => read(`client/${name}.ts`)).join('');
    const registered = [...code.matchAll(/registerCommand\('([^']+)'/g)].map((match) => match[1]!);
    // The server's, registered here so that it is there before the server is.
    expect(repoCommands).toContain('shootSpec.checkRepo');
    const declared = contributes.commands.map((command: { command: string }) => command.command);
    expect(registered.sort()).toEqual(declared.sort());
  });

  it('hides in a browser exactly the commands that nothing there carries out', () => {
    const missing = [...read('client/extension.ts').matchAll(/registerCommand\('([^']+)'/g)].map((match) => match[1]!);
    const hidden = contributes.menus.commandPalette.filter(({ when }: { when: string }) =>
      when.endsWith('!shootSpec.isInBrowser'),
    );
    expect(missing.length).toBeGreaterThan(3);
    expect(hidden.map(({ command }: { command: string }) => command).sort()).toEqual(missing.sort());
  });

  it('declares the languages that the code checks, starts with them, and sets how they are written', () => {
    expect(contributes.languages.map(({ id }: { id: string }) => id)).toEqual(languageIds);
    const pages = ['onWebviewPanel:shootSpec.pictures', `onWalkthrough:${contributes.walkthroughs[0].id}`];
    expect(manifest.activationEvents).toEqual([...languageIds.map((id) => `onLanguage:${id}`), ...pages]);
    for (const id of languageIds) {
      expect(contributes.configurationDefaults[`[${id}]`]).toMatchObject({
        'editor.insertSpaces': true,
        'editor.tabSize': 2,
      });
    }
  });

  it('points at files that are there and are packaged', () => {
    const files: string[] = contributes.grammars.map(({ path: file }: { path: string }) => file);
    const [walkthrough] = contributes.walkthroughs;
    files.push(
      ...walkthrough.steps.map(({ media }: { media: { markdown: string } }) => media.markdown),
      path.posix.join(manifest.l10n, 'bundle.l10n.json'),
      ...contributes.languages.map(({ configuration }: { configuration: string }) => configuration),
      ...contributes.languages.flatMap(({ icon }: { icon: { light: string; dark: string } }) => [
        icon.light,
        icon.dark,
      ]),
      manifest.icon,
    );
    for (const file of files.map((name) => path.posix.normalize(name))) {
      expect(fs.existsSync(path.join(root, file)), file).toBe(true);
      expect(isPackaged(file), file).toBe(true);
    }
  });

  it('has settings in an order, and a drawing of its own for each kind of file', () => {
    const orders = Object.values<{ order: number }>(contributes.configuration.properties).map(({ order }) => order);
    expect(orders).toEqual(orders.map((_, index) => index + 1));
    const drawings = contributes.languages.map(({ icon }: { icon: { dark: string } }) => read(icon.dark));
    expect(new Set(drawings).size).toBe(languageIds.length);
  });

  it('shows commands only where they can do something', () => {
    const [editor, explorer] = [contributes.menus['editor/context'], contributes.menus['explorer/context']];
    for (const { command, when } of [...editor, ...explorer]) {
      expect(contributes.commands.map((one: { command: string }) => one.command)).toContain(command);
      expect(when).toMatch(/editorLangId|resourceFilename/);
    }
    const anywhere = contributes.commands
      .filter(({ command, enablement }: { command: string; enablement?: string }) => {
        const inPalette = contributes.menus.commandPalette.some((one: { command: string }) => one.command === command);
        return enablement === undefined && !inPalette;
      })
      .map(({ command }: { command: string }) => command.replace('shootSpec.', ''));
    expect(anywhere.sort()).toEqual(['checkRepo', 'newKit', 'newSpec', 'restart', 'showLog']);
  });

  it('packages translations, and not the findings that translators start from', () => {
    expect(isPackaged('package.nls.pt-br.json')).toBe(true);
    expect(isPackaged('l10n/findings.pt-br.json')).toBe(true);
    expect(isPackaged('l10n/bundle.l10n.pt-br.json')).toBe(true);
    expect(isPackaged('l10n/findings.json')).toBe(false);
  });

  it('gives each grammar the name that its file has', () => {
    for (const { path: file, scopeName } of contributes.grammars) {
      expect(JSON.parse(read(file)).scopeName).toBe(scopeName);
    }
  });

  it('has a walkthrough whose buttons are commands, and which begins with a folder and ends with a finished spec', () => {
    const [{ steps }] = contributes.walkthroughs;
    const declared = new Set(contributes.commands.map(({ command }: { command: string }) => command));
    for (const { description } of steps as { description: string }[]) {
      const text = words[description.replaceAll('%', '')]!;
      const ours = [...text.matchAll(/\(command:(shootSpec\.[a-zA-Z]+)\)/g)].map((match) => match[1]!);
      for (const command of ours) expect(declared).toContain(command);
    }
    // What holds already when the editor meets a walkthrough never ticks a step, so an open folder has one of its own.
    expect(steps.slice(0, 2)).toMatchObject([
      { when: 'workspaceFolderCount == 0', completionEvents: ['onContext:workspaceFolderCount != 0'] },
      { when: 'workspaceFolderCount != 0', completionEvents: ['onStepSelected'] },
    ]);
    expect(steps.at(-1).completionEvents).toEqual(['onContext:shootSpec.finishedSpec']);
    expect(read('client/finished-spec.ts')).toContain("'shootSpec.finishedSpec'");
  });

  it('matches every line of the command line that tells a finding, and no other', () => {
    const [pattern] = contributes.problemPatterns;
    const matcher = new RegExp(pattern.regexp);
    const draft = read('sample-workspace/first-draft.shoot.yaml');
    const checker = new Checker(new NodeHost(path.join(root, 'sample-workspace')), rules);
    const result = checker.check('first-draft.shoot.yaml', draft)!;
    const { findings } = result;
    const report = reportOf(result, {
      file: 'first-draft.shoot.yaml',
      failAt: 'error',
      fileOf: (name) => name,
      fixesOf: () => [],
    });
    const lines = toText([report]).split('\n');
    const told = lines.flatMap((line) => {
      const match = matcher.exec(line);
      return match ? `${match[pattern.file]} ${match[pattern.severity]} ${match[pattern.code]}` : [];
    });
    expect(told).toEqual(findings.map((one) => `first-draft.shoot.yaml ${one.severity} ${one.rule}`));
  });
});
