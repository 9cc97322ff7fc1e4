/**
 * Puts the names of all rules into the manifest, so that the editor completes them in the setting `shootSpec.rules`.
 * Run it after a rule was added (`npm run build` first); `--check` only says whether it is needed.
 */
import { execFileSync } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';

const root = path.resolve(import.meta.dirname, '..');
const file = path.join(root, 'package.json');
const before = fs.readFileSync(file, 'utf8');
const manifest = JSON.parse(before);
const listed = execFileSync(process.execPath, [path.join(root, 'dist/cli.cjs'), 'rules', '--format', 'json']);
const rules = JSON.parse(listed.toString()).rules.sort((a, b) => (a.id < b.id ? -1 : 1));

manifest.contributes.configuration.properties['shootSpec.rules'].propertyNames = {
  enum: rules.map(({ id }) => id),
  enumDescriptions: rules.map(({ summary }) => summary),
};
const { format } = await import('prettier');
const after = await format(JSON.stringify(manifest), { filepath: 'package.json' });
if (after === before) {
  console.log(`The manifest names all ${rules.length} rules.`);
} else if (process.argv.includes('--check')) {
  console.error('The manifest does not name the rules as they are. Run `npm run rules-setting`.');
  process.exitCode = 1;
} else {
  fs.writeFileSync(file, after);
  console.log(`Wrote the names of ${rules.length} rules into the manifest.`);
}
