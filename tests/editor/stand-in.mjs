#!/usr/bin/env node
/**
 * Takes the place of the desktop editor's executable for @vscode/test-electron: runs the suite in the extension host
 * of the browser-served editor, through a headless Chromium. It understands --extensionDevelopmentPath,
 * --extensionTestsPath and a folder, and ends with 0 only when the suite did.
 */
import { openBrowser, startEditor } from '../../scripts/editor.mjs';

const limitMs = 900_000;
const option = (name) => process.argv.find((arg) => arg.startsWith(`--${name}=`))?.slice(name.length + 3);
const folder = process.argv.slice(2).find((arg) => !arg.startsWith('-'));

let editor;
let browser;
let code = 1;
try {
  editor = await startEditor({ testDriver: true });
  browser = await openBrowser();
  code = await runSuite(browser.page, editor);
} catch (error) {
  console.error(error.message);
} finally {
  await browser?.close();
  await editor?.stop();
}
process.exit(code);

/** Opens the folder with the suite in the address, and answers with the exit code that the extension host reports. */
async function runSuite(page, { port, url }) {
  const remote = (file) => `vscode-remote://127.0.0.1:${port}${file}`;
  const payload = JSON.stringify([
    ['extensionDevelopmentPath', remote(option('extensionDevelopmentPath'))],
    ['extensionTestsPath', remote(option('extensionTestsPath'))],
    ['skipWelcome', 'true'],
  ]);
  const finished = new Promise((resolve, reject) => {
    setTimeout(() => reject(new Error(`The suite did not end within ${limitMs / 1000} s.`)), limitMs).unref();
    void page.exposeFunction('codeAutomationExit', resolve);
  });
  await page.exposeFunction('codeAutomationLog', (_type, args) => printOurs(args));
  await page.goto(`${url(folder)}&payload=${encodeURIComponent(payload)}`);
  return finished;
}

/** The workbench forwards all that the extension host prints; only the suite's own lines are of interest here. */
function printOurs(args) {
  const text = (Array.isArray(args) ? args : [args]).map(String).join(' ');
  if (process.env.SHOW_HOST || text.startsWith('suite: ')) console.log(text.replace(/^suite: /, ''));
}
