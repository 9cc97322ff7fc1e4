/** The page for the set in a real browser, offline, with touch: a day worked through, the browser killed, nothing lost. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import axe from 'axe-core';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it, test } from 'vitest';
import { setPageParts } from '../../server/set-page-parts.ts';
import { rules } from '../../server/rules/index.ts';
import { setPageHtml } from '../../server/views/set-page/html.ts';
import { hasBrowser, openBrowser, openPage } from '../helpers/browser.ts';
import { actingTexts } from '../helpers/hostile.ts';
import { kill, openProfile } from '../helpers/persistent-browser.ts';
import { checkerFor, checkSpec, spec } from '../helpers/workspace.ts';

const specName = 'day.shoot.yaml';
const setUps = ['front', 'left', 'lid', 'comb', 'crank', 'above'];

/** Six set-ups, ten shots. */
const day = spec(`title: A music box in ten shots
set-ups:
${setUps.map((name, index) => `  ${name}: { camera: { distance: ${60 + index} cm } }\n`).join('')}
schedule:
  - { day: 2026-12-02, hours: "09:00 to 18:00", order: [${setUps.join(', ')}] }
music: { track: song, tempo: 120, length: 40 s }
care: { precautions: [stands-weighted, cables-taped] }
shots:
${setUps.map((name) => `  ${name}-wide: { set-up: ${name}, record: 12 s, takes: 2 }\n`).join('')}${setUps
  .slice(0, 4)
  .map((name) => `  ${name}-near: { set-up: ${name}, record: 12 s, takes: 1 }\n`)
  .join('')}cut:
  - { shot: front-wide, length: 10 s }
`);

const dist = new URL('../../dist/', import.meta.url).pathname;

function pageOf(text: string, path = specName): string {
  const result = checkSpec(text);
  return setPageHtml(result, result.film!, setPageParts(dist, path));
}

const phone = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true };
const tablet = { viewport: { width: 820, height: 1180 }, hasTouch: true, isMobile: true };

const isKept = (page: Page) => page.waitForSelector('body[data-ready][data-kept="all"]');
const front = (page: Page) => page.locator('.place:not([hidden])');
const go = (page: Page, to: 'On' | 'Back') => page.getByRole('button', { name: to, exact: true }).tap();

/** Notes takes of a set-up's shots, each judged and written about. */
async function work(page: Page, index: number): Promise<void> {
  for (const shot of await front(page).getByRole('article').all()) {
    await shot.getByLabel('Light, lx').fill(String(1000 + index));
    await shot.getByRole('button', { name: 'Take made' }).tap();
    const take = shot.getByRole('list', { name: 'Takes' }).locator('li').last();
    await take.getByRole('radio', { name: index % 2 === 0 ? 'Good' : 'Maybe' }).tap();
    await take.getByLabel('Notes').fill(`seen in ${index}`);
  }
  await front(page).getByText('A photo of the set').tap();
}

describe.skipIf(!hasBrowser)('the page for the set', () => {
  const folder = mkdtempSync(join(tmpdir(), 'set-page-'));
  const file = join(folder, 'day.html');
  const address = pathToFileURL(file).href;
  afterAll(() => rmSync(folder, { recursive: true, force: true, maxRetries: 5 }));
  beforeAll(() => writeFileSync(file, pageOf(day)));

  it('loses nothing of a day of six set-ups through which the browser is killed three times', async () => {
    const profile = join(folder, 'profile');
    const asked: string[] = [];
    const complaints: string[] = [];
    const begin = async () => {
      const context = await openProfile(profile, { ...phone, offline: true });
      const page = context.pages()[0]!;
      page.on('request', (request) => void (request.url() === address || asked.push(request.url())));
      page.on('console', (message) => void complaints.push(message.text()));
      page.on('pageerror', (error) => void complaints.push(error.message));
      await page.goto(address);
      await isKept(page);
      return { context, page };
    };
    let { context, page } = await begin();
    for (const index of setUps.keys()) {
      await page.getByRole('button', { name: `set-up ${setUps[index]!}` }).tap();
      if (index === 0) await page.getByLabel('Next clip').first().fill('C0012.MP4');
      await work(page, index);
      await isKept(page);
      if (index % 2 === 1) {
        await kill(context, profile);
        ({ context, page } = await begin());
      } else {
        await page.evaluate(() => (location.hash = ''));
        await page.reload();
        await isKept(page);
      }
    }
    await page.getByRole('button', { name: 'Take sheet' }).tap();
    const saving = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Save as a file' }).tap();
    const saved = await saving;
    expect(saved.suggestedFilename()).toMatch(/^day-\d{4}-\d\d-\d\d\.takes\.yaml$/);
    const text = readFileSync(await saved.path(), 'utf8');
    await context.close();

    for (const [index, name] of setUps.entries()) {
      expect(text).toContain(`  ${name}-wide: { light: ${1000 + index} lx`);
      expect(text).toContain(`notes: "seen in ${index}"`);
    }
    const clips = [...text.matchAll(/^ {4}- \{ clip: "([^"]*)"/gm)].map((match) => match[1]);
    expect(clips.sort()).toEqual(Array.from({ length: 10 }, (_, index) => `C00${12 + index}.MP4`));
    expect(text.match(/"kind":"tick".*"on":true/g)).toHaveLength(6);
    const { doc, findings } = checkerFor({ [specName]: day, 'day.takes.yaml': text }).check('day.takes.yaml', text)!;
    const ofTheShoot = new Set(rules.map((rule) => rule.id));
    expect(doc.broken).toBe(false);
    expect(findings.filter((one) => !ofTheShoot.has(one.rule))).toEqual([]);
    expect({ asked, complaints }).toEqual({ asked: [], complaints: [] });
  });

  describe('opened once', () => {
    let browser: Browser;
    beforeAll(async () => {
      browser = await openBrowser();
    });
    afterAll(() => browser.close());

    test.each([
      ['a phone', phone],
      ['a tablet', tablet],
    ])('is clean for those who see, hear or press it on %s', async (_, options) => {
      const page = await openPage(browser, { ...options, reducedMotion: 'reduce', bypassCSP: true });
      await page.goto(address);
      await isKept(page);
      await page.evaluate(axe.source);
      for (const place of ['day', 'set-up', 'take sheet']) {
        if (place === 'set-up') {
          await go(page, 'On');
          await front(page).getByRole('button', { name: 'Take made' }).first().tap();
        }
        if (place === 'take sheet') {
          await go(page, 'Back');
          await page.getByRole('button', { name: 'Take sheet' }).tap();
        }
        const faults = await page.evaluate(async () => {
          const { axe: tool } = globalThis as unknown as { axe: typeof axe };
          return (await tool.run()).violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`);
        });
        expect(faults).toEqual([]);
        // WCAG 2.2, 2.5.5: targets of 44 by 44 CSS pixels; what stands in a label is pressed with it.
        const small = await page.evaluate(() =>
          [...document.querySelectorAll('button, input, textarea, .tick')]
            .filter((one) => one.checkVisibility() && !one.closest('.tick, .judged')?.contains(one.parentElement))
            .map((one) => ({ name: one.outerHTML.slice(0, 80), box: one.getBoundingClientRect() }))
            .filter(({ box }) => box.width < 44 || box.height < 44)
            .map(({ name }) => name),
        );
        expect(small).toEqual([]);
        expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(0);
      }
      await page.context().close();
    });

    it('is worked with keys alone', async () => {
      const page = await openPage(browser, { viewport: phone.viewport });
      await page.goto(address);
      await isKept(page);
      const press = async (name: string, key: string) => {
        const wanted = front(page).getByLabel(name).or(front(page).getByRole('button', { name })).first();
        for (let index = 0; index < 80 && !(await wanted.evaluate((one) => one === document.activeElement)); index += 1)
          await page.keyboard.press('Tab');
        await page.keyboard.press(key);
      };
      await press('set-up front', 'Enter');
      await press('Take made', 'Enter');
      await press('Take it out', 'Shift+Tab');
      await page.keyboard.press('Shift+Tab');
      await page.keyboard.press('Space');
      const judged = front(page).getByRole('radio', { checked: true });
      expect(await judged.count()).toBe(1);
      await page.context().close();
    });

    it('says at once what measured light does, and what is left of the set-up', async () => {
      const page = await openPage(browser, phone);
      await page.goto(address);
      await go(page, 'On');
      const shot = page.getByRole('article').first();
      await shot.getByLabel('Light, lx').fill('1');
      expect(await shot.getByRole('status').first().textContent()).toMatch(/stops darker than planned/);
      await shot.getByLabel('Colour, K').fill('3200');
      expect(await shot.getByRole('status').first().textContent()).toContain('mired warmer than neutral');
      await go(page, 'Back');
      await page.getByRole('button', { name: 'set-up front 09:00' }).waitFor();
      await page.context().close();
    });

    it('takes another one’s sheet in, and loses neither', async () => {
      const noted = async (clip: string) => {
        const page = await openPage(browser, phone);
        await page.goto(address);
        await isKept(page);
        await go(page, 'On');
        await page.getByLabel('Next clip').first().fill(clip);
        await page.getByRole('button', { name: 'Take made' }).first().tap();
        return page;
      };
      const [one, other] = [await noted('A001.MP4'), await noted('B001.MP4')];
      const sheet = () => one.locator('#sheet').inputValue();
      await one
        .locator('#other')
        .evaluate(
          (field: HTMLTextAreaElement, text) => (field.value = text),
          await other.locator('#sheet').inputValue(),
        );
      await go(one, 'Back');
      await one.getByRole('button', { name: 'Take sheet' }).tap();
      for (const said of ['1 of its 1 entries was new here.', '0 of its 1 entries were new here.']) {
        await one.getByRole('button', { name: 'Read it in' }).tap();
        await one.getByText(said).waitFor();
      }
      expect(await sheet()).toContain('"A001.MP4"');
      expect(await sheet()).toContain('"B001.MP4"');
      await one.context().close();
      await other.context().close();
    });

    it('says so where the browser keeps nothing', async () => {
      const page = await openPage(browser, phone);
      await page.addInitScript(() => {
        for (const name of ['indexedDB', 'localStorage'])
          Object.defineProperty(window, name, {
            get: () => {
              throw new DOMException('not here', 'SecurityError');
            },
          });
      });
      await page.goto(address);
      expect(await page.getByRole('alert').textContent()).toContain('This browser keeps nothing for this page');
      await go(page, 'On');
      await page.getByRole('button', { name: 'Take made' }).first().tap();
      expect(await page.getByRole('article').first().getByRole('listitem').count()).toBe(1);
      await page.context().close();
    });

    it('shows what a plan says as text, whatever that is', async () => {
      const deeds: string[] = [];
      // Without its policy: text must stay text by itself.
      const page = await openPage(browser, { ...phone, bypassCSP: true });
      await page.route('**/*', (route) =>
        route.request().url() === address
          ? route.fulfill({ contentType: 'text/html', body: html })
          : (deeds.push(route.request().url()), route.abort()),
      );
      page.on('dialog', (dialog) => (deeds.push(dialog.message()), dialog.dismiss()));
      let html = '';
      for (let at = 0; at < actingTexts.length; at += 24) {
        const texts = actingTexts.slice(at, at + 24).map((one) => JSON.stringify(one));
        html = pageOf(
          spec(
            `title: ${texts[0]!}\nshots:\n${texts.map((text, index) => `  s${index}: { record: 12 s, notes: ${text}, action: { what: ${text}, lasts: 2 s } }\n`).join('')}cut:\n  - { shot: s0, length: 10 s }\n`,
          ),
          JSON.parse(texts.at(-1)!) as string,
        );
        await page.goto(address);
        await page.waitForSelector('body[data-ready]');
        const there = await page.evaluate(() => [
          document.querySelectorAll('script').length,
          document.querySelectorAll(
            'iframe, object, embed, base, link, form, img, video, foreignObject, [href], [src], [autofocus]',
          ).length,
          [...document.querySelectorAll('*')].filter((one) =>
            [...one.attributes].some(({ name }) => name.startsWith('on')),
          ).length,
          Number(document.title === '1'),
        ]);
        expect(there).toEqual([2, 0, 0, 0]);
      }
      expect(deeds).toEqual([]);
      await page.context().close();
    });
  });
});

it('is smaller than 400 kB for a film of ten shots, and lets in its own script and style alone', () => {
  const html = pageOf(day);
  expect(html.length).toBeLessThan(400_000);
  expect(html).toMatch(
    /content="default-src 'none'; script-src 'sha256-[\w+/]{43}='; style-src 'sha256-[\w+/]{43}='; base-uri 'none'; form-action 'none'"/,
  );
  expect(html).not.toMatch(/ style=| on[a-z]+="/);
});

test('has the notes of film and set-ups, and what is found without marks of code', () => {
  const html = pageOf(
    spec(`notes: Fridge off.
set-ups: { wide: { notes: Only before noon. } }
shots: { box: { set-up: wide, record: 12 s, camera: { white-balance: 7000 K } } }
care: { notes: Rags go into the lidded tin. }
`),
  );
  for (const one of ['Fridge off.', 'Only before noon.', 'Rags go into the lidded tin.', '“key”'])
    expect(html).toContain(one);
  expect(html.replace(/<script[^]*/, '')).not.toContain('`');
});
