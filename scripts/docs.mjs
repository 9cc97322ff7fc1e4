/** Makes docs/fields.md from the schemas and docs/rules.md from the rules. `--check` only tells whether they are current. */
import fs from 'node:fs';
import path from 'node:path';
import { build } from 'esbuild';

const root = path.resolve(import.meta.dirname, '..');
const outfile = path.join(root, 'out/docs.mjs');
await build({
  absWorkingDir: root,
  stdin: { contents: "export { fieldsPage, rulesPage } from './scripts/docs/pages.ts';", resolveDir: root },
  outfile,
  bundle: true,
  platform: 'node',
  format: 'esm',
  logLevel: 'warning',
});
const { fieldsPage, rulesPage } = await import(`file://${outfile}`);
for (const [name, text] of [
  ['fields.md', fieldsPage()],
  ['rules.md', rulesPage()],
]) {
  const file = path.join(root, 'docs', name);
  const before = fs.existsSync(file) ? fs.readFileSync(file, 'utf8') : '';
  if (before === text) continue;
  if (process.argv.includes('--check')) {
    console.error(`docs/${name} is not current: run \`npm run docs\``);
    process.exitCode = 1;
  } else {
    fs.writeFileSync(file, text);
    console.log(`docs/${name}`);
  }
}
