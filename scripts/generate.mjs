/**
 * Makes all that is made: the patterns, units and rules in schemas/, docs/fields.md, docs/rules.md and the manual page docs/shootspec.1, the rules in
 * package.json, the texts for translators in l10n/, and the validators in server/core/schema/generated/.
 *
 * Nothing is done when nothing has changed since. `--check` writes nothing and tells what of it is not current;
 * `--untracked` makes only the validators, which git does not keep and everything else needs.
 */
import { createHash } from 'node:crypto';
import fs from 'node:fs';
import path from 'node:path';
import { globSync } from 'tinyglobby';

const root = path.resolve(import.meta.dirname, '..');
const check = process.argv.includes('--check');
const kinds = ['shoot', 'takes', 'kit', 'config'];
const validators = 'server/core/schema/generated';
const stamp = '.cache/generated';
/** All that anything is made from, and all that is made. */
const files = [
  ...[
    'schemas/*.json',
    'server/**/*.ts',
    'client/**/*.ts',
    'scripts/generate*',
    'scripts/generate/*',
    `${validators}/*`,
  ],
  ...[
    'docs/{fields.md,rules.md,shootspec.1}',
    'l10n/{bundle.l10n,findings}.json',
    'package.json',
    'package-lock.json',
    'CHANGELOG.md',
  ],
];

if (process.argv.includes('--untracked')) await makeValidators();
else if (check || isChanged()) await makeAll();

/** By names, sizes and times, which takes no time to look at. */
function state() {
  const hash = createHash('sha256');
  for (const file of globSync(files, { cwd: root }).sort()) {
    const { size, mtimeMs } = fs.statSync(path.join(root, file));
    hash.update(`${file} ${size} ${mtimeMs}\n`);
  }
  return hash.digest('hex');
}

function isChanged() {
  return read(stamp) !== state();
}

async function makeAll() {
  await makeSchemas();
  // The pages are made from the schemas, and these have to be right before they are read.
  const made = await sources('pages');
  const { clientTexts } = await import('./generate/client-texts.mjs');
  put('docs/fields.md', made.fieldsPage());
  put('docs/rules.md', made.rulesPage());
  put('docs/shootspec.1', made.manualPage(json('package.json').version, lastRelease()));
  await putJson('package.json', made.withRuleNames(json('package.json'), made.rules));
  await putJson('l10n/bundle.l10n.json', clientTexts(root));
  await putJson('l10n/findings.json', made.textsOf(made.rules));
  if (check) return;
  await makeValidators();
  write(stamp, state());
}

async function makeSchemas() {
  const { withQuantities, withRules } = await sources('schemas');
  for (const kind of kinds) {
    const file = `schemas/${kind}.schema.json`;
    const schema = withQuantities(json(file));
    await putJson(file, kind === 'config' ? withRules(schema) : schema);
  }
}

/** The exports of scripts/generate/index.ts, as the sources are at this moment. */
async function sources(name) {
  const { build } = await import('esbuild');
  const outfile = path.join(root, `out/generate-${name}.mjs`);
  const options = { bundle: true, platform: 'node', format: 'esm', logLevel: 'warning' };
  await build({ ...options, absWorkingDir: root, entryPoints: ['scripts/generate/index.ts'], outfile });
  return import(`file://${outfile}`);
}

/** Not where they are newer than what they are made from. */
async function makeValidators() {
  const time = (file) => fs.statSync(path.join(root, file), { throwIfNoEntry: false })?.mtimeMs ?? 0;
  const made = ['validate.js', 'validate.d.ts'].map((file) => time(`${validators}/${file}`));
  const from = [...kinds.map((kind) => `schemas/${kind}.schema.json`), 'scripts/generate/validators.mjs'].map(time);
  if (Math.min(...made) > Math.max(...from)) return;
  const { code, declarations } = await import('./generate/validators.mjs');
  write(
    `${validators}/validate.js`,
    code(Object.fromEntries(kinds.map((kind) => [kind, json(`schemas/${kind}.schema.json`)]))),
  );
  write(`${validators}/validate.d.ts`, declarations(kinds));
}

async function putJson(file, value) {
  const { format } = await import('oxfmt');
  const { code } = await format(file, JSON.stringify(value, null, 2), { printWidth: 120, sortPackageJson: false });
  put(file, code);
}

function put(file, text) {
  if (read(file) === text) return;
  if (check) {
    console.error(`${file} is not what it is made from: run \`npm run generate\``);
    process.exitCode = 1;
  } else {
    write(file, text);
    console.log(`wrote ${file}`);
  }
}

/** The day of the newest version in the changelog. */
function lastRelease() {
  return /^## [\d.]+ - (\d{4}-\d\d-\d\d)$/m.exec(read('CHANGELOG.md'))[1];
}

function json(file) {
  return JSON.parse(read(file));
}

function read(file) {
  const name = path.join(root, file);
  return fs.existsSync(name) ? fs.readFileSync(name, 'utf8') : undefined;
}

/** Written under another name first, so that nobody ever reads half a file. */
function write(file, text) {
  const name = path.join(root, file);
  fs.mkdirSync(path.dirname(name), { recursive: true });
  fs.writeFileSync(`${name}.part`, text);
  fs.renameSync(`${name}.part`, name);
}
