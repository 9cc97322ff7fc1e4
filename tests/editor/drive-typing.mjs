/** What is typed stands: the beginning of a sample and whole blocks, key by key, with completion open at each Enter. */
import assert from 'node:assert/strict';
import fs from 'node:fs';
import path from 'node:path';
import { root } from '../../scripts/editor.mjs';
import { Desk } from './desk.mjs';
import { Typist } from './typist.mjs';

/**
 * Whole blocks that completion offers where something is written again and again: the text before it, and its name.
 * `typed` ones are written by hand as well; lines of all plans are in tests/features/typing.test.ts.
 */
const blocks = [
  { kind: 'shoot', before: 'shots:\n  ', label: 'new shot that turns', typed: true },
  { kind: 'shoot', before: 'deliver:\n  ', label: 'new deliverable' },
  { kind: 'shoot', before: 'cut:\n  - ', label: 'new piece with a push-in' },
  { kind: 'shoot', before: 'titles:\n  - ', label: 'new title' },
  { kind: 'kit', before: 'lamps:\n  ', label: 'new lamp', typed: true },
  { kind: 'kit', before: 'cameras:\n  cam:\n    modes:\n      - ', label: 'new mode' },
];

/** `tools`: what drive.mjs does itself: { page, samples }. */
export function typingSteps({ page, samples }) {
  let desk;
  const sample = 'clay-whistle.shoot.yaml';
  /** Texts of the blocks by kind, for typing them by hand. */
  const written = { shoot: new Set(), kit: new Set() };
  return [
    [`the beginning of ${sample} stands as it is typed, with completion open at each Enter`, typesSample],
    ['a new line inside a block shows its keys by itself, and Tab and Enter stay what they are', offersOnNewLine],
    ['Tab takes what is offered below a key that was taken from the list', takesBelowKey],
    ['whole blocks are taken from the list, and Tab goes from place to place', takesBlocks],
    ['some of them stand as they are typed', typesBlocks],
    ['what is pasted stands', pastes],
  ];

  async function typesSample() {
    await samples.show({ width: 900, height: 500 }); // Drawing a large one takes longer than typing.
    desk = new Desk(page, samples.folder);
    const lines = fs.readFileSync(path.join(root, 'sample-workspace', sample), 'utf8').split('\n');
    // Each line takes some seconds; `npm run type` types all of all samples.
    await types('typed.shoot.yaml', `${lines.slice(0, 7).join('\n')}\n`, { insists: true });
  }

  async function types(name, text, manner) {
    await desk.open(name);
    await new Typist(page, manner).type(text);
    await page.keyboard.press('Escape');
    assert.equal(await desk.saved(name), text);
  }

  async function offersOnNewLine() {
    const name = 'new-line.shoot.yaml';
    const list = page.locator('.suggest-widget.visible');
    const row = (label) => list.locator(`.monaco-list-row[aria-label^="${label},"]`).first();
    const chosen = list.locator('.monaco-list-row.focused');
    await desk.open(name, 'titles:\n  - text: Hello\n    at: 1 s');
    await page.keyboard.press('Enter');
    await row('hold').waitFor();
    assert.equal(await chosen.count(), 0);
    await page.keyboard.press('Tab');
    await page.locator('[id="status.editor.selection"]', { hasText: 'Ln 4, Col 7' }).waitFor();
    await page.keyboard.press('Backspace');
    await page.keyboard.press('Escape');
    await page.keyboard.type('ho');
    await row('hold').waitFor();
    await page.keyboard.press('Tab');
    await page.locator('[id="status.editor.selection"]', { hasText: 'Ln 4, Col 11' }).waitFor();
    await page.keyboard.type('2 s');
    await page.keyboard.press('Enter');
    await row('letters').waitFor();
    await page.keyboard.press('Enter');
    await page.locator('[id="status.editor.selection"]', { hasText: 'Ln 6' }).waitFor();
    assert.equal((await desk.saved(name)).trimEnd(), 'titles:\n  - text: Hello\n    at: 1 s\n    hold: 2 s');
  }

  async function takesBelowKey() {
    const list = page.locator('.suggest-widget.visible');
    const row = (label) => list.locator(`.monaco-list-row[aria-label^="${label},"]`).first();
    await desk.open('below-key.shoot.yaml');
    await page.keyboard.type('deli');
    await row('deliver').waitFor();
    await page.keyboard.press('Tab');
    await row('new deliverable').waitFor();
    await page.keyboard.press('Tab');
    await page.locator('.view-line', { hasText: 'raster' }).first().waitFor();
    await page.keyboard.press('Escape');
    assert.match(await desk.saved('below-key.shoot.yaml'), /^deliver:\n {2}\w+:/);
  }

  /** What is typed over each place is what stands there, so that the whole must stay as it was put in. */
  async function takesBlocks() {
    for (const { kind, before, label, typed } of blocks) {
      const name = `${label.replaceAll(' ', '-')}.${kind}.yaml`;
      await desk.open(name, before);
      await takes(label);
      const whole = await desk.saved(name);
      await fills(whole.split('\n'));
      assert.equal(await desk.saved(name), whole, label);
      if (typed) written[kind].add(whole.replace(/\n*$/, '\n'));
    }
  }

  async function fills(lines) {
    let place = await new Typist(page).place();
    while (place.selected > 0) {
      const { line, column, selected } = place;
      await page.keyboard.type(lines[line - 1].slice(column - 1 - selected, column - 1));
      const isEnd = line === lines.length && column > lines[line - 1].length;
      place = isEnd ? { selected: 0 } : await nextPlace(place);
    }
  }

  async function nextPlace({ line, column }) {
    const typist = new Typist(page);
    await page.keyboard.press('Tab');
    for (let tries = 0; tries < 200; tries++) {
      const now = await typist.place();
      if (now.line !== line || now.column !== column) return now;
      await page.waitForTimeout(20);
    }
    throw new Error(`Tab stays at line ${line}`);
  }

  /** Asks for the list, goes down to a whole block, and takes it with Enter. */
  async function takes(label) {
    const row = page.locator('.suggest-widget.visible .monaco-list-row.focused');
    await page.keyboard.press('Control+Space');
    await row.waitFor();
    for (let rows = 0; rows < 60; rows++) {
      if ((await row.getAttribute('aria-label'))?.startsWith(`${label},`)) break;
      await page.keyboard.press('ArrowDown');
    }
    await page.keyboard.press('Enter');
    await row.waitFor({ state: 'detached' });
    await page.locator('[id="status.editor.selection"]', { hasText: 'selected' }).waitFor();
  }

  async function typesBlocks() {
    for (const [kind, texts] of Object.entries(written)) {
      const all = [...texts]
        .join('')
        .replaceAll(/^(\w[\w-]*:)$/gm, '\n$1')
        .replace(/^\n+/, '');
      await types(`blocks.${kind}.yaml`, all);
    }
  }

  /** Cut and pasted again: one line, then all of them, which come with their indentation. */
  async function pastes() {
    const name = 'pasted.shoot.yaml';
    const lines = ['title: Tin frog', 'camera:', '  iso: 100', '  shutter: 1/50 s'];
    await desk.open(name, lines.join('\n'));
    for (const from of ['Shift+Home', 'Control+Shift+Home']) {
      const typist = new Typist(page);
      const { line, column } = await typist.place();
      await page.keyboard.press(from);
      await typist.comes(({ selected }) => selected > 0);
      await page.keyboard.press('Control+x');
      await typist.comes((now) => now.selected === 0);
      await page.keyboard.press('Control+v');
      await typist.comes((now) => now.line === line && now.column === column);
    }
    assert.equal(await desk.saved(name), lines.join('\n'));
  }
}
