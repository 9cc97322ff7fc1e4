/** The panel with a film that plays: scenes and sounds are answered as the server and the extension answer them. */
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import type { FromPanel, Picture } from '../../client/panel/messages.ts';
import { PositionMap } from '../../server/features/position-map.ts';
import { shownOf } from '../../server/features/pictures.ts';
import type { CheckResult } from '../../server/core/checker.ts';
import type { Deliverable } from '../../server/core/film.ts';
import type { Reel } from '../../server/film/reel.ts';
import { reelOf, sceneOf } from '../../server/film/reel-of.ts';
import { PanelPage, type Theme } from './panel.ts';

export interface Files {
  /** Bytes of the files of the repo that are heard or written with, by path. */
  readonly [path: string]: Uint8Array;
}

/** What is played of a checked spec; fails where nothing is. */
export function reelFor(result: CheckResult, deliverable?: string, files: Files = {}): Reel {
  const reel = reelOf({
    film: result.film!,
    deliverable: deliverableOf(result, deliverable),
    locate: (path) => (path in files ? `/films/${path}` : undefined),
    read: (path) => files[path] ?? 'is not there',
  });
  if (typeof reel === 'string') throw new Error(reel);
  return reel;
}

function deliverableOf({ film }: CheckResult, name?: string): Deliverable {
  return name === undefined ? [...film!.deliverables.values()][0]! : film!.deliverables.get(name)!;
}

export class FilmPanel {
  /** How many scenes the page has asked for. */
  scenes = 0;

  private constructor(
    readonly panel: PanelPage,
    readonly page: Page,
  ) {}

  static async open(
    browser: Browser,
    result: CheckResult,
    {
      theme,
      deliverable,
      files = {},
      here,
      options,
    }: {
      theme?: Theme;
      deliverable?: string;
      files?: Files;
      here?: number;
      options?: BrowserContextOptions;
    } = {},
  ): Promise<FilmPanel> {
    const panel = await PanelPage.open(browser, theme, undefined, options);
    const made = new FilmPanel(panel, panel.page);
    await panel.answer((message) => made.#answer(message, result, deliverable, files));
    await panel.send(show(result, here));
    await panel.send({ kind: 'reel', reel: reelFor(result, deliverable, files) });
    return made;
  }

  /** The frame that the page shows. */
  async frame(): Promise<number> {
    return Number(await this.page.locator('#screen').getAttribute('data-frame'));
  }

  /** All is drawn that there is to draw. */
  async drawn(): Promise<void> {
    await this.page.waitForFunction(
      () =>
        document.getElementById('screen')!.dataset['frame'] !== undefined &&
        document.getElementById('screen')!.dataset['drawn'] === 'all',
    );
  }

  async #answer(message: FromPanel, result: CheckResult, deliverable: string | undefined, files: Files) {
    if (message.kind === 'scene') {
      this.scenes++;
      const { id, ...moment } = message.scene;
      const { scene, moves } = sceneOf(result.film!, deliverableOf(result, deliverable), moment);
      return { kind: 'scene', answer: { id, scene, moves } };
    }
    if (message.kind !== 'sound') return undefined;
    const bytes = files[message.file.replace('/films/', '')];
    return { kind: 'sound', file: message.file, base64: bytes && Buffer.from(bytes).toString('base64') };
  }
}

export function show(result: CheckResult, here?: number) {
  const { text } = result.doc;
  const shown = shownOf(result, { view: 'timeline' }, new PositionMap(text, text))!;
  const picture: Picture = { ...shown, version: 1, stamp: '1/0', old: false, here, root: 'file:///films' };
  return { kind: 'show', picture, kept: { zoom: 1, uri: 'file:///films/box.shoot.yaml' }, file: 'box.shoot.yaml' };
}
