/** Files in the browser-served editor, for tests that type: opened by their name, and saved. */
import fs from 'node:fs';
import path from 'node:path';
import { questionListens } from './keys.mjs';

const limitMs = 300_000;

export class Desk {
  constructor(page, folder) {
    this.page = page;
    this.folder = folder;
  }

  /** Opens the folder in a window of its own. */
  async show(url) {
    await this.page.goto(url);
    await this.page.locator('.monaco-workbench').waitFor({ timeout: limitMs });
  }

  /** Opens a file that holds a text, with the cursor at its end; its languages' checks have begun. */
  async open(name, text = '') {
    const { page } = this;
    const file = path.join(this.folder, name);
    fs.mkdirSync(path.dirname(file), { recursive: true });
    fs.writeFileSync(file, text);
    await this.#choose(name);
    await page
      .locator('.tab.active', { hasText: path.basename(name) })
      .first()
      .waitFor({ timeout: limitMs });
    await page.locator('.editor-group-container.active .monaco-editor.focused .view-line').first().waitFor();
    await page
      .locator('.statusbar-item', { hasText: /^Shoot (Spec|Kit|Settings)/ })
      .first()
      .waitFor({ timeout: limitMs });
    await page.keyboard.press('Control+End');
    await this.#atEndOf(text);
  }

  #atEndOf(text) {
    const lines = text.split('\n');
    return this.#at(lines.length, lines.at(-1).length + 1);
  }

  /** In the list of files, which may be older than the file and is then asked again. */
  async #choose(name) {
    const { keyboard } = this.page;
    const row = this.#row(path.basename(name));
    for (let tries = 0; tries < 20; tries++) {
      await keyboard.press('Control+p');
      await questionListens(this.page, '');
      // At once: with every key the list would be searched anew.
      await keyboard.insertText(name);
      const isThere = await row.waitFor({ timeout: 3000 }).then(
        () => true,
        () => false,
      );
      await keyboard.press(isThere ? 'Enter' : 'Escape');
      if (isThere) return;
    }
    throw new Error(`The editor does not find ${name}.`);
  }

  #row(label) {
    return this.page.locator('.quick-input-list .monaco-list-row.focused', { hasText: label }).first();
  }

  #at(line, column) {
    const place = this.page.locator('[id="status.editor.selection"]', { hasText: `Ln ${line}, Col ${column}` });
    return place.first().waitFor({ timeout: limitMs });
  }

  /** Saves the file in front and answers what is on the disk. */
  async saved(name) {
    const { page } = this;
    await page.keyboard.press('Control+s');
    await page.locator('.tab.active.dirty').waitFor({ state: 'detached', timeout: limitMs });
    return fs.readFileSync(path.join(this.folder, name), 'utf8');
  }
}
