/** What the language server has in a worker of a browser's page: what the extension tells it, and nothing else. */
import type { Connection } from 'vscode-languageserver';
import type { Runtime } from '../connection.ts';
import { pagesIn } from '../rule-pages.ts';
import type { Pages } from '../surroundings.ts';
import type { SetPageParts } from '../views/set-page/html.ts';
import { registerNoFilm } from './no-film.ts';
import { Store } from './store.ts';
import { filesNotification, type Part, type PartName, partRequest, type ToldAtStart, type ToldFiles } from './told.ts';

export function inWorker(connection: Connection, onNews: () => void): Runtime {
  const store = new Store();
  let texts: unknown;
  let pages: Promise<Pages> | undefined;
  const part = (name: PartName) => connection.sendRequest<Part>(partRequest, { name });

  connection.onNotification(filesNotification, (told: ToldFiles) => {
    store.tell(told);
    onNews();
  });

  return {
    disk: store,
    begin(told) {
      const { files = [], texts: translated } = (told ?? {}) as Partial<ToldAtStart>;
      store.tell({ files });
      texts = translated;
    },
    pages: () =>
      (pages ??= part('pages.md').then(
        ({ text, address }) => pagesIn(text, address),
        () => new Map(),
      )),
    textsFor: () => texts,
    async setPageParts(path): Promise<SetPageParts> {
      const [{ text: script }, { text: style }] = await Promise.all([part('set-page.js'), part('set-page.css')]);
      const hashes = await Promise.all([script, style].map(hashOf));
      return { path, script, style, hashOf: (text) => hashes[text === script ? 0 : 1]! };
    },
    register: registerNoFilm,
  };
}

/** SHA-256 in base64. */
async function hashOf(text: string): Promise<string> {
  const digest = await crypto.subtle.digest('SHA-256', new TextEncoder().encode(text));
  return btoa(String.fromCharCode(...new Uint8Array(digest)));
}
