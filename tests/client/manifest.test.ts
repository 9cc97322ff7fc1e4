/** The manifest and what it points at agree with each other and with the code. */
import fs from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { languageIds } from '../../client/languages.ts';

const root = path.resolve(import.meta.dirname, '../..');
const read = (file: string): string => fs.readFileSync(path.join(root, file), 'utf8');
const manifest = JSON.parse(read('package.json'));
const words: Record<string, string> = JSON.parse(read('package.nls.json'));
const { contributes } = manifest;

describe('the manifest', () => {
  it('has a text for every name in percent signs, and no text too many', () => {
    const used = [...read('package.json').matchAll(/"%([^%"]+)%"/g)].map((match) => match[1]!);
    expect([...new Set(used)].sort()).toEqual(Object.keys(words).sort());
  });

  it('declares exactly the commands that the code registers', () => {
    const registered = [...read('client/extension.ts').matchAll(/registerCommand\('([^']+)'/g)].map(
      (match) => match[1]!,
    );
    const declared = contributes.commands.map((command: { command: string }) => command.command);
    expect(registered.sort()).toEqual(declared.sort());
  });

  it('declares the languages that the code checks, starts with them, and sets how they are written', () => {
    expect(contributes.languages.map(({ id }: { id: string }) => id)).toEqual(languageIds);
    expect(manifest.activationEvents).toEqual(languageIds.map((id) => `onLanguage:${id}`));
    for (const id of languageIds) {
      expect(contributes.configurationDefaults[`[${id}]`]).toMatchObject({
        'editor.insertSpaces': true,
        'editor.tabSize': 2,
      });
    }
  });

  it('points at files that are there and are packaged', () => {
    const files: string[] = [...contributes.grammars, ...contributes.snippets].map(({ path: file }) => file);
    files.push(
      ...contributes.languages.map(({ configuration }: { configuration: string }) => configuration),
      manifest.icon,
    );
    for (const file of files.map((name) => path.posix.normalize(name))) {
      expect(fs.existsSync(path.join(root, file)), file).toBe(true);
      expect(
        manifest.files.some((entry: string) => file === entry || file.startsWith(`${entry}/`)),
        file,
      ).toBe(true);
    }
  });

  it('gives each grammar the name that its file has', () => {
    for (const { path: file, scopeName } of contributes.grammars) {
      expect(JSON.parse(read(file)).scopeName).toBe(scopeName);
    }
  });
});
