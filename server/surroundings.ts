/** What the language server runs in: a process of this machine, or a worker of a browser's page. */
import type { MusicHeard } from './core/decoded.ts';
import type { Earlier } from './core/film.ts';
import type { Footage } from './core/footage.ts';
import type { Disk } from './disk.ts';
import type { RulePage } from './features/hover.ts';
import type { FootageFolders } from './footage/footages.ts';
import type { Sheet } from './views/sheet/blocks.ts';
import type { SetPageParts } from './views/set-page/html.ts';

export interface Surroundings {
  readonly disk: Disk;
  /** Is told what the client begins with. */
  begin?(initializationOptions: unknown): void;
  /** Where clips can be opened. */
  readonly clips?: Clips;
  /** Where music can be listened to. */
  readonly music?: Music;
  /** Where git can be asked. */
  readonly history?: History;
  /** The pages of the rules. */
  pages(): Pages | Promise<Pages>;
  /** Translations of the rules' messages, where somebody has made them. */
  textsFor(locale: string): unknown;
  /** @param path of the spec, from the root of its repo */
  setPageParts(path: string): SetPageParts | Promise<SetPageParts>;
  /** The sheet as a PDF in base64, where it can be made. */
  sheetPdf?(sheet: Sheet, country: string | undefined): Promise<string>;
}

export type Pages = ReadonlyMap<string, RulePage>;

export interface Clips {
  trust(isTrusted: boolean): void;
  setFolders(folders: FootageFolders): void;
  of(root: string, sheet: string): Footage | undefined;
  end(): void;
}

export interface History {
  trust(isTrusted: boolean): void;
  /** A spec as it was at a revision. */
  of(root: string, path: string, revision: string): Earlier | undefined;
  lastCommit(root: string): string | undefined;
}

export interface Music {
  trust(isTrusted: boolean): void;
  /** What was heard in a file below a root. */
  of(root: string, path: string): MusicHeard | undefined;
  end(): void;
}
