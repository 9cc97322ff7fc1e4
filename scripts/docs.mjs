/**
 * Makes docs/fields.md from the schemas and docs/rules.md from the rules, and puts the rules into
 * schemas/config.schema.json. `--check` only tells whether they are current.
 */
import fs from 'node:fs';
import path from 'node:path';
import { build } from 'esbuild';
import { format, resolveConfig } from 'prettier';

const root = path.resolve(import.meta.dirname, '..');
const outfile = path.join(root, 'out/docs.mjs');
await build({
  absWorkingDir: root,
  stdin: {
    contents: "export * from './scripts/docs/pages.ts'; export * from './scripts/docs/config.ts';",
    resolveDir: root,
  },
  outfile,
  bundle: true,
  platform: 'node',
  format: 'esm',
  logLevel: 'warning',
});
const style = await resolveConfig(path.join(root, 'schemas/config.schema.json'));
const { fieldsPage, rulesPage, withRules } = await import(`file://${outfile}`);
const schema = JSON.parse(fs.readFileSync(path.join(root, 'schemas/config.schema.json'), 'utf8'));
for (const [name, text] of [
  ['docs/fields.md', fieldsPage()],
  ['docs/rules.md', rulesPage()],
  [
    'schemas/config.schema.json',
    await format(JSON.stringify(withRules(schema), null, 2), { ...style, parser: 'json' }),
  ],
]) {
  const file = path.join(root, name);
  const before = fs.existsSync(file) ? fs.readFileSync(file, 'utf8') : '';
  if (before === text) continue;
  if (process.argv.includes('--check')) {
    console.error(`${name} is not current: run \`npm run docs\``);
    process.exitCode = 1;
  } else {
    fs.writeFileSync(file, text);
    console.log(name);
  }
}
