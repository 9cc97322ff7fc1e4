/** What the language server has in a process: the disk, git, clips, films and what lies beside its bundle. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { URI } from 'vscode-uri';
import type { Runtime } from './connection.ts';
import { registerAssemble } from './handlers/assemble.ts';
import { registerCompare } from './handlers/compare.ts';
import { registerDecode } from './handlers/decode.ts';
import { registerPlay } from './handlers/play.ts';
import { History } from './history.ts';
import { LiveFootage } from './live-footage.ts';
import { LiveMusic } from './live-music.ts';
import { nodeDisk } from './node-disk.ts';
import { usualPaper } from './pdf/paper.ts';
import { pagesIn } from './rule-pages.ts';
import { setPageParts } from './set-page-parts.ts';
import type { Pages } from './surroundings.ts';
import { textsFor } from './translations.ts';
import type { Sheet } from './views/sheet/blocks.ts';

export function inProcess(onNews: () => void): Runtime {
  const clips = new LiveFootage(onNews);
  const music = new LiveMusic(onNews);
  const history = new History(onNews);
  return {
    disk: nodeDisk,
    clips,
    music,
    history,
    pages,
    textsFor: (locale) => textsFor(join(import.meta.dirname, '../l10n'), locale),
    setPageParts: (path) => setPageParts(import.meta.dirname, path),
    sheetPdf,
    register(session) {
      registerPlay(session);
      registerCompare(session);
      registerDecode(session, clips, music);
      registerAssemble(session);
    },
  };
}

let known: Pages | undefined;

/** They lie beside the bundle and are read when the first is asked for; a reader can open them there. */
function pages(): Pages {
  const file = join(import.meta.dirname, 'pages.md');
  try {
    known ??= pagesIn(readFileSync(file, 'utf8'), URI.file(file).toString());
  } catch {
    known = new Map();
  }
  return known;
}

/** A program of its own beside ours, so that the server carries nothing that writes PDF. */
async function sheetPdf(sheet: Sheet, country: string | undefined): Promise<string> {
  const program = pathToFileURL(join(import.meta.dirname, 'pdf.cjs')).href;
  const loaded = (await import(/* @vite-ignore */ program)) as { default: typeof import('./pdf/index.ts') };
  return Buffer.from(await loaded.default.sheetPdf(sheet, usualPaper(country))).toString('base64');
}
