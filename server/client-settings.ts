/**
 * What the client has settled for this extension: severities of rules, which hints are shown, whether texts are formatted,
 * and where clips lie. It may say so when it starts, push it later, or be asked: once for all, and for each open folder.
 */
import type { ClientCapabilities, Connection } from 'vscode-languageserver';
import { isLevelOrNone, type LevelOrNone } from './core/settings.ts';
import type { Disk } from './disk.ts';
import { type HintKind, hintKinds } from './features/hints.ts';
import type { FootageFolders } from './footage/footages.ts';
import { readHints } from './handlers/hints.ts';

export interface Settled {
  readonly severities: ReadonlyMap<string, LevelOrNone>;
  readonly hints: ReadonlySet<HintKind>;
  /** Nothing is formatted until somebody wants it. */
  readonly formats: boolean;
  /** Where clips and masters lie on this machine. */
  readonly folders: FootageFolders;
}

const section = 'shootSpec';

export class ClientSettings {
  /** For what lies in no open folder. */
  all: Settled = { severities: new Map(), hints: new Set(hintKinds), formats: false, folders: {} };
  /** By the path of each folder. */
  #ofFolder = new Map<string, Settled>();

  constructor(private readonly disk: Pick<Disk, 'fileOf' | 'isInside'>) {}

  /** What holds in a folder: that of the innermost open folder around it. */
  of(path: string): Settled {
    const around = [...this.#ofFolder.keys()].filter((one) => one === path || this.disk.isInside(one, path));
    const [innermost] = around.sort((a, b) => b.length - a.length);
    return innermost === undefined ? this.all : this.#ofFolder.get(innermost)!;
  }

  /** Is it on anywhere? */
  get formatsSomewhere(): boolean {
    return [this.all, ...this.#ofFolder.values()].some(({ formats }) => formats);
  }

  /** What a client says by itself, under our name or bare; what it does not say stays as it was. */
  take(said: unknown): void {
    const settings = recordOf(said)?.[section] ?? said;
    if (recordOf(settings) === undefined) return;
    this.all = read(settings);
    this.#ofFolder.clear();
  }

  /** Asks the client, where it can be asked. What it does not say stays as it was. */
  async ask({ workspace }: Connection, client: ClientCapabilities, folderUris: readonly string[]): Promise<void> {
    if (!client.workspace?.configuration) return;
    const items = [{ section }, ...folderUris.map((scopeUri) => ({ scopeUri, section }))];
    const answers: unknown = await workspace.getConfiguration(items).catch(() => undefined);
    if (!Array.isArray(answers)) return;
    const [forAll, ...forFolders] = answers as unknown[];
    if (recordOf(forAll)) this.all = read(forAll);
    const settled = folderUris.map((uri, index) => [this.disk.fileOf(uri), forFolders[index]] as const);
    this.#ofFolder = new Map(
      settled.flatMap(([folder, said]) => (folder !== undefined && recordOf(said) ? [[folder, read(said)]] : [])),
    );
  }
}

function recordOf(value: unknown): Readonly<Record<string, unknown>> | undefined {
  return value !== null && typeof value === 'object' && !Array.isArray(value)
    ? (value as Readonly<Record<string, unknown>>)
    : undefined;
}

function read(settings: unknown): Settled {
  return {
    severities: readSeverities(settings),
    hints: readHints(settings),
    formats: recordOf(recordOf(settings)?.['format'])?.['enable'] === true,
    folders: { footage: readPath(settings, 'footage'), masters: readPath(settings, 'masters') },
  };
}

function readPath(settings: unknown, key: 'footage' | 'masters'): string | undefined {
  const path = recordOf(settings)?.[key];
  return typeof path === 'string' && path !== '' ? path : undefined;
}

function readSeverities(settings: unknown): ReadonlyMap<string, LevelOrNone> {
  const entries = Object.entries(recordOf(recordOf(settings)?.['rules']) ?? {});
  return new Map(entries.filter((entry): entry is [string, LevelOrNone] => isLevelOrNone(entry[1])));
}
