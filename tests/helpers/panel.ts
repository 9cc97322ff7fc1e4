/** The page of the panel in a browser, as the editor opens it. */
import { readFileSync } from 'node:fs';
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import type { FromPanel } from '../../client/panel/messages.ts';
import { pageHtml } from '../../client/panel/page.ts';
import { panelTextOf } from '../../client/panel/panel-text.ts';
import { openPage } from './browser.ts';
import { themes } from './themes.ts';

export type Theme = keyof typeof themes;

const themeClasses: Record<Theme, string> = {
  light: 'vscode-light',
  dark: 'vscode-dark',
  'high contrast dark': 'vscode-high-contrast',
  'high contrast light': 'vscode-high-contrast vscode-high-contrast-light',
};
const place = 'https://panel.invalid';

export const built = (name: string) => readFileSync(new URL(`../../dist/${name}`, import.meta.url), 'utf8');

export class PanelPage {
  /** What the browser complained about: scripts and styles that the page's policy keeps out would be among it. */
  readonly complaints: string[] = [];
  /** What was asked for that is no part of the page. */
  readonly asked: string[] = [];

  private constructor(readonly page: Page) {}

  static async open(
    browser: Browser,
    theme: Theme = 'light',
    translated = (words: string) => words,
    options: BrowserContextOptions = {},
  ): Promise<PanelPage> {
    const panel = new PanelPage(await openPage(browser, { viewport: { width: 700, height: 900 }, ...options }));
    await panel.#load(theme, translated);
    return panel;
  }

  /** The page's script finds the editor's door, and the colours of a theme. */
  async #load(theme: Theme, translated: (words: string) => string): Promise<void> {
    const { page, complaints, asked } = this;
    page.on('console', (message) => void complaints.push(message.text()));
    page.on('pageerror', (error) => void complaints.push(error.message));
    const html = pageHtml({
      nonce: 'abc',
      script: `${place}/panel.js`,
      style: `${place}/panel.css`,
      source: place,
      words: panelTextOf({ t: translated }),
      language: 'en',
    });
    const answers: Record<string, [string, string]> = {
      [`${place}/`]: ['text/html', html],
      [`${place}/panel.js`]: ['text/javascript', built('panel.js')],
      [`${place}/panel.css`]: ['text/css', built('panel.css')],
    };
    await page.route('**/*', async (route) => {
      const url = route.request().url();
      const answer = answers[url];
      if (answer) return route.fulfill({ contentType: answer[0], body: answer[1] });
      if (!url.endsWith('/favicon.ico')) asked.push(url);
      await route.fulfill({ status: 404 });
    });
    await page.addInitScript(
      ([colours, themeClass]) => {
        const said: unknown[] = [];
        Object.assign(globalThis, {
          said,
          acquireVsCodeApi: () => ({
            postMessage: (message: unknown) => said.push(message),
            setState: (kept: unknown) => Object.assign(globalThis, { kept }),
          }),
        });
        addEventListener('DOMContentLoaded', () => {
          for (const [name, colour] of colours) document.documentElement.style.setProperty(`--vscode-${name}`, colour);
          document.body.className = themeClass;
        });
      },
      [themeColours(theme), themeClasses[theme]] as const,
    );
    await page.goto(`${place}/`);
  }

  /** Sends anything to the page, as the extension would. */
  async send(message: unknown): Promise<void> {
    await this.page.evaluate((data) => dispatchEvent(new MessageEvent('message', { data })), message);
  }

  /** Answers what the page says from now on, where there is an answer. */
  async answer(how: (message: FromPanel) => unknown): Promise<void> {
    await this.page.exposeFunction('answerTo', how);
    await this.page.evaluate(() => {
      interface Answer {
        readonly kind: string;
        readonly file?: string;
        readonly base64?: string;
      }
      const { said, answerTo } = globalThis as unknown as {
        said: unknown[];
        answerTo(message: unknown): Promise<Answer | undefined>;
      };
      const push = said.push.bind(said);
      said.push = (message) => {
        void answerTo(message).then((answer) => {
          if (!answer) return;
          // Bytes do not come through this door.
          const { file, base64 } = answer;
          const bytes = base64 && Uint8Array.from(atob(base64), (sign) => sign.charCodeAt(0)).buffer;
          const data = answer.kind === 'sound' ? { kind: 'sound', sound: { file, bytes } } : answer;
          dispatchEvent(new MessageEvent('message', { data }));
        });
        return push(message);
      };
    });
  }

  said(): Promise<FromPanel[]> {
    return this.page.evaluate(() => (globalThis as unknown as { said: FromPanel[] }).said);
  }
}

function themeColours(theme: Theme): [string, string][] {
  const { background, foreground, soft, link, alarm } = themes[theme];
  return [
    ['editor-background', background],
    ['editor-foreground', foreground],
    ['descriptionForeground', soft],
    ['textLink-foreground', link],
    ['errorForeground', alarm],
  ];
}
