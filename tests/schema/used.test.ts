/** Everything that can be written is read: a field that no rule, picture or output looks at only promises something. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { globSync } from 'tinyglobby';
import ts from 'typescript';
import { expect, it } from 'vitest';
import { childrenOf, type FileKind } from '../../server/core/schema/fields.ts';

const root = path.resolve(import.meta.dirname, '../..');
const film = path.join(root, 'server/core/film.ts');

/** Every key of a kind of file. */
function keysOf(kind: FileKind): Set<string> {
  const keys = new Set<string>();
  const visit = (at: readonly (string | number)[]) => {
    for (const { key, isBlock, shape } of childrenOf(kind, at)) {
      keys.add(key);
      if (!isBlock) continue;
      visit([...at, key, ...(shape === 'lines' ? [0] : shape === 'named' ? ['name'] : [])]);
    }
  };
  visit([]);
  return keys;
}

// What is not read is named here with the reason; a name too many fails as well.
it.each([
  // `format` tells which format this is; `notes`, but those of a shot, which the sheet has, are from people for people.
  ['shoot', '{server/core/{resolve/*,kits},server/rules/care/*,server/views/**/*}.ts', ['format']],
  ['takes', 'server/core/resolve/{takes,shots}.ts', ['format', 'notes']],
  ['kit', 'server/core/resolve/*.ts', ['format', 'notes']],
  ['config', 'server/core/settings*.ts', ['format']],
] as const)('every key of a %s file is read', (kind, readers, unreadKeys) => {
  const code = globSync(readers, { cwd: root }).map((file) => readFileSync(path.join(root, file), 'utf8'));
  const unread = [...keysOf(kind)].filter((key) => !code.some((text) => text.includes(`'${key}'`)));
  expect(unread).toEqual(unreadKeys);
});

/** Fields that wait for a rule: they can be written, and nothing follows from them. */
const waiting = ['Microphone.sampleRate', 'Microphone.bits', 'Timeline.raster', 'Grade.dither'];

it('every property of the resolved film is asked for outside of what makes it', () => {
  const files = globSync(['server/**/*.ts', '!**/generated/**'], { cwd: root, absolute: true });
  const { config } = ts.readConfigFile(path.join(root, 'tsconfig.json'), (name) => ts.sys.readFile(name));
  const { options } = ts.parseJsonConfigFileContent({ ...config, include: [] }, ts.sys, root);
  const program = ts.createProgram(files, { ...options, types: ['node'] });
  const checker = program.getTypeChecker();
  const properties = program
    .getSourceFile(film)!
    .statements.filter(ts.isInterfaceDeclaration)
    .flatMap((of) => of.members.filter(ts.isPropertySignature).map((member) => ({ of, member })));
  const names = new Map<string, Set<ts.Declaration>>();
  for (const { member } of properties) {
    const name = member.name.getText();
    names.set(name, (names.get(name) ?? new Set()).add(member));
  }
  const note = (symbol: ts.Symbol | undefined) =>
    symbol?.declarations?.forEach((one) => names.get(symbol.name)?.delete(one));
  // To tell what an expression is takes long: of those only that may be one that nobody has asked for yet.
  const isLeft = (name: string) => (names.get(name)?.size ?? 0) > 0;
  const byName = (node: ts.Node): void => {
    if (ts.isPropertyAccessExpression(node) && isLeft(node.name.text)) note(checker.getSymbolAtLocation(node.name));
    if (ts.isBindingElement(node) && ts.isObjectBindingPattern(node.parent)) {
      const name = (node.propertyName ?? node.name).getText();
      if (isLeft(name)) note(checker.getTypeAtLocation(node.parent).getProperty(name));
    }
    ts.forEachChild(node, byName);
  };
  const byKey = (node: ts.Node): void => {
    if (ts.isElementAccessExpression(node)) {
      // `shot[key]`: any of the keys that the type of `key` names.
      const key = checker.getTypeAtLocation(node.argumentExpression);
      const object = checker.getTypeAtLocation(node.expression);
      for (const one of key.isUnion() ? key.types : [key]) {
        if (one.isStringLiteral()) note(object.getProperty(one.value));
      }
    }
    ts.forEachChild(node, byKey);
  };
  const makers = ['server/core/resolve/', 'server/core/film.ts'].map((one) => path.join(root, one));
  const askers = program.getSourceFiles().filter(({ fileName }) => {
    const file = path.normalize(fileName);
    return file.startsWith(path.join(root, 'server')) && !makers.some((maker) => file.startsWith(maker));
  });
  const known = [...waiting].sort();
  const said = ({ of, member }: (typeof properties)[number]) => `${of.name.text}.${member.name.getText()}`;
  const unasked = () => properties.filter(({ member }) => names.get(member.name.getText())!.has(member));
  askers.forEach(byName);
  // Looked for where the key is written: what is asked for in another way has to be said.
  const keys = unasked().flatMap((one) => (known.includes(said(one)) ? [] : [`'${one.member.name.getText()}'`]));
  askers.filter(({ text }) => keys.some((key) => text.includes(key))).forEach(byKey);
  expect(unasked().map(said).sort()).toEqual(known);
});
