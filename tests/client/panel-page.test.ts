/** The page of the panel in a real browser: keys, mouse, zoom, themes, what axe says of it, and text that stays text. */
import axe from 'axe-core';
import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, test } from 'vitest';
import type { Kept, Picture } from '../../client/panel/messages.ts';
import { PositionMap } from '../../server/features/position-map.ts';
import { shownOf } from '../../server/features/pictures.ts';
import { hasBrowser, openBrowser } from '../helpers/browser.ts';
import { actingTexts } from '../helpers/hostile.ts';
import { reelFor } from '../helpers/film-panel.ts';
import { built, PanelPage, type Theme } from '../helpers/panel.ts';
import { themes } from '../helpers/themes.ts';
import { checkSpec, spec } from '../helpers/workspace.ts';

const text = spec(`deliver:
  film: { raster: 1920x1080, rate: 25, length: 10 s, codec: h264, bitrate: 16 Mb/s, sound: none }
  story: { like: film, raster: 1080x1920 }
shots:
  box: { record: 12 s }
  lid:
    record: 12 s
    camera: { distance: 47 cm, shutter: 1/200 s }
    turn: { by: 90° }
cut:
  - { shot: lid, length: 4 s }
  - { shot: box, length: 6 s }
`);

const flashing = text
  .replace('shutter: 1/200 s', 'shutter: 1/50 s')
  .replace('role: key }', 'role: key, flashes: 5 Hz }');

function pictureOf(
  source: string,
  wanted: { view?: string; shot?: string; here?: number; isLit?: boolean } = {},
): Picture {
  const shown = shownOf(checkSpec(source), wanted, new PositionMap(source, source))!;
  return { ...shown, version: 1, stamp: '1/0', old: false, here: wanted.here, root: 'file:///films' };
}

describe.skipIf(!hasBrowser)('the panel', () => {
  let browser: Browser;
  let panel: PanelPage;
  let page: Page;
  let complaints: string[];

  beforeAll(async () => {
    browser = await openBrowser();
  });
  afterAll(() => browser.close());
  afterEach(() => page.context().close());

  async function open(theme?: Theme, translated?: (words: string) => string): Promise<void> {
    panel = await PanelPage.open(browser, theme, translated);
    ({ page, complaints } = panel);
  }

  async function show(picture: Picture, kept: Kept = { zoom: 1, uri: 'file:///films/box.shoot.yaml' }): Promise<void> {
    await panel.send({ kind: 'show', picture, kept, file: 'box.shoot.yaml' });
  }

  const said = () => panel.said();
  const lastSaid = async () => (await said()).at(-1);

  const allRules = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];
  /** Themes differ in this alone. */
  const contrast = ['color-contrast'];

  async function faults(only: readonly string[] = allRules): Promise<string[]> {
    if (!(await page.evaluate(() => 'axe' in globalThis))) await page.evaluate(axe.source);
    return page.evaluate(async (runOnly) => {
      const { axe: runner } = globalThis as unknown as {
        axe: { run(options: object): Promise<{ violations: { id: string; nodes: { html: string }[] }[] }> };
      };
      const { violations } = await runner.run({ runOnly });
      return violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html.slice(0, 150)).join(' | ')}`);
    }, only);
  }

  describe.each(Object.keys(themes) as Theme[])('in the theme %s', (theme) => {
    test('axe finds nothing wrong in any picture, nor while there is none', async () => {
      const rules = theme === 'light' ? allRules : contrast;
      await open(theme);
      expect(await faults(rules)).toEqual([]);
      for (const { name } of pictureOf(text).views) {
        await show(pictureOf(text, { view: name, shot: 'lid' }));
        if (name === 'timeline') await panel.send({ kind: 'reel', reel: reelFor(checkSpec(flashing)) });
        expect(await faults(rules), name).toEqual([]);
      }
      expect(complaints).toEqual([]);
    });

    test('the drawing wears the colours of the theme', async () => {
      await open(theme);
      await show(pictureOf(text));
      const paper = await page.locator('#picture svg > rect').evaluate((one) => getComputedStyle(one).fill);
      const [red, green, blue] = [1, 3, 5].map((at) => parseInt(themes[theme].background.slice(at, at + 2), 16));
      expect(paper).toBe(`rgb(${red}, ${green}, ${blue})`);
    });
  });

  test('says how large a picture may be, and again when that changes; findings stand beside it where it is wide', async () => {
    await open();
    await show(pictureOf(text));
    const rooms = async () => (await said()).flatMap((one) => (one.kind === 'room' ? [one.room.width] : []));
    await expect.poll(rooms).not.toHaveLength(0);
    const first = (await rooms()).length;
    const beside = () =>
      page.evaluate(() => {
        const [picture, findings] = ['picture', 'findings-head'].map((id) =>
          document.getElementById(id)!.getBoundingClientRect(),
        );
        return findings!.left >= picture!.right;
      });
    expect(await beside()).toBe(false);
    await page.setViewportSize({ width: 1100, height: 700 });
    await expect.poll(async () => (await rooms()).length).toBeGreaterThan(first);
    expect(await beside()).toBe(true);
    await page.setViewportSize({ width: 320, height: 700 });
    await expect.poll(async () => (await rooms()).at(-1)).toBeLessThan(320);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(320);
  });

  test('takes the colours of another theme at once', async () => {
    await open('light');
    await show(pictureOf(text));
    const ink = () => page.evaluate(() => document.documentElement.style.getPropertyValue('--plan-ink'));
    const before = await ink();
    await page.evaluate(() => {
      document.documentElement.style.setProperty('--vscode-editor-background', '#000000');
      document.documentElement.style.setProperty('--vscode-editor-foreground', '#ffffff');
    });
    await expect.poll(ink).toBe('#ffffff');
    expect(before).toBe('#3b3b3b');
  });

  test('tells what it is, what it shows and what is found in it', async () => {
    await open();
    const picture = pictureOf(text, { view: 'frame', shot: 'lid' });
    await show(picture);
    expect(await page.locator('#picture svg').getAttribute('role')).toBe('img');
    expect(await page.locator('#picture svg').getAttribute('aria-label')).toBe('lid: the frame');
    expect(await page.locator('#title').textContent()).toBe('lid: the frame');
    expect(await page.locator('#description').textContent()).toBe(picture.description);
    const items = await page.locator('#findings li').allTextContents();
    expect(items).toHaveLength(picture.findings.length);
    expect(items[0]).toContain(picture.findings[0]!.message.replaceAll('`', ''));
    expect(items[0]).toMatch(/1 (Error|Warning|Note|Hint):/);
    expect(await page.locator('#findings-head').textContent()).toMatch(/seen in this picture/);
    // What a message quotes is set as code, without its marks.
    expect(await page.locator('#findings code:not(.rule)').first().textContent()).toMatch(/^\w+$/);
  });

  test('a click on a thing goes to where it is written', async () => {
    await open();
    await show(pictureOf(text, { shot: 'lid' }));
    await page.locator('#picture svg text', { hasText: /^47 cm$/ }).click();
    const start = text.indexOf('47 cm');
    expect(await lastSaid()).toEqual({ kind: 'go', spot: { start, end: start + 5 } });
  });

  test('a click on a finding goes to it', async () => {
    await open();
    const picture = pictureOf(text, { view: 'frame', shot: 'lid' });
    await show(picture);
    await page.locator('#findings button').first().click();
    const { start, end } = picture.findings[0]!;
    expect(await lastSaid()).toEqual({ kind: 'go', spot: { start, end } });
  });

  test('arrow keys go through the parts, outline them in the picture, and Enter goes to the text', async () => {
    await open();
    const picture = pictureOf(text, { shot: 'lid' });
    await show(picture);
    await page.locator('#parts').focus();
    expect(await page.locator('#picture .outline').count()).toBeGreaterThan(0);
    await page.keyboard.press('End');
    await page.keyboard.press('ArrowUp');
    const at = picture.parts.length - 2;
    expect(await page.locator('#parts').getAttribute('aria-activedescendant')).toBe(`part-${at}`);
    expect(await page.locator('#parts [aria-selected=true]').allTextContents()).toEqual([picture.parts[at]!.words]);
    await page.keyboard.press('Enter');
    const { start, end } = picture.parts[at]!;
    expect(await lastSaid()).toEqual({ kind: 'go', spot: { start, end } });
  });

  test('outlines what the cursor is at', async () => {
    await open();
    await show(pictureOf(text, { shot: 'lid', here: text.indexOf('47 cm') + 2 }));
    expect(await page.locator('#parts [aria-selected=true]').textContent()).toMatch(/distance: 47 cm$/);
    expect(await page.locator('#picture .outline').count()).toBeGreaterThan(0);
  });

  test('arrow keys go round the views, with one stop for the Tab key', async () => {
    await open();
    await show(pictureOf(text));
    const tab = page.locator('[role=tab]');
    expect(await page.locator('[role=tab][tabindex="0"]').allTextContents()).toEqual(['Set from above']);
    await tab.first().focus();
    await page.keyboard.press('ArrowRight');
    expect(await lastSaid()).toMatchObject({ kind: 'kept', kept: { view: 'set-side' } });
    await page.keyboard.press('Home');
    await page.keyboard.press('ArrowLeft');
    expect(await lastSaid()).toMatchObject({ kind: 'kept', kept: { view: 'budgets' } });
  });

  test('a shot can be stayed at, and the cursor be followed again', async () => {
    await open();
    await show(pictureOf(text));
    await page.locator('#shot').selectOption({ label: 'box' });
    expect(await lastSaid()).toMatchObject({ kind: 'kept', kept: { shot: 'box' } });
    await show(pictureOf(text, { shot: 'box' }));
    expect(await page.locator('#shot option:checked').textContent()).toBe('box');
    await page.locator('#shot').selectOption('');
    const last = await lastSaid();
    expect(last?.kind === 'kept' && last.kept.shot).toBeUndefined();
  });

  test('deliverables are a choice where frames are shown, and shots where one is', async () => {
    await open();
    await show(pictureOf(text));
    expect(await page.locator('#deliverable').isVisible()).toBe(false);
    await show(pictureOf(text, { view: 'frame' }));
    expect(await page.locator('#deliverable option').allTextContents()).toEqual(['all', 'film', 'story']);
    await show(pictureOf(text, { view: 'timeline' }));
    expect(await page.locator('#shot').isVisible()).toBe(false);
  });

  test('frames are shown as lit, or as lines, by a button and by a key, and that is kept', async () => {
    await open();
    const button = page.getByRole('button', { name: 'As lit' });
    await show(pictureOf(text));
    expect(await button.isVisible()).toBe(false);
    await show(pictureOf(text, { view: 'frame' }));
    expect(await button.getAttribute('aria-pressed')).toBe('false');
    await button.click();
    expect(await lastSaid()).toMatchObject({ kind: 'kept', kept: { isLit: true } });
    await show(pictureOf(text, { view: 'frame', isLit: true }));
    expect(await page.locator('#picture image').count()).toBeGreaterThan(1);
    // Its pixels are there: the page's policy lets them in.
    const isThere = await page.evaluate(
      () =>
        new Promise((done) => {
          const one = new Image();
          one.onload = () => done(one.naturalWidth > 100);
          one.onerror = () => done(false);
          one.src = document.querySelector('#picture image')!.getAttribute('href')!;
        }),
    );
    expect(isThere).toBe(true);
    expect(await button.getAttribute('aria-pressed')).toBe('true');
    expect(await page.locator('#picture').textContent()).toContain('no photograph');
    expect(await faults()).toEqual([]);
    await page.keyboard.press('l');
    expect(await lastSaid()).toMatchObject({ kind: 'kept', kept: { isLit: false } });
    expect(complaints).toEqual([]);
  });

  describe('zoom', () => {
    const width = () => page.locator('#picture svg').evaluate((svg) => svg.getBoundingClientRect().width);

    test('by keys, and back', async () => {
      await open();
      await show(pictureOf(text));
      const fit = await width();
      for (const [key, zoom] of [
        ['+', 1.25],
        ['=', 1.5],
        ['-', 1.25],
        ['0', 1],
      ] as const) {
        await page.keyboard.press(key);
        expect(await width()).toBeCloseTo(fit * zoom, 0);
        expect(await lastSaid()).toMatchObject({ kind: 'kept', kept: { zoom } });
      }
    });

    test('by buttons, which say how large it is', async () => {
      await open();
      await show(pictureOf(text));
      await page.getByRole('button', { name: 'Zoom in', exact: true }).click();
      await page.getByRole('button', { name: 'Zoom in', exact: true }).click();
      expect(await page.locator('#fit').textContent()).toBe('150 %');
      await page.getByRole('button', { name: 'Zoom out', exact: true }).click();
      await page.locator('#fit').click();
      expect(await page.locator('#fit').textContent()).toBe('100 %');
    });

    test('by the wheel with Ctrl, with what is under the mouse staying there', async () => {
      await open();
      await show(pictureOf(text, { shot: 'lid' }));
      const label = page.locator('#picture svg text', { hasText: /^47 cm$/ });
      const before = (await label.boundingBox())!;
      const [x, y] = [before.x + before.width / 2, before.y + before.height / 2];
      await page.mouse.move(x, y);
      await page.keyboard.down('Control');
      for (let turn = 0; turn < 3; turn++) await page.mouse.wheel(0, -100);
      await page.keyboard.up('Control');
      await expect.poll(async () => (await label.boundingBox())!.width).toBeGreaterThan(before.width * 1.9);
      const after = (await label.boundingBox())!;
      expect(Math.abs(after.x + after.width / 2 - x)).toBeLessThan(3);
      expect(Math.abs(after.y + after.height / 2 - y)).toBeLessThan(3);
    });

    test('stays over the next picture and is kept for the next time', async () => {
      await open();
      await show(pictureOf(text));
      await page.keyboard.press('+');
      await show(pictureOf(text, { view: 'timeline' }));
      expect(await page.locator('#fit').textContent()).toBe('125 %');
      expect(await page.evaluate(() => (globalThis as unknown as { kept: Kept }).kept.zoom)).toBe(1.25);
    });

    test('and place stay while somebody types', async () => {
      await open();
      await show(pictureOf(text));
      for (let step = 0; step < 4; step++) await page.keyboard.press('+');
      const scrolled = () => page.locator('#picture').evaluate((box) => [box.scrollLeft, box.scrollTop]);
      await page.locator('#picture').evaluate((box) => box.scrollTo({ left: 300, top: 200 }));
      await show(pictureOf(text.replace('47 cm', '48 cm')));
      expect(await scrolled()).toEqual([300, 200]);
    });

    test('is as it was kept when the page begins anew', async () => {
      await open();
      await show(pictureOf(text), { zoom: 2, view: 'frame' });
      expect(await page.locator('#fit').textContent()).toBe('200 %');
    });
  });

  test('says when the text cannot be read, and when there is nothing to draw', async () => {
    await open();
    expect(await page.locator('h1:visible').textContent()).toBe('Waiting for the plan');
    await show({ ...pictureOf(text), old: true });
    expect(await page.locator('#note').textContent()).toContain("box.shoot.yaml can't be read just now");
    const empty = { kind: 'empty', words: 'Nothing of box.shoot.yaml can be drawn yet.' };
    await panel.send(empty);
    expect(await page.locator('h1:visible').textContent()).toBe(empty.words);
  });

  test('says its own words in the editor’s language, whatever characters they hold', async () => {
    const odd = (words: string) => `«${words.replace(/[a-z]/g, 'x')}"><i>&amp;`;
    await open('light', odd);
    expect(await page.locator('h1:visible').textContent()).toBe(odd('Waiting for the plan'));
    await show({ ...pictureOf(text), old: true });
    const own = await page
      .locator('#note, #player button, h2, summary, label, #save, #findings strong')
      .allTextContents();
    expect(own.length).toBeGreaterThan(6);
    expect(own.filter((words) => !words.includes('«'))).toEqual([]);
    const named = page.locator('button[title], [role=group], [role=tablist]');
    const names = await named.evaluateAll((all) => all.map((one) => one.ariaLabel ?? one.getAttribute('title')!));
    // The views are named by the server.
    expect(names.filter((name) => name.startsWith('«')).length).toBeGreaterThanOrEqual(6);
    expect(await page.locator('#note').textContent()).toContain('box.shoot.yaml');
    expect(await page.locator('i').count()).toBe(0);
    expect(complaints).toEqual([]);
  });

  test('nothing moves by itself', () => {
    expect(built('panel.css')).not.toMatch(/transition|animation|@keyframes/);
    expect(built('panel.js')).not.toContain('smooth');
  });

  describe('text of a plan that looks like markup stays text', () => {
    const evil = '<script>globalThis.ran=1</script><img src=x onerror="globalThis.ran=1">';
    const inYaml = JSON.stringify(evil);
    const hostile = spec(`title: ${inYaml}
lamps:
  ${inYaml}: { use: panel, temperature: 5000 K, level: 40 %, distance: 60 cm, angle: 45°, height: 40 cm, role: key }
backdrop: { material: ${inYaml}, colour: "url(javascript:globalThis.ran=1)", size: 200 x 200 cm, behind: 70 cm }
titles:
  - { text: ${inYaml}, at: 1 s, hold: 4 s }
shots:
  ${inYaml}: { record: 12 s, notes: ${inYaml} }
cut:
  - { shot: ${inYaml}, length: 10 s }
`);

    test.each(pictureOf(text).views.map(({ name }) => name))('in %s', async (view) => {
      await open();
      await show(pictureOf(hostile, { view }));
      await page.waitForTimeout(100);
      expect(await page.evaluate(() => (globalThis as { ran?: number }).ran)).toBeUndefined();
      expect(await page.locator('img, script:not([src]), #picture script').count()).toBe(0);
      expect(complaints).toEqual([]);
      if (pictureOf(hostile, { view }).shot !== undefined)
        expect(await page.locator('#title').textContent()).toContain(evil);
    });

    test('and a drawing that would act or load loses what does', async () => {
      await open();
      const svg = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9" onload="globalThis.ran=1">
        <script>globalThis.ran=1</script><style>*{fill:red}</style><a href="javascript:globalThis.ran=1"><text>a</text></a>
        <image href="https://elsewhere.invalid/x.png"/><use href="#x"/><foreignObject><p xmlns="http://www.w3.org/1999/xhtml">p</p></foreignObject>
        <g onclick="globalThis.ran=1" style="fill:red" id="x"><rect width="9" height="9" fill="url(https://elsewhere.invalid/#a)"/></g>
        <animate attributeName="x" begin="0s" onbegin="globalThis.ran=1"/></svg>`;
      await show({ ...pictureOf(text), svg });
      await page.locator('#picture rect').click();
      await page.waitForTimeout(100);
      expect(await page.evaluate(() => (globalThis as { ran?: number }).ran)).toBeUndefined();
      const left = await page
        .locator('#picture svg')
        .evaluate((one) =>
          [one, ...one.querySelectorAll('*')].map((inside) =>
            [inside.localName, ...inside.getAttributeNames()].join(' '),
          ),
        );
      expect(left).toEqual(['svg viewBox role aria-label style', 'g', 'rect width height']);
    });

    test('in whatever field of a message', async () => {
      await open();
      const picture = pictureOf(text);
      for (const words of actingTexts) {
        await show({
          ...picture,
          title: words,
          description: words,
          shots: [words],
          deliverables: [words, 'b'],
          parts: [{ start: 0, end: 1, words }],
          findings: [
            { number: 1, severity: 'error', rule: words, message: words, start: 0, end: 1, mark: picture.svg },
          ],
        });
        for (const place of ['#title', '#parts li', '#findings code.rule'])
          expect(whole(await page.locator(place).textContent())).toBe(whole(words));
        expect(await page.locator('main img, main a, main script').count()).toBe(0);
      }
      expect(complaints).toEqual([]);
    });
  });
});

/** Half a character may be lost on the way from the browser. */
function whole(words: string | null): string | undefined {
  return words?.replace(/\p{Cs}/gu, '\ufffd');
}
