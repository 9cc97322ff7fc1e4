/**
 * Runs tests/editor/suite inside a real extension host. With SHOOT_SPEC_EDITOR=desktop (or where no stand-in can be)
 * @vscode/test-electron fetches the desktop editor; otherwise the browser-served one stands in for it.
 */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { runTests } from '@vscode/test-electron';
import { build, findChromium, root } from '../../scripts/editor.mjs';
import { installEditor } from '../../scripts/setup-editor.mjs';

build('--tests');

const desktop = process.env.SHOOT_SPEC_EDITOR === 'desktop' || process.platform === 'win32' || !findChromium();
if (!desktop) installEditor();

// The suite changes files, so it works on a copy.
const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'shoot-spec-suite-'));
fs.cpSync(path.join(root, 'tests/editor/workspace'), folder, { recursive: true });
try {
  process.exitCode = await runTests({
    ...(desktop ? {} : { vscodeExecutablePath: path.join(root, 'tests/editor/stand-in.mjs') }),
    extensionDevelopmentPath: root,
    extensionTestsPath: path.join(root, 'out/suite.cjs'),
    launchArgs: [folder, '--disable-extensions'],
  });
} catch (error) {
  console.error(error.message);
  process.exitCode = 1;
} finally {
  fs.rmSync(folder, { recursive: true, force: true });
}
