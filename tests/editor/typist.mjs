/**
 * Types a text into the editor as a person would: key by key, Enter after each line, looking where the cursor went
 * and setting the indentation right with Tab and Backspace. It takes nothing that completion offers, so each line must
 * stand as it was typed.
 */
const limitMs = 120_000;
/** A line that does not go on within this time after Enter was taken by something. */
const takenMs = 2500;
/** Between two looks at the cursor, which keep the page from its work. */
const looksAfterMs = 20;

export class Typist {
  /** Keys pressed for the indentation alone, of which the editor could have spared some. */
  indentKeys = 0;
  /** Brackets that Enter parted, so that their other half already waits on a line of its own. */
  #waiting = [];

  /**
   * @param page the browser's page with a file open and the focus in it
   * @param pace milliseconds between two keys
   * @param pastes cuts every so many a line and pastes it again before going on; none for 0
   * @param insists asks for completion at the end of each line and waits for it, so that it is open at Enter
   */
  constructor(page, { pace = 0, insists = false, pastes = 0 } = {}) {
    this.page = page;
    this.pace = pace;
    this.insists = insists;
    this.pastes = pastes;
  }

  /** Types all lines; the last one is left with Enter as well. */
  async type(text) {
    const lines = text.replace(/\n$/, '').split('\n');
    for (const [index, line] of lines.entries()) {
      await this.#indent(line);
      await this.#write(line.trimStart());
      if (this.pastes > 0 && index % this.pastes === this.pastes - 1 && line !== '') await this.#paste(line.length + 1);
      // In a comment and on an empty line nobody asks.
      if (this.insists && /^\s*[^\s#]/.test(line)) await this.#ask();
      await this.#leave(line, lines[index + 1] ?? '');
    }
    await this.#indent('', true);
  }

  async #write(words) {
    const waits = this.#waiting.at(-1);
    // The other half of the bracket stands here already.
    const typed = waits && words.startsWith(waits) && this.#isDown ? words.slice(1) : words;
    if (typed !== words) this.#waiting.pop();
    this.#isDown = false;
    for (const letter of typed) {
      await this.page.keyboard.type(letter);
      if (this.pace > 0) await this.page.waitForTimeout(this.pace);
    }
  }

  #isDown = false;

  async #leave(line, next) {
    const { page } = this;
    const { line: row } = await this.place();
    const waits = this.#waiting.at(-1);
    this.#isDown = waits !== undefined && next.trimStart().startsWith(waits);
    if (this.#isDown) {
      await page.keyboard.press('Escape');
      await page.keyboard.press('ArrowDown');
      await page.keyboard.press('End');
    } else {
      const opened = /[[{]$/.exec(line)?.[0];
      if (opened) this.#waiting.push(opened === '{' ? '}' : ']');
      await page.keyboard.press('Enter');
    }
    if (await this.comes(({ line: now }) => now > row, takenMs)) return;
    await page.keyboard.press('Escape');
    await page.keyboard.press('End');
    await page.keyboard.press('Enter');
    await this.comes(({ line: now }) => now > row, takenMs);
  }

  /** From where the editor put the cursor to where the line begins. */
  async #indent(line, isLast = false) {
    if (this.#isDown || (line === '' && !isLast)) return;
    const wanted = line.length - line.trimStart().length + 1;
    for (let keys = 0; keys < 30; keys++) {
      const { column } = await this.place();
      if (column === wanted) return;
      this.indentKeys++;
      await this.page.keyboard.press(column > wanted ? 'Backspace' : wanted - column >= 2 ? 'Tab' : 'Space');
      await this.comes((now) => now.column !== column, takenMs);
    }
  }

  /** What was typed in this line cut, and pasted to where it stood. */
  async #paste(column) {
    // The status bar may lag behind the keys.
    await this.comes((now) => now.column === column, limitMs);
    for (const key of ['Escape', 'Shift+Home', 'Control+x']) await this.page.keyboard.press(key);
    await this.comes((now) => now.column < column, takenMs);
    // A browser that is busy drops a question for its clipboard now and then.
    for (let tries = 0; tries < 3; tries++) {
      await this.page.keyboard.press('Control+v');
      if (await this.comes((now) => now.column === column, limitMs)) return;
    }
  }

  /** Completion, asked for by its key, with its answer on the screen; the editor drops a question now and then. */
  async #ask() {
    const widget = this.page.locator('.suggest-widget');
    const none = this.page.locator('.suggest-widget', { hasText: 'No suggestions' });
    const answer = this.page
      .locator('.suggest-widget.visible')
      .and(widget.and(this.page.locator(':not(.message)')).or(none));
    for (let tries = 0; tries < 3; tries++) {
      // In a list that is open already the same key would choose its first line.
      await this.page.keyboard.press('Escape');
      await this.page.keyboard.press('Control+Space');
      const came = answer.first().waitFor({ timeout: takenMs });
      if (
        await came.then(
          () => true,
          () => false,
        )
      )
        return;
    }
  }

  /** Whether the cursor comes to be where it should within a time. */
  async comes(isSo, limit = limitMs) {
    for (const end = Date.now() + limit; Date.now() < end;) {
      if (isSo(await this.place())) return true;
      await this.page.waitForTimeout(looksAfterMs);
    }
    return false;
  }

  /** Where the cursor is, as the status bar says it. */
  async place() {
    // As it is written: for the text as it is seen the page would be laid out each time.
    const text = await this.page.locator('[id="status.editor.selection"]').textContent({ timeout: limitMs });
    const [, line, column, selected = 0] = /Ln (\d+), Col (\d+)(?: \((\d+) selected\))?/.exec(text) ?? [];
    return { line: Number(line), column: Number(column), selected: Number(selected) };
  }
}
