/**
 * Drives the packaged extension in a real workbench as a person would, with mouse and keys, and keeps pictures of it.
 * usage: node tests/editor/drive.mjs [--keep-pictures] [film] [beginning] [takes] [panel] [typing]
 * Pictures go to tests/editor/shots/ only when asked for. Without a name all parts are gone through, one after the other.
 */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import assert from 'node:assert/strict';
import { openBrowser, packageExtension, root, startEditor } from '../../scripts/editor.mjs';
import { installEditor } from '../../scripts/setup-editor.mjs';
import { goThrough, tellCount } from '../helpers/steps.mjs';
import { panelSteps } from './drive-panel.mjs';
import { takesSteps } from './drive-takes.mjs';
import { typingSteps } from './drive-typing.mjs';
import { find, questionListens } from './keys.mjs';
import { SamplesWindow } from './samples-window.mjs';

/** Only what hangs may reach it. */
const limitMs = 300_000;
const spec = 'music-box.shoot.yaml';
const keep = process.argv.includes('--keep-pictures');
const pictures = path.join(root, 'tests/editor/shots');

installEditor();
// What runs tests one after the other has packed it.
if (!process.env.SKIP_BUILD) packageExtension();

const parent = fs.mkdtempSync(path.join(os.tmpdir(), 'shoot-spec-drive-'));
const folder = path.join(parent, 'tinnabel');
fs.cpSync(path.join(root, 'tests/editor/workspace'), folder, { recursive: true });
const editor = await startEditor({
  vsix: path.join(root, 'shoot-spec.vsix'),
  more: { 'editor.hover.delay': 150, 'window.title': '${activeEditorShort}${separator}${rootName}' },
});
const browser = await openBrowser();
const { page } = browser;
page.setDefaultTimeout(limitMs);
const samples = new SamplesWindow({ page, editor, parent, runCommand });

/** Each step of a part stands on the one before; the parts stand each on its own. The last three share a window. */
const parts = {
  film: [
    ['opens a spec and marks the unknown key', marksUnknownKey],
    ['colours keys, words, numbers and comments apart', colours],
    ['counts the findings beside the language', countsFindings],
    ['says why in a hover', hovers],
    ['offers the fix in a menu and applies it', fixes],
    ['undo brings the finding back', undoes],
    ['says why a shutter is wrong, in numbers, and sets it right', fixesShutter],
    ['saves the fixed file', saves],
    ['finds settings that work, and takes them over', findsSettings],
    ['marks the spec when its kit is edited', followsKit],
    ['asks for a name and a region, and writes a new spec for the only kit', asksForNewSpec],
    ['leads through a first film', leadsThrough],
  ],
  beginning: [['begins in an empty folder, from the walkthrough', beginsInEmptyFolder]],
  takes: takesSteps({ page, samples, parent, openFile, picture, wordBox, until }),
  panel: panelSteps({ page, samples, openFile, picture, runCommand, lineWith, until }),
  typing: typingSteps({ page, samples }),
};
const wanted = process.argv.slice(2).filter((word) => !word.startsWith('--'));
for (const [part, steps] of Object.entries(parts)) {
  if (wanted.length > 0 && !wanted.includes(part)) continue;
  const stands = await goThrough(steps, { within: `${part} > `, bearsTheRest: () => true, page });
  if (!stands) samples.abandon();
}
await browser.close();
await editor.stop();
fs.rmSync(parent, { recursive: true, force: true });
tellCount();

async function marksUnknownKey() {
  await page.goto(editor.url(folder));
  await page.locator('.monaco-workbench').waitFor({ timeout: limitMs });
  await openFile(spec);
  const mark = page.locator('.squiggly-error').first();
  await mark.waitFor({ timeout: limitMs });
  await lineWith('375 MB of takes').waitFor(); // The hints come last, and draw the lines anew.
  const [place, word] = [await mark.boundingBox(), await wordBox('shuter')];
  // The squiggle stands under these six letters and no others; a pixel is lost to rounding.
  assert.ok(Math.abs(place.x - word.x) <= 1.5 && Math.abs(place.width - word.width) <= 3, 'the mark is under `shuter`');
  assert.ok(Math.abs(place.y - word.y) <= 4, 'the mark is in its line');
  await picture('finding');
}

async function colours() {
  const places = ['white-balance', 'locked', '5600', '# every shot'].map((text) => [text, wordBox(text)]);
  const seen = await Promise.all(places.map(async ([text, box]) => [text, (await box)?.colour]));
  assert.equal(new Set(seen.map(([, colour]) => colour)).size, seen.length, JSON.stringify(seen));
}

async function countsFindings() {
  await page.locator('.statusbar-item', { hasText: 'Shoot Spec' }).waitFor();
  await page.locator('#status\\.languageStatus').hover();
  await page
    .locator('.hover-language-status', { hasText: /\d+ (error|warning)/ })
    .first()
    .waitFor();
  await page.mouse.move(900, 700);
}

async function hovers() {
  const word = await wordBox('shuter');
  await page.mouse.move(word.x + word.width / 2, word.y + word.height / 2);
  await page.locator('.monaco-hover', { hasText: 'shuter' }).first().waitFor();
  await page.locator('.monaco-hover', { hasText: 'Quick Fix' }).first().waitFor();
  await picture('hover');
  await page.keyboard.press('Escape');
}

async function fixes() {
  const word = await wordBox('shuter');
  await page.mouse.click(word.x + word.width / 2, word.y + word.height / 2);
  const fix = page.locator('.action-widget .monaco-list-row', { hasText: 'shutter' }).first();
  await openMenuWith(fix);
  await picture('fixes');
  await clickMoving(fix);
  await lineWith('shutter: 1/50 s').waitFor();
  await page.locator('.squiggly-error').first().waitFor({ state: 'detached' });
  await picture('fixed');
}

/** An editor that hears of new findings just then drops its question for fixes, says that there are none, and is asked again. */
async function openMenuWith(fix) {
  await until(async () => {
    await page.keyboard.press('Control+.');
    const isThere = await fix.waitFor({ timeout: 3000 }).then(
      () => true,
      () => false,
    );
    if (!isThere) await page.keyboard.press('Escape');
    return isThere;
  });
}

async function undoes() {
  await page.keyboard.press('Control+z');
  await page.locator('.squiggly-error').first().waitFor();
  assert.ok(await wordBox('shuter'));
  await page.keyboard.press('Control+Shift+z');
  await lineWith('shutter: 1/50 s').waitFor();
}

async function fixesShutter() {
  await page.locator('.squiggly-warning').first().waitFor();
  const value = await wordBox('1/200 s');
  await page.mouse.move(value.x + value.width / 2, value.y + value.height / 2);
  await page
    .locator('.monaco-hover', { hasText: /45°[^]*180°/ })
    .first()
    .waitFor();
  await page.locator('.monaco-hover', { hasText: 'Quick Fix' }).first().waitFor();
  await picture('why');
  await page.keyboard.press('Escape');
  await page.mouse.click(value.x + value.width / 2, value.y + value.height / 2);
  const fix = page.locator('.action-widget .monaco-list-row', { hasText: /shutter to 1\/50 s/ }).first();
  await openMenuWith(fix);
  await picture('choices');
  await clickMoving(fix);
  await lineWith('angle: 30°, shutter: 1/50 s').waitFor();
  await page.locator('.squiggly-warning').first().waitFor({ state: 'detached' });
}

async function saves() {
  await page.keyboard.press('Control+s');
  const text = () => fs.readFileSync(path.join(folder, spec), 'utf8');
  await until(() => !text().includes('shuter'));
  assert.match(text(), /^ {2}shutter: 1\/50 s$/m);
}

/** A lens that is far too wide open: the settings that mend it stand in the menu with their price. */
async function findsSettings() {
  const place = await wordBox('30°');
  await page.mouse.click(place.x + place.width - 1, place.y + place.height / 2);
  await page.keyboard.type(', aperture: f/2');
  await page.keyboard.press('Escape');
  await page.locator('.squiggly-warning').first().waitFor();
  const row = page.locator('.action-widget .monaco-list-row', { hasText: /Make `turned` work: f\// }).first();
  // They are looked for while somebody reads the line, and are in the menu from then on.
  await until(async () => {
    await page.keyboard.press('Escape'); // What completion offers for the aperture, or the menu without them.
    await page.keyboard.press('Control+Shift+R');
    return row.waitFor({ timeout: 1500 }).then(
      () => true,
      () => false,
    );
  });
  await picture('settings');
  await clickMoving(row);
  await page.locator('.squiggly-warning').first().waitFor({ state: 'detached' });
  await runCommand('File: Revert File');
  await lineWith('camera: { angle: 30°, shutter: 1/50 s').waitFor();
}

async function leadsThrough() {
  await openWalkthrough();
  const step = (title, done) => page.locator(`.getting-started-step[aria-checked=${done}]`, { hasText: title });
  await step('Open a folder for your films', true).waitFor();
  await step('Check the whole folder', false).waitFor();
  await picture('walkthrough', 1000); // The page slides in.
}

async function openWalkthrough() {
  const title = 'A first finished film plan';
  await runCommand('Welcome: Open Walkthrough...');
  await page.locator('.quick-input-list .monaco-list-row', { hasText: title }).waitFor();
  await questionListens(page, '');
  await page.keyboard.type(title);
  await chosen(title).waitFor();
  await page.keyboard.press('Enter');
}

async function runCommand(title, timeout = limitMs) {
  await page.keyboard.press('F1');
  await questionListens(page, '>');
  await page.keyboard.insertText(title);
  await chosen(title).waitFor({ timeout });
  await page.keyboard.press('Enter');
}

/** The row of a list that Enter would take. */
function chosen(text) {
  return page.locator('.quick-input-list .monaco-list-row.focused', { hasText: text }).first();
}

/** Waits until something is so, as long as one may wait; the caller says what is wrong where it never is. */
async function until(isSo) {
  for (const end = Date.now() + limitMs; Date.now() < end;) {
    if (await isSo()) return;
    await page.waitForTimeout(100);
  }
}

/** The kit is edited beside the spec, without saving: the spec's mark comes at once. */
async function followsKit() {
  await page.keyboard.press('Control+\\');
  await openFile('table.kit.yaml', 'kits');
  await find(page, 'Control+h', '[25, 50]');
  await page.locator('.find-widget.visible .matchesCount', { hasText: /of 1$/ }).waitFor();
  await page.keyboard.press('Tab');
  await page.keyboard.type('[24, 50]');
  await page.keyboard.press('Control+Alt+Enter');
  await page.keyboard.press('Escape');
  await page.locator('.find-widget.visible').waitFor({ state: 'detached' });
  await page.locator('.split-view-view .editor-instance').first().locator('.squiggly-error').first().waitFor();
  await picture('kit', 1000); // The list of files counts with a delay.
}

/** Through the command palette, with the keys, as anybody would the first time. */
async function asksForNewSpec() {
  await runCommand('Shoot Spec: New Shoot Spec');
  await answer('What is the film called?', 'Clay whistle: first film');
  await asked('Where do you film?');
  await page.keyboard.type('jp');
  await page.locator('.quick-input-widget', { hasText: 'both: JP 60 Hz' }).waitFor();
  await page.keyboard.type(' 50');
  await page.keyboard.press('Enter');
  await page.locator('.tab.active', { hasText: 'clay-whistle-first-film.shoot.yaml' }).first().waitFor();
  const text = fs.readFileSync(path.join(folder, 'clay-whistle-first-film.shoot.yaml'), 'utf8');
  assert.match(text, /^title: "Clay whistle: first film"\nkit: kits\/table.kit.yaml\n\nproduct:/m);
  assert.match(fs.readFileSync(path.join(folder, 'shootspec.yaml'), 'utf8'), /^region: JP 50 Hz /m);
}

/**
 * The page of the walkthrough takes the focus when a step is done, so the questions must wait, and no step is done
 * before its file is there. Also that an empty folder says how to begin, and that nothing needs the editor's own search.
 */
async function beginsInEmptyFolder() {
  const empty = path.join(parent, 'empty');
  fs.mkdirSync(empty);
  await page.goto(editor.url(empty));
  await page.locator('.monaco-workbench').waitFor();
  await until(async () => {
    await page.keyboard.press('Escape');
    return runCommand('Shoot Spec: Check All Specs', 4000).then(
      () => true,
      () => false, // The extensions are not known yet.
    );
  });
  await page.locator('.notifications-toasts .monaco-button', { hasText: 'New Shoot Spec' }).click();
  await asked('What is the film called?');
  await page.keyboard.press('Escape');

  await openWalkthrough();
  await pressIn('Say what you film with', 'New Kit');
  await chosen('A phone').waitFor();
  // As the page does by itself: the question stays.
  await focusStep(page.locator('.getting-started-step.expanded'));
  await page.locator('.quick-input-list .monaco-list-row', { hasText: 'with a zoom lens' }).click();
  await answer('How large is its sensor', '36x24');
  await chosen('A light panel').waitFor();
  await isTicked('Say what you film with', false);
  await questionListens(page);
  await page.keyboard.press('Enter');
  await page.locator('.tab.active', { hasText: 'camera.kit.yaml' }).first().waitFor();
  await page.locator('.monaco-editor.focused .snippet-placeholder').first().waitFor();
  await page.keyboard.type('50 mm');
  await page.keyboard.press('Tab');
  await page.keyboard.type('f/2.8 to f/22');
  await page.keyboard.press('Tab');
  await page.keyboard.type('40 cm');
  await page.keyboard.press('Control+s');
  const kitFile = path.join(empty, 'kits/camera.kit.yaml');
  await until(() =>
    fs.readFileSync(kitFile, 'utf8').includes('{ focal: 50 mm, aperture: f/2.8 to f/22, nearest-focus: 40 cm }'),
  );

  await page.locator('.tab', { hasText: 'Walkthrough' }).first().click();
  await isTicked('Say what you film with', true);
  await pressIn('Write a first spec', 'New Shoot Spec');
  await asked('What is the film called?');
  await isTicked('Write a first spec', false);
  await answer('What is the film called?', 'Whistle');
  await answer('Where do you film?', 'de');
  await page.locator('.tab.active', { hasText: 'whistle.shoot.yaml' }).first().waitFor();
  await lineWith('sharp .* wide').waitFor(); // The hints: it has been checked.
  assert.equal(await page.locator('.squiggly-error, .squiggly-warning, .squiggly-info').count(), 0);
  await page.locator('.tab', { hasText: 'Walkthrough' }).first().click();
  await isTicked('Write a first spec', true);
  assert.deepEqual(fs.readdirSync(empty).sort(), ['kits', 'shootspec.yaml', 'whistle.shoot.yaml']);
}

async function pressIn(title, button) {
  const step = page.locator('.getting-started-step', { hasText: title });
  await focusStep(step);
  await step.locator('.monaco-button', { hasText: button }).click();
}

function isTicked(title, done) {
  return page.locator(`.getting-started-step[aria-checked=${done}]`, { hasText: title }).waitFor();
}

/** A step takes the focus a quarter of a second after it was clicked, also from what came up since then. */
async function focusStep(step) {
  await step.click();
  await page.waitForTimeout(300);
  await step.and(page.locator(':focus')).waitFor();
}

async function asked(text) {
  await page.locator('.quick-input-widget', { hasText: text }).waitFor();
  await questionListens(page);
}

async function answer(question, text) {
  await asked(question);
  await page.keyboard.type(text);
  await page.keyboard.press('Enter');
}

async function openFile(name, parent) {
  const rows = page.locator('.explorer-viewlet .monaco-list-row');
  if (parent) await rows.filter({ hasText: parent }).first().click();
  await rows.filter({ hasText: name }).first().dblclick();
  await page.locator('.tab.active', { hasText: name }).first().waitFor();
  // Keys go to the list of files until the editor has taken the focus.
  await page.locator('.editor-group-container.active .monaco-editor.focused .view-line').first().waitFor();
}

/** A menu opened by key ignores the mouse until it moves, as a hand would move it; nobody clicks before it stands still. */
async function clickMoving(target) {
  let [before, now] = [];
  await until(async () => {
    [before, now] = [now, await target.boundingBox()];
    return now && before?.x === now.x && before.y === now.y;
  });
  const { x, y, width, height } = now;
  await page.mouse.move(x + width / 2, y + height / 2, { steps: 5 });
  await page.mouse.click(x + width / 2, y + height / 2);
}

function lineWith(text) {
  // The editor draws blanks as no-break ones.
  return page.locator('.view-line', { hasText: new RegExp(text.replace(/ /g, '[ \\u00a0]')) }).first();
}

/** Where a word stands on the screen, as the browser has drawn its letters. */
function wordBox(word) {
  return page.evaluate((plain) => {
    const wanted = plain.replaceAll(' ', '\u00a0'); // The editor draws blanks as no-break ones.
    for (const line of document.querySelectorAll('.view-line')) {
      const walker = document.createTreeWalker(line, NodeFilter.SHOW_TEXT);
      for (let node = walker.nextNode(); node; node = walker.nextNode()) {
        const start = node.data.indexOf(wanted);
        if (start < 0) continue;
        const range = document.createRange();
        range.setStart(node, start);
        range.setEnd(node, start + wanted.length);
        const { x, y, width, height } = range.getBoundingClientRect();
        return { x, y, width, height, colour: getComputedStyle(node.parentElement).color };
      }
    }
    return undefined;
  }, word);
}

/** Where pictures are kept: drawing them takes as long as some steps. */
async function picture(name, settlesMs = 0) {
  if (!keep) return;
  await page.waitForTimeout(settlesMs);
  fs.mkdirSync(pictures, { recursive: true });
  await page.screenshot({ path: path.join(pictures, `${name}.png`) });
}
