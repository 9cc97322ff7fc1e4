/** The page of the panel attacked in a real browser, with pictures and messages that no server of ours would send. */
import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { type Picture, readMessage } from '../../client/panel/messages.ts';
import { PositionMap } from '../../server/features/position-map.ts';
import { shownOf } from '../../server/features/pictures.ts';
import { hasBrowser, openBrowser } from '../helpers/browser.ts';
import { actingTexts } from '../helpers/hostile.ts';
import { PanelPage } from '../helpers/panel.ts';
import { checkSpec, spec } from '../helpers/workspace.ts';

const text = spec('');
const good: Picture = {
  ...shownOf(checkSpec(text), {}, new PositionMap(text, text))!,
  version: 1,
  stamp: '1/0',
  old: false,
  root: 'file:///films',
};
const kept = { zoom: 1, uri: 'file:///films/box.shoot.yaml' };
const shows = (picture: unknown) => ({ kind: 'show', picture, kept, file: 'box.shoot.yaml' });

const run = 'globalThis.ran=1';
const svgOf = (inside: string, attributes = '') =>
  `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" viewBox="0 0 9 9" ${attributes}>${inside}<rect width="9" height="9"/></svg>`;

/** Each would run, load, lead away or cover the page, if it were put into it as it is. */
const hostilePictures: readonly string[] = [
  svgOf(`<script>${run}</script>`),
  svgOf(`<script href="https://elsewhere.invalid/a.js"/>`),
  svgOf(`<script xmlns="http://www.w3.org/1999/xhtml">${run}</script>`),
  svgOf(`<h:script xmlns:h="http://www.w3.org/1999/xhtml">${run}</h:script>`),
  svgOf(`<h:img xmlns:h="http://www.w3.org/1999/xhtml" src="x" onerror="${run}"/>`),
  svgOf(`<foreignObject><body xmlns="http://www.w3.org/1999/xhtml" onload="${run}"/></foreignObject>`),
  svgOf(`<foreignObject><iframe xmlns="http://www.w3.org/1999/xhtml" srcdoc="x"/></foreignObject>`),
  svgOf(`<a href="javascript:${run}"><text>a</text></a>`),
  svgOf(`<a xlink:href="https://elsewhere.invalid/"><rect width="9" height="9"/></a>`),
  svgOf(`<g href="javascript:${run}" xlink:href="javascript:${run}"><rect width="9" height="9"/></g>`),
  svgOf(`<image href="https://elsewhere.invalid/a.png"/><feImage href="https://elsewhere.invalid/b.png"/>`),
  svgOf(`<use href="data:image/svg+xml,&lt;svg id='x' xmlns='http://www.w3.org/2000/svg' onload='${run}'/&gt;#x"/>`),
  svgOf(`<style>@import 'https://elsewhere.invalid/a.css'; body { display: none }</style>`),
  svgOf('<g class="outline" id="all" style="position:fixed;inset:0;background:url(https://elsewhere.invalid/)"/>'),
  svgOf('<rect width="9" height="9" fill="url(https://elsewhere.invalid/a.svg#b)"/>'),
  svgOf('<rect width="9" height="9" fill="UR&#76;( https://elsewhere.invalid/a.svg#b)"/>'),
  svgOf('<rect width="9" height="9" fill="u\\72l(https://elsewhere.invalid/a.svg#b)"/>'),
  svgOf('<rect width="9" height="9" fill="image-set(\'https://elsewhere.invalid/a.png\' 1x)"/>'),
  svgOf(`<set attributeName="href" to="javascript:${run}"/><animate attributeName="x" onbegin="${run}" begin="0s"/>`),
  svgOf(`<animateTransform attributeName="transform" onend="${run}" dur="1ms"/>`),
  svgOf(`<rect width="9" height="9" ONCLICK="${run}" onfocusin="${run}" tabindex="0" autofocus=""/>`),
  svgOf('', `onload="${run}" onerror="${run}" onscroll="${run}"`),
  svgOf('<handler xmlns="http://www.w3.org/2001/xml-events" type="application/ecmascript"/>'),
  `<!DOCTYPE svg [<!ENTITY x "&#60;script>${run}&#60;/script>">]>${svgOf('<text>&x;</text>')}`,
  `<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/passwd">]>${svgOf('<text>&x;</text>')}`,
  `<!DOCTYPE svg SYSTEM "https://elsewhere.invalid/a.dtd">${svgOf('')}`,
  `<?xml-stylesheet href="https://elsewhere.invalid/a.css"?>${svgOf('')}`,
  `<html xmlns="http://www.w3.org/1999/xhtml"><body onload="${run}"><script>${run}</script></body></html>`,
  `<svg><script>${run}</script></svg>`,
  `<svg onload="${run}"`,
  '',
  '\0',
];

/** Elements bomb out: each entity is ten of the one before. */
const bomb = `<!DOCTYPE svg [<!ENTITY a0 "aaaaaaaaaa">${Array.from(
  { length: 12 },
  (_, at) => `<!ENTITY a${at + 1} "${`&a${at};`.repeat(10)}">`,
).join('')}]>${svgOf('<text>&a12;</text>')}`;

const hugePictures: Readonly<Record<string, string>> = {
  'fifty thousand elements': svgOf('<rect width="1" height="1"/>'.repeat(50_000)),
  'elements in elements in elements': svgOf('<g>'.repeat(50_000) + '</g>'.repeat(50_000)),
  'a text of four hundred thousand characters': svgOf(`<text>${'a'.repeat(400_000)}</text>`),
  'a size that nothing can draw': svgOf('<rect x="-1e308" width="1e308" height="1e999"/>').replace('9 9', '1e308 NaN'),
  'entities in entities': bomb,
};

const polluted = JSON.parse('{"__proto__": {"ran": 1}, "constructor": {"prototype": {"ran": 1}}}') as object;
const malformed: readonly unknown[] = [
  null,
  undefined,
  0,
  '',
  'show',
  [],
  {},
  { kind: null },
  { kind: 'go', spot: { start: 0, end: 1 } },
  { kind: '__proto__' },
  { kind: 'empty' },
  { kind: 'empty', words: { toString: 1 } },
  { kind: 'show' },
  polluted,
  { ...polluted, kind: 'show', picture: polluted, kept: polluted },
  shows(null),
  shows({}),
  ...Object.keys(good).flatMap((key) =>
    [null, 'x', -1, {}, [null], [{}], { length: 1e9 }, polluted].map((value) => shows({ ...good, [key]: value })),
  ),
  ...[null, 1, { zoom: 'x' }, { zoom: -1 }, { zoom: 1e308 }, { zoom: 1, shot: {} }, polluted].map((odd) => ({
    ...shows(good),
    kept: odd,
  })),
];

describe.skipIf(!hasBrowser)('the panel withstands', () => {
  let browser: Browser;
  let panel: PanelPage;
  let page: Page;

  beforeAll(async () => {
    browser = await openBrowser();
  });
  afterAll(() => browser.close());
  beforeEach(async () => {
    // Without the page's policy, which is the second wall: the first must hold alone.
    panel = await PanelPage.open(browser, 'light', undefined, { bypassCSP: true });
    ({ page } = panel);
  });
  afterEach(() => page.context().close());

  /** Sends messages one after the other, and tells what of them has done anything that it must not. */
  const deedsOf = (messages: readonly unknown[]) =>
    page.evaluate(async (all) => {
      const kinds = new Set('svg g path rect circle line text title image'.split(' '));
      const isActing = (one: Element) =>
        !kinds.has(one.localName) ||
        [...one.attributes].some(
          ({ name, value }) =>
            (/^on|href|src/i.test(name) && !value.startsWith('data:image/png;base64,')) || /url\s*\(/i.test(value),
        );
      const held = () => [
        ...[...document.querySelectorAll('#picture *, #findings svg, #findings svg *')].filter(isActing),
        ...document.querySelectorAll('iframe, img, a, script:not([src])'),
      ];
      const deeds: string[] = [];
      for (const data of all) {
        dispatchEvent(new MessageEvent('message', { data }));
        document.querySelector('#picture *')?.dispatchEvent(new MouseEvent('click', { bubbles: true }));
        const done = held().map((one) => `holds ${one.outerHTML.slice(0, 200)}`);
        if ('ran' in globalThis) done.push('has run a script, or changed every object');
        deeds.push(...done.map((deed) => `${JSON.stringify(data)?.slice(0, 2000)} ${deed}`));
        // What a picture loads is asked for when it is drawn.
        await new Promise(requestAnimationFrame);
      }
      return deeds;
    }, messages);

  /** The next picture is shown whole, so nothing that came before has broken the page. */
  async function isWhole(): Promise<void> {
    await panel.send({ kind: 'empty', words: 'nothing' });
    await panel.send(shows(good));
    expect(await page.locator('#title').textContent()).toBe(good.title);
    expect(await page.locator('#parts li').count()).toBe(good.parts.length);
    expect(await page.locator('#views [aria-selected=true]').count()).toBe(1);
    expect(await page.locator('#picture svg text').count()).toBeGreaterThan(3);
    expect(await page.locator('#picture').isVisible()).toBe(true);
  }

  test('pictures that would act, load or lead away', async () => {
    const around = actingTexts.flatMap((words) => [svgOf(words), svgOf(`<text>${words}</text>`), words]);
    const messages = [...hostilePictures, ...around].map((svg) =>
      shows({ ...good, svg, findings: [{ ...good.findings[0], severity: 'error', mark: svg }] }),
    );
    expect(await deedsOf(messages)).toEqual([]);
    expect(panel.asked).toEqual([]);
    await isWhole();
  });

  test.each(Object.entries(hugePictures))('a picture of %s', async (_, svg) => {
    expect(await deedsOf([shows({ ...good, svg })])).toEqual([]);
    await isWhole();
  });

  test('words and lists that are far too long', async () => {
    const words = 'a'.repeat(200_000);
    const findings = Array.from({ length: 2000 }, (_, number) => ({
      number,
      severity: 'error' as const,
      rule: 'a',
      message: 'b',
      start: 0,
      end: 1,
      mark: '',
    }));
    const parts = Array.from({ length: 2000 }, (_, start) => ({ start, end: start + 1, words: 'a' }));
    await panel.send(shows({ ...good, title: words, description: words, shots: [words], findings, parts }));
    await isWhole();
  });

  test('messages that are none', async () => {
    expect(await deedsOf(malformed)).toEqual([]);
    await isWhole();
  });

  test('what is no message changes nothing that is shown', async () => {
    await panel.send(shows(good));
    for (const message of [null, undefined, 0, '', 'show', [], {}, { kind: null }, { kind: '__proto__' }]) {
      await panel.send(message);
      expect(await page.locator('#title').isVisible(), JSON.stringify(message)).toBe(true);
    }
    expect(panel.complaints).toEqual([]);
  });

  test('places that are none: a click on them is no message to the extension', async () => {
    const odd = [
      ['1e999', '2', 'a.kit.yaml'],
      ['-1', '2', 'a.kit.yaml'],
      ['x"], *', '2', 'a.kit.yaml'],
      ['1', '2', '../../a.kit.yaml'],
      ['1', '2', '/etc/a.kit.yaml'],
      ['1', '2', 'https://elsewhere.invalid/a.kit.yaml'],
      ['1', '2', 'kits/a.sh'],
    ];
    for (const [start, end, file] of odd) {
      const at = `data-start='${start}' data-end='${end}' data-file='${file}'`;
      await panel.send(shows({ ...good, svg: svgOf(`<g ${at}><rect id="x" width="9" height="9"/></g>`) }));
      await page.locator('#picture g rect').first().dispatchEvent('click');
      const last = (await panel.said()).at(-1);
      expect(last, at).toMatchObject({ kind: 'go' });
      expect(readMessage(last), at).toBeUndefined();
    }
  });
});
