/** What the page for the set is put together with: its script and style are files of the package, read when one is asked for. */
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { SetPageParts } from './views/set-page/html.ts';

/**
 * @param folder where the bundles are
 * @param path of the spec, from the root of its repo
 */
export function setPageParts(folder: string, path: string): SetPageParts {
  const read = (name: string) => readFileSync(join(folder, name), 'utf8');
  const hashOf = (text: string) => createHash('sha256').update(text).digest('base64');
  return { path, script: read('set-page.js'), style: read('set-page.css'), hashOf };
}
