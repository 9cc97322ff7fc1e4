/**
 * A window with a copy of the samples, which parts of drive.mjs share: to load the workbench takes the machine as long as a
 * part. Each part finds it with no file open.
 */
import fs from 'node:fs';
import path from 'node:path';
import { root } from '../../scripts/editor.mjs';

export class SamplesWindow {
  #folder;
  #copies = 0;

  /** `tools`: what drive.mjs does itself: { page, editor, parent, runCommand }. */
  constructor(tools) {
    this.tools = tools;
  }

  /** The folder that the window shows. */
  get folder() {
    return this.#folder;
  }

  /** Shows the window in a size, and opens it where there is none yet. */
  async show(size) {
    const { page } = this.tools;
    await page.setViewportSize(size);
    await (this.#folder ? this.#clear() : this.#open());
  }

  /** After a fault nobody knows what is open in it: the next part gets a window and a copy of its own. */
  abandon() {
    this.#folder = undefined;
  }

  async #open() {
    const { page, editor, parent } = this.tools;
    this.#folder = path.join(parent, `films-${++this.#copies}`);
    fs.cpSync(path.join(root, 'sample-workspace'), this.#folder, { recursive: true });
    // Where somebody has made clips for the samples, they stay out.
    fs.rmSync(path.join(this.#folder, 'footage'), { recursive: true, force: true });
    await page.goto(editor.url(this.#folder));
    await page.locator('.monaco-workbench').waitFor();
  }

  async #clear() {
    const { page, runCommand } = this.tools;
    await page.locator('.monaco-editor').first().click();
    await runCommand('View: Close All Editors');
    await page.locator('.tab').first().waitFor({ state: 'detached' });
  }
}
