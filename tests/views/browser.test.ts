/** The sheet and the pictures in a real browser: what axe says of them, at a desk, on a phone and on paper. */
import { readFileSync } from 'node:fs';
import axe from 'axe-core';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { Checker } from '../../server/core/checker.ts';
import { NodeHost } from '../../server/node-host.ts';
import { rules } from '../../server/rules/index.ts';
import { draw, pictureText, views } from '../../server/views/index.ts';
import { sheetText } from '../../server/views/sheet.ts';
import { hasBrowser, openBrowser, openPage } from '../helpers/browser.ts';

const root = new URL('../../sample-workspace', import.meta.url).pathname;
const checker = new Checker(new NodeHost(root), rules);
const check = (name: string) =>
  checker.check(`${name}.shoot.yaml`, readFileSync(`${root}/${name}.shoot.yaml`, 'utf8'))!;

describe.skipIf(!hasBrowser)('in a browser', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await openBrowser();
  });
  afterAll(() => browser.close());

  /** A page that shows some HTML; axe is let in past the sheet's own policy. */
  async function open(html: string, width: number): Promise<Page> {
    const page = await openPage(browser, { viewport: { width, height: 800 }, bypassCSP: true });
    await page.setContent(html);
    return page;
  }

  async function faults(page: Page): Promise<string[]> {
    await page.evaluate(axe.source);
    const found = await page.evaluate(async () => {
      const { axe: runner } = globalThis as unknown as {
        axe: { run(options: object): Promise<{ violations: { id: string; nodes: { html: string }[] }[] }> };
      };
      const { violations } = await runner.run({
        runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'],
      });
      return violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html.slice(0, 200)}`);
    });
    await page.context().close();
    return found;
  }

  test.each([
    ['music-box', 1280],
    ['first-draft', 1280],
    ['first-draft', 360],
  ] as const)('axe finds nothing wrong with the sheet of %s, %i px wide', async (name, width) => {
    expect(await faults(await open(sheetText(check(name))!, width))).toEqual([]);
  });

  test('axe finds nothing wrong with the plan for the client, and it fits on a phone', async () => {
    const page = await open(sheetText(check('first-draft'), 'client')!, 390);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
    expect(await page.getByRole('textbox').count()).toBeGreaterThan(2);
    expect(await faults(page)).toEqual([]);
  });

  test('axe finds nothing wrong with the pictures', async () => {
    const result = check('first-draft');
    const all = views.map((view) => pictureText(draw(view.name, result)!, { themed: true })).join('\n');
    expect(
      await faults(
        await open(`<!doctype html><html lang="en"><title>Pictures</title><main><h1>Pictures</h1>${all}</main>`, 1280),
      ),
    ).toEqual([]);
  });

  test('on a phone nothing but pictures and tables is wider than the screen', async () => {
    const page = await open(sheetText(check('music-box'))!, 360);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(360);
    await page.context().close();
  });

  test('on paper no letter is smaller than 5 points, on A4 and on Letter', async () => {
    const page = await open(sheetText(check('music-box'))!, 703);
    await page.emulateMedia({ media: 'print' });
    // Inside 12 mm of margin: 186 mm of A4 are 703 px, 191.9 mm of Letter 725 px.
    for (const width of [703, 725]) {
      await page.setViewportSize({ width, height: 1000 });
      const smallest = await page.evaluate(() => {
        const sizes = [...document.querySelectorAll('figure svg')].flatMap((svg) => {
          const scale = svg.getBoundingClientRect().width / Number(svg.getAttribute('viewBox')!.split(' ')[2]);
          const letters = [...svg.querySelectorAll('text')].map((one) => Number(one.getAttribute('font-size')));
          // Titles of the film are as small in the frame as somebody wants them.
          return letters.filter((size) => size >= 9).map((size) => size * scale * 0.75);
        });
        return Math.min(...sizes);
      });
      expect(smallest).toBeGreaterThanOrEqual(5);
    }
    await page.context().close();
  });

  test('what looks like a script in a spec does not run', async () => {
    const text = `title: "<script>globalThis.ran=1</script><img src=x onerror=globalThis.ran=1>"\nkit: none\nshots:\n  "a": { notes: "</p><svg onload=globalThis.ran=1>" }\n`;
    const html = sheetText(checker.checkAs('shoot', text))!;
    const page = await open(html, 800);
    await page.waitForTimeout(200);
    expect(await page.evaluate(() => (globalThis as { ran?: number }).ran)).toBeUndefined();
    expect(await page.textContent('h1')).toBe('<script>globalThis.ran=1</script><img src=x onerror=globalThis.ran=1>');
    await page.context().close();
  });
});
