/** Every picture of every sample in a browser: words keep clear of lines and of each other, and can be read. */
import { readdirSync, readFileSync } from 'node:fs';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { Checker } from '../../server/core/checker.ts';
import { NodeHost } from '../../server/node-host.ts';
import { rules } from '../../server/rules/index.ts';
import { draw, pictureText, views } from '../../server/views/index.ts';
import { crossings } from '../helpers/boxes.ts';
import { hasBrowser, openBrowser, openPage } from '../helpers/browser.ts';

const root = new URL('../../sample-workspace', import.meta.url).pathname;
const checker = new Checker(new NodeHost(root), rules);
const samples = readdirSync(root).filter((name) => name.endsWith('.shoot.yaml'));
const results = new Map(samples.map((name) => [name, checker.check(name, readFileSync(`${root}/${name}`, 'utf8'))!]));

/** Every view of every shot, as wide as it is shown. */
function picturesOf(name: string, width: number): string[] {
  const result = results.get(name)!;
  return views.flatMap((view) => {
    const shots = view.about === 'film' ? [undefined] : [...result.film!.shots.keys()];
    return shots.map((shot) => pictureText(draw(view.name, result, { shot, room: { width } })!));
  });
}

describe.skipIf(!hasBrowser)('words', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await openBrowser();
  });
  afterAll(() => browser.close());

  async function faults(html: string): Promise<string[]> {
    const page = await openPage(browser, { viewport: { width: 1400, height: 800 } });
    await page.setContent(html);
    const found = await crossings(page);
    await page.context().close();
    return found.map(({ words, by }) => `${words} ${by}`);
  }

  test.each(samples.flatMap((name) => [320, 1100].map((width) => [name, width] as const)))(
    'of %s, %i px wide',
    async (name, width) => {
      expect(await faults(picturesOf(name, width).join(''))).toEqual([]);
    },
  );

  test('on a line, on others, off the page or too small are noticed', async () => {
    const svg = (inside: string) =>
      `<svg data-view="a" viewBox="0 0 200 100" width="200" height="100"><rect width="200" height="100" fill="#fff"/>${inside}</svg>`;
    const text = (x: number, y: number, words: string, size = 12) =>
      `<text x="${x}" y="${y}" font-size="${size}">${words}</text>`;
    const line = '<line x1="0" y1="46" x2="200" y2="46" stroke="#000"/>';
    expect(await faults(svg(line + text(20, 50, 'struck')))).toEqual([': struck on a line']);
    expect(await faults(svg(text(20, 50, 'one') + text(25, 52, 'two')))).toEqual([': two on "one"']);
    expect(await faults(svg(text(190, 50, 'cut off')))).toEqual([': cut off leaves the page']);
    expect(await faults(svg(text(20, 50, 'tiny', 9)))).toEqual([': tiny is 9.0 px']);
    const paper = '<rect x="10" y="30" width="80" height="30" fill="#fff"/>';
    expect(await faults(svg(line + paper + text(20, 50, 'on paper')))).toEqual([]);
  });
});
