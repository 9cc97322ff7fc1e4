/** The files of the open folders, for a server that can't read any: all that are there at first, then what changes. */
import * as vscode from 'vscode';
import type { ToldFile, ToldFiles } from '../../server/browser/told.ts';
import { kindOf } from '../../server/core/paths.ts';

/** A folder on a network is asked for each of its folders, so no more of them are looked at, the upper ones first. */
const mostFolders = 1000;
const mostFiles = 20_000;
/** Asked for at once. */
const atOnce = 16;
/** No file of ours is larger. */
const largestBytes = 1024 * 1024;
/** What changes together is told together. */
const tellMs = 50;

export class FilesToTell implements vscode.Disposable {
  readonly #watcher = vscode.workspace.createFileSystemWatcher('**/*');
  readonly #news = new vscode.EventEmitter<ToldFiles>();
  readonly onNews = this.#news.event;
  /** Each with how many of its folders are looked at, where it is one. */
  #changed = new Map<string, { readonly uri: vscode.Uri; readonly most: number }>();
  #telling: ReturnType<typeof setTimeout> | undefined;

  constructor() {
    this.#watcher.onDidCreate((uri) => this.#note(uri));
    this.#watcher.onDidChange((uri) => kindOf(uri.path) && this.#note(uri));
    this.#watcher.onDidDelete((uri) => this.#note(uri));
    // Some folders tell of no changes but these.
    vscode.workspace.onDidSaveTextDocument(({ uri }) => this.#note(uri));
    vscode.workspace.onDidOpenTextDocument(({ uri }) => isAlone(uri) && this.#note(besides(uri), 1));
    vscode.workspace.onDidChangeWorkspaceFolders(({ added }) => added.forEach(({ uri }) => this.#note(uri)));
  }

  dispose(): void {
    this.#watcher.dispose();
    this.#news.dispose();
    clearTimeout(this.#telling);
  }

  async all(): Promise<ToldFile[]> {
    const folders = (vscode.workspace.workspaceFolders ?? []).map(({ uri }) => uri);
    const alone = vscode.workspace.textDocuments.filter(({ uri }) => isAlone(uri)).map(({ uri }) => besides(uri));
    return [...(await below(folders)), ...(await below(alone, alone.length))];
  }

  #note(uri: vscode.Uri, most = mostFolders): void {
    this.#changed.set(uri.toString(), { uri, most });
    this.#telling ??= setTimeout(() => void this.#tell(), tellMs);
  }

  async #tell(): Promise<void> {
    this.#telling = undefined;
    const changed = [...this.#changed.values()];
    this.#changed = new Map();
    const found = await Promise.all(changed.map(whatIsAt));
    const gone = changed.filter((_, index) => found[index] === undefined).map(({ uri }) => uri.toString());
    this.#news.fire({ files: found.flatMap((files) => files ?? []), gone });
  }
}

/** One of ours that was opened alone, in none of the folders that are open. */
function isAlone(uri: vscode.Uri): boolean {
  return (
    kindOf(uri.path) !== undefined &&
    uri.scheme !== 'untitled' &&
    vscode.workspace.getWorkspaceFolder(uri) === undefined
  );
}

function besides(uri: vscode.Uri): vscode.Uri {
  return vscode.Uri.joinPath(uri, '..');
}

/** A file, or all files of a folder; undefined where nothing is there any more. */
async function whatIsAt({
  uri,
  most,
}: {
  readonly uri: vscode.Uri;
  readonly most: number;
}): Promise<ToldFile[] | undefined> {
  try {
    const { type } = await vscode.workspace.fs.stat(uri);
    return type & vscode.FileType.Directory ? await below([uri], most) : [await told(uri)];
  } catch {
    return undefined;
  }
}

/** All files below some folders, the upper ones first. */
async function below(tops: readonly vscode.Uri[], most = mostFolders): Promise<ToldFile[]> {
  const files: vscode.Uri[] = [];
  let looked = 0;
  for (let level = [...tops]; level.length > 0 && looked < most && files.length < mostFiles;) {
    const now = level.slice(0, most - looked);
    looked += now.length;
    const lists = await inTurns(now, list);
    level = [];
    lists.flat().forEach(([uri, isFolder]) => (isFolder ? level : files).push(uri));
  }
  return inTurns(files.slice(0, mostFiles), told);
}

async function list(folder: vscode.Uri): Promise<[vscode.Uri, boolean][]> {
  try {
    const entries = await vscode.workspace.fs.readDirectory(folder);
    return entries
      .filter(
        ([name, type]) => !(type & vscode.FileType.Directory) || !(name.startsWith('.') || name === 'node_modules'),
      )
      .map(([name, type]) => [vscode.Uri.joinPath(folder, name), (type & vscode.FileType.Directory) !== 0]);
  } catch {
    return []; // It went meanwhile, or may not be read.
  }
}

/** Texts of ours alone are read, and the files that say what is none. */
async function told(uri: vscode.Uri): Promise<ToldFile> {
  const address = uri.toString();
  if (!kindOf(uri.path) && !/\/\.(?:gitignore|shootspecignore)$/.test(uri.path)) return { uri: address };
  try {
    const bytes = await vscode.workspace.fs.readFile(uri);
    if (bytes.length > largestBytes) return { uri: address, isTooBig: true };
    return { uri: address, text: new TextDecoder('utf-8', { ignoreBOM: true }).decode(bytes) };
  } catch {
    return { uri: address };
  }
}

async function inTurns<T, R>(all: readonly T[], make: (one: T) => Promise<R>): Promise<R[]> {
  const made: R[] = [];
  for (let start = 0; start < all.length; start += atOnce)
    made.push(...(await Promise.all(all.slice(start, start + atOnce).map(make))));
  return made;
}
