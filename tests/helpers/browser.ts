/** The browser that tests look at pages with, where there is one. */
import { existsSync } from 'node:fs';
import { type Browser, type BrowserContextOptions, chromium, type Page } from 'playwright-core';

/** First the one without windows, which is half the work. */
const names = ['chromium-headless-shell', 'chromium', 'chromium-browser'];
export const executablePath = [process.env['CHROMIUM'], ...names.map((name) => `/usr/bin/${name}`)].find(
  (path) => path && existsSync(path),
);
export const hasBrowser = executablePath !== undefined;

/** How long a browser may take on a machine that does other things beside. */
export const patienceMs = 60_000;

export function openBrowser(): Promise<Browser> {
  return chromium.launch({
    executablePath: executablePath!,
    args: ['--no-sandbox', '--disable-gpu'],
    timeout: patienceMs,
  });
}

export async function openPage(browser: Browser, options: BrowserContextOptions): Promise<Page> {
  const context = await browser.newContext(options);
  context.setDefaultTimeout(patienceMs);
  return context.newPage();
}

/** Elements that run, load, lead away or ask; our own outputs have none of them. */
const actingElements =
  'script, iframe, frame, object, embed, base, link, form, input, img, image:not([href^="data:image/png;base64,"]), video, audio, foreignObject, animate, set, meta[http-equiv=refresh i], body[onload]';

/** A page that notices what is in it as anything but text: what runs, loads, asks, leads away or could. */
export class WatchedPage {
  #deeds: string[] = [];

  private constructor(private readonly page: Page) {}

  /** Without the policy that our pages have: text must stay text by itself. */
  static async open(browser: Browser): Promise<WatchedPage> {
    const page = await openPage(browser, { bypassCSP: true });
    const watched = new WatchedPage(page);
    await page.route('**/*', (route) => {
      watched.#deeds.push(`loads ${route.request().url()}`);
      return route.abort();
    });
    page.on('dialog', (dialog) => {
      watched.#deeds.push(`asks ${dialog.message()}`);
      return dialog.dismiss();
    });
    return watched;
  }

  /** What some HTML does that nobody should be able to write into it. */
  async deedsOf(html: string): Promise<string[]> {
    this.#deeds = [];
    await this.page.setContent(html);
    const there = await this.page.evaluate((acting) => {
      const isLeading = ({ name, value }: Attr) =>
        /^(?:xlink:)?href$|^src$|^action$/.test(name) && !/^(?:#|data:image\/png;base64,)/.test(value);
      const isActing = (one: Element) =>
        one.matches(acting) || [...one.attributes].some((each) => /^on/i.test(each.name) || isLeading(each));
      return [...document.querySelectorAll('*')]
        .filter(isActing)
        .map((one) => `holds ${one.outerHTML.slice(0, 200)}`)
        .concat(document.title === '1' ? ['changes its title'] : []);
    }, actingElements);
    return [...this.#deeds, ...there];
  }

  close(): Promise<void> {
    return this.page.context().close();
  }
}
