/**
 * The steps of drive.mjs in the panel of pictures: opened, followed, clicked, zoomed, reloaded and read in every kind of
 * theme, as a person would. They work in a copy of the sample workspace.
 */
import fs from 'node:fs';
import path from 'node:path';
import assert from 'node:assert/strict';
import axe from 'axe-core';
import { find, questionListens } from './keys.mjs';

const spec = 'first-draft.shoot.yaml';

/** `tools`: what drive.mjs does itself: { page, samples, openFile, picture, runCommand, lineWith, until }. */
export function panelSteps(tools) {
  const { page, samples, openFile, picture, runCommand, lineWith, until } = tools;

  return [
    ['shows the pictures of a plan beside it', opens],
    ['follows the cursor to another shot', followsCursor],
    ['draws anew while somebody types, and while the text is broken', drawsLive],
    ['goes to the text from a click in the picture', goesToText],
    ['shows the frame, and zooms by keys and wheel', zooms],
    ['shows the same after a reload', survivesReload],
    ['is legible in every kind of theme', isLegible],
    ['plays the film, which the text follows', plays],
  ];

  /** The page of the panel lies in a frame in a frame. */
  function panel() {
    return page.frameLocator('iframe.webview').frameLocator('iframe#active-frame');
  }

  function titled(title) {
    return panel().locator('h1#title', { hasText: title }).waitFor({ state: 'attached' });
  }

  async function goTo(words) {
    await page.locator('.monaco-editor').first().click();
    await find(page, 'Control+f', words);
    await page.keyboard.press('Enter');
    await page.keyboard.press('Escape');
  }

  async function opens() {
    await samples.show({ width: 1500, height: 940 });
    await openFile(spec);
    await page.locator('.squiggly-warning, .squiggly-error').first().waitFor({ timeout: 300_000 });
    await page.locator('.editor-actions a[aria-label^="Show the Pictures of This Plan"]').click();
    await titled('the set from above');
    await runCommand('View: Toggle Primary Side Bar Visibility');
    await goTo('  spin:');
    await titled('spin: the set from above');
    await picture('panel', 1000); // Notices go.
  }

  async function followsCursor() {
    await goTo('  winding:');
    await titled('winding: the set from above');
    await goTo('  spin:');
    await titled('spin: the set from above');
  }

  async function drawsLive() {
    const size = panel().locator('#picture svg text', { hasText: '9 x 6 x 7 cm' });
    await size.first().waitFor();
    await goTo('9 x 6 x 7');
    await page.keyboard.type('9 x 6 x 8'); // What was found is selected.
    await panel().locator('#picture svg text', { hasText: '9 x 6 x 8 cm' }).first().waitFor();
    await page.keyboard.type('"');
    await page.keyboard.press('Home');
    await page.keyboard.type('"');
    await panel().locator('#note', { hasText: "can't be read just now" }).waitFor();
    await panel().locator('#picture svg').waitFor();
    await runCommand('File: Revert File');
    await size.first().waitFor();
    await panel().locator('#note:empty').waitFor({ state: 'attached' });
  }

  async function goesToText() {
    await goTo('title:');
    await panel().locator('#picture svg text', { hasText: '9 x 6 x 7 cm' }).first().click();
    await page.locator('.statusbar-item', { hasText: /Ln \d+, Col \d+ \(12 selected\)/ }).waitFor();
    await lineWith('size: 9 x 6 x 7 cm').waitFor();
    const finding = panel().locator('#findings button').first();
    await finding.focus();
    await page.keyboard.press('Enter');
    await page.locator('.statusbar-item', { hasText: '(4 selected)' }).waitFor(); // The lamp that the first finding is about: back.
    await goTo('  spin:');
  }

  async function zooms() {
    await panel()
      .locator('[role=tab]', { hasText: /^Frame$/ })
      .click();
    await titled('spin: the frame');
    await picture('panel-frame');
    await page.keyboard.press('+');
    await page.keyboard.press('+');
    await panel().locator('#fit', { hasText: '150 %' }).waitFor();
    // The middle of a tall picture may be out of sight.
    await panel()
      .locator('#picture')
      .hover({ position: { x: 60, y: 60 } });
    await page.keyboard.down('Control');
    await page.mouse.wheel(0, 100);
    await page.keyboard.up('Control');
    await panel().locator('#fit', { hasText: '125 %' }).waitFor();
  }

  async function plays() {
    await panel()
      .locator('[role=tab]', { hasText: /^Film in time$/ })
      .click();
    const shown = async () => Number(await panel().locator('#screen').getAttribute('data-frame'));
    await panel().locator('#screen[data-frame]').waitFor();
    await panel().locator('#moment').focus();
    await page.keyboard.press('Home');
    await page.keyboard.press('PageDown');
    await panel().locator('#now', { hasText: 'piece 2 ' }).waitFor();
    const lines = fs.readFileSync(path.join(samples.folder, spec), 'utf8').split('\n');
    const second = 1 + lines.findIndex((line) => line.includes('shot: winding'));
    await page.locator('.active-line-number', { hasText: String(second) }).waitFor();
    await page.keyboard.press('Home');
    await page.keyboard.press('Space');
    await until(async () => (await shown()) > 10);
    await page.keyboard.press('Space');
    // Painted by a worker that the editor lets in: not the grey of a card alone.
    await until(() =>
      panel()
        .locator('#screen')
        .evaluate((screen) => {
          const { data } = screen.getContext('2d').getImageData(0, 0, screen.width, screen.height);
          return new Set(Array.from({ length: 500 }, (_, at) => data[Math.floor((at / 500) * data.length)])).size > 20;
        }),
    );
    await picture('panel-film');
  }

  async function survivesReload() {
    // The editor keeps its state a moment later, on a busy machine some moments.
    for (const waitMs of [1500, 5000, 20_000]) {
      await page.waitForTimeout(waitMs);
      await page.reload();
      await titled('the frame');
      if ((await panel().locator('#fit').textContent()) === '125 %') break;
      await panel().locator('#picture').press('0');
      await panel().locator('#picture').press('+');
    }
    assert.equal(await panel().locator('#fit').textContent(), '125 %');
    await panel().locator('#picture').press('0');
  }

  async function isLegible() {
    for (const [theme, name, file] of [
      ['Light Modern', 'vscode-light'],
      ['Dark High Contrast', 'vscode-high-contrast', 'panel-high-contrast'],
      ['Light High Contrast', 'vscode-high-contrast-light'],
      ['Dark Modern', 'vscode-dark'],
    ]) {
      await page.locator('.monaco-editor').first().click();
      await page.keyboard.press('Control+k');
      await page.keyboard.press('Control+t');
      await page.locator('.quick-input-widget input[placeholder^="Select Color Theme"]').waitFor();
      await questionListens(page, '');
      await page.keyboard.type(theme);
      await page.locator('.quick-input-list .monaco-list-row.focused', { hasText: theme }).waitFor();
      await page.keyboard.press('Enter');
      await panel().locator(`body.${name}`).waitFor();
      let found;
      await until(async () => (found = await faults()).length === 0); // The colours come a moment later.
      assert.deepEqual(found, [], theme);
      if (file) await picture(file);
    }
  }

  /** What axe finds wrong in the panel's own page. */
  async function faults() {
    const frame = await (await panel().locator('html').elementHandle()).ownerFrame();
    await frame.evaluate(axe.source);
    return frame.evaluate(async () => {
      const { violations } = await globalThis.axe.run({ runOnly: ['wcag2a', 'wcag2aa', 'wcag21aa', 'wcag22aa'] });
      return violations.map(({ id, nodes }) => `${id}: ${nodes[0].html}`);
    });
  }
}
