/** The page to try it and those beside it, opened from a folder in a browser, and typed in by keys. */
import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { deflateRawSync, inflateRawSync } from 'node:zlib';
import axe, { type AxeResults } from 'axe-core';
import type { Browser, Page } from 'playwright-core';
import { globSync } from 'tinyglobby';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { decoded, encoded } from '../../docs/site/try/seven-bits.ts';
import { type Answer, run } from '../../server/compute/index.ts';
import { spoken } from '../../server/compute/text.ts';
import { Checker } from '../../server/core/checker.ts';
import { NodeHost } from '../../server/node-host.ts';
import { rules } from '../../server/rules/index.ts';
import { hasBrowser, openBrowser, openPage } from '../helpers/browser.ts';

const root = fileURLToPath(new URL('../../', import.meta.url));
const site = join(root, 'dist/site');
const at = (name: string) => pathToFileURL(join(site, name)).href;
const samples = join(root, 'sample-workspace');

beforeAll(() => {
  execFileSync(process.execPath, [join(root, 'scripts/site.mjs')], {
    env: { ...process.env, SKIP_BUILD: '1' },
    stdio: ['ignore', 'ignore', 'inherit'],
  });
});

/** The plan that an address holds, as another program reads it. */
function planIn(address: string): string | undefined {
  const [, packed] = address.split('#plan=');
  return packed === undefined ? undefined : inflateRawSync(Buffer.from(packed, 'base64url')).toString();
}

describe('the pages', () => {
  test('are there for every rule, and every link leads to something', () => {
    const pages = globSync('**/*.html', { cwd: site });
    expect(rules.filter(({ id }) => !pages.includes(`rules/${id}.html`))).toEqual([]);
    const texts = new Map(pages.map((page) => [join(site, page), readFileSync(join(site, page), 'utf8')]));
    const leads = [...texts].flatMap(([page, text]) =>
      [...text.matchAll(/ (?:href|src)="([^"]*)"/g)].map(([, link]) => {
        const [file, id] = link!.split('#');
        const target = file === '' ? page : resolve(dirname(page), file!);
        const isThere = existsSync(target) && (!id || texts.get(target)!.includes(` id="${id}"`));
        return isThere ? undefined : `${page}: ${link}`;
      }),
    );
    expect(leads.length).toBeGreaterThan(1000);
    expect(leads.filter(Boolean)).toEqual([]);
  });

  test('hold bytes in characters of seven bits', () => {
    for (const length of [0, 1, 6, 7, 8, 1000]) {
      const bytes = Uint8Array.from({ length }, (_, index) => (index * 73 + length) % 256);
      const text = encoded(bytes);
      expect(text).not.toMatch(/["\\\n\r]/);
      expect([...decoded(text)]).toEqual([...bytes]);
    }
  });
});

describe.skipIf(!hasBrowser)('in a browser', () => {
  let browser: Browser;
  let page: Page;
  const complaints: string[] = [];
  const elsewhere: string[] = [];

  beforeAll(async () => {
    browser = await openBrowser();
    page = await openPage(browser, { viewport: { width: 1280, height: 800 } });
    page.on('console', (message) => void complaints.push(message.text()));
    page.on('pageerror', (error) => void complaints.push(error.message));
    page.on('request', (request) => {
      const url = request.url();
      if (!url.startsWith(at('')) && !/^(?:blob|data):/.test(url)) elsewhere.push(url);
    });
  });
  afterAll(() => browser?.close());

  const textNow = () =>
    page.evaluate(() => {
      const lines = document.getElementById('editor')!.shadowRoot!.querySelectorAll('.cm-line');
      return [...lines].map((line) => line.textContent).join('\n');
    });
  const count = () => page.locator('#count');

  /** Rules of WCAG 2.2, A and AA, as axe-core has them. */
  async function faults(isLong: boolean): Promise<string[]> {
    await page.evaluate(axe.source);
    // On a long page thousands of words have the colours of all others.
    const rules = { 'color-contrast': { enabled: !isLong } };
    const options = { iframes: false, preload: false, resultTypes: ['violations'], rules };
    const found = await page.evaluate(
      (options) =>
        (globalThis as unknown as { axe: { run(root: Document, options: object): Promise<AxeResults> } }).axe.run(
          document,
          options,
        ),
      options,
    );
    return found.violations.flatMap(({ id, nodes }) => nodes.map(({ target }) => `${id}: ${target.join(' ')}`));
  }

  test('the first draft has the findings that it has everywhere', async () => {
    await page.goto(at('index.html'));
    await page.locator('#findings li').first().waitFor();
    const checker = new Checker(new NodeHost(samples), rules);
    const name = 'first-draft.shoot.yaml';
    const { findings } = checker.check(name, readFileSync(join(samples, name), 'utf8'))!;
    const said = await page.locator('#findings .message').allTextContents();
    expect(said).toEqual(findings.map(({ message }) => message.replaceAll('`', '')));
    await page.frameLocator('#pictures').locator('#picture svg').waitFor();
  });

  test('a hover says what is wrong and why, and a fix mends it', async () => {
    await page.locator('.cm-line span', { hasText: 'gift-box' }).first().hover();
    await page.locator('.hover', { hasText: /must be shown[^]*The client counts the list/ }).waitFor();
    const before = await page.locator('#findings li').count();
    const length = page.locator('#findings li', { hasText: 'length-off' }).first();
    await length.locator('.fix').click();
    await length.locator('.take').first().click();
    await expect.poll(() => page.locator('#findings li').count()).toBeLessThan(before);
    expect(await page.locator('#findings li', { hasText: 'length-off' }).count()).toBe(0);
  });

  test('a plan is typed by keys, with what the list offers', async () => {
    await page.locator('.cm-content').click();
    await page.keyboard.press('Control+a');
    await page.keyboard.type('title: Tinnabel');
    await page.keyboard.press('Enter');
    await page.keyboard.type('reg');
    await page.locator('.cm-tooltip-autocomplete li', { hasText: 'region' }).first().waitFor();
    await page.waitForTimeout(200); // A list that has just opened takes no key.
    await page.keyboard.press('Tab');
    await page.keyboard.type('DE');
    await page.keyboard.press('Escape');
    await page.keyboard.press('Enter');
    await page.keyboard.type('product:');
    await page.keyboard.press('Enter');
    await page.keyboard.type('size: 9 x 6 x 7 cm');
    await expect.poll(textNow).toBe('title: Tinnabel\nregion: DE\nproduct:\n  size: 9 x 6 x 7 cm');
    await count()
      .filter({ hasText: /^\d error/ })
      .waitFor();
  });

  test('the address holds what was typed, and a link that is cut off says so', async () => {
    const text = await textNow();
    // It is written a moment after the last key, and only then a reload keeps all of it.
    await expect.poll(() => planIn(page.url())).toBe(text);
    await page.reload();
    await expect.poll(textNow).toBe(text);
    await page.goto('about:blank');
    await page.goto(`${at('index.html')}#plan=7Vqz`);
    await page.locator('#notice', { hasText: 'cut off' }).waitFor();
    await page.locator('#findings li').first().waitFor();
  });

  test('a link that somebody else made is a plan and nothing more', async () => {
    const bad = '<img src=x onerror=document.title=1>';
    const text = `title: "${bad}"\n"${bad}": 1\nkit: "[a](javascript:document.title=1).kit.yaml"\nshots:\n  "${bad}": { record: 2 s, lens: "${bad}" }`;
    // Deflated as RFC 1951 has it, in base64url as RFC 4648 has it, by another program.
    await page.goto('about:blank');
    await page.goto(`${at('index.html')}#plan=${deflateRawSync(text).toString('base64url')}`);
    await page.locator('#findings li', { hasText: 'onerror' }).first().waitFor();
    expect(await textNow()).toBe(text);
    await page.locator('.cm-lintRange', { hasText: 'onerror' }).first().hover();
    await page.locator('.hover').waitFor();
    const made = await page.evaluate(() => {
      const { shadowRoot } = document.getElementById('editor')!;
      return [...document.querySelectorAll('main img'), ...shadowRoot!.querySelectorAll('img, a[href^="javascript"]')]
        .length;
    });
    expect([made, await page.title()]).toEqual([0, 'Shoot Spec: plans of product films, checked as you type']);
  });

  test('a computation answers as the command does', async () => {
    await page.goto(at('compute.html'));
    const form = page.locator('form[data-topic=depth-of-field]');
    await form.locator('[name=aperture]').fill('f/4');
    const answer = run('depth-of-field', ['focal=50mm', 'aperture=f/4', 'coc=0.03mm', 'distance=3m']);
    const depth = spoken(answer as Answer).find(([meaning]) => meaning === 'depth of field')![1];
    const shown = form.locator('dt', { hasText: /^depth of field$/ }).locator('+ dd');
    await expect.poll(() => shown.innerText()).toBe(depth);
    await form.locator('[name=aperture]').fill('f/');
    await form.locator('.problem', { hasText: 'cannot be read' }).waitFor();
  });

  test('anybody can use the pages, in light and in the dark, and on a phone nothing sticks out', async () => {
    const found: Record<string, unknown> = {};
    // All wear the same colours; the long pages have nothing else in the dark.
    const both = ['light', 'dark'] as const;
    const pages = {
      'index.html': both,
      'compute.html': both,
      'rules/shutter-off-half-frame.html': both,
      'rules/index.html': ['light'],
      'format.html': ['light'],
    } as const;
    for (const [name, schemes] of Object.entries(pages)) {
      await page.goto(at(name));
      if (name === 'index.html') await page.locator('#findings li').first().waitFor();
      for (const colorScheme of schemes) {
        await page.emulateMedia({ colorScheme });
        const all = await faults(schemes.length === 1);
        if (all.length > 0) found[`${name}, ${colorScheme}`] = all;
      }
      await page.setViewportSize({ width: 390, height: 844 });
      const over = await page.evaluate(
        () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
      );
      if (over > 0) found[`${name}, 390 wide`] = over;
      await page.setViewportSize({ width: 1280, height: 800 });
    }
    expect(found).toEqual({});
  });

  test('nothing was kept out by the policy, and nothing asked for from elsewhere', () => {
    // Browsers write the colours of what was deleted into what is typed in its place, which the policy takes out again.
    expect(complaints.filter((one) => !one.startsWith('Applying inline style'))).toEqual([]);
    expect(elsewhere).toEqual([]);
  });
});
