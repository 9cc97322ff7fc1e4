/**
 * Packs the extension as shoot-spec.vsix. The links and pictures of its page are made to point at the repository that
 * package.json names, as the packed page lies in no repository.
 */
import fs from 'node:fs';
import path from 'node:path';
import { createVSIX } from '@vscode/vsce';

const root = path.resolve(import.meta.dirname, '..');
const { homepage } = JSON.parse(fs.readFileSync(path.join(root, 'package.json'), 'utf8'));

await createVSIX({
  cwd: root,
  packagePath: path.join(root, 'shoot-spec.vsix'),
  dependencies: false, // all is bundled
  baseContentUrl: `${homepage}/blob/HEAD`,
  baseImagesUrl: `${homepage}/raw/HEAD`,
});
