/** Where the paths of a file start: the top folder of its repo. */

/** The folder in which kits are kept, of all films or of one. */
export const kitsFolder = 'kits';

export interface RootSearch {
  /** The folders around the file, from its own outwards; the search for settings ends with the last. */
  readonly folders: readonly string[];
  /** The folder that is open, or the current one, where the file lies in it. */
  readonly open?: string | undefined;
  readonly hasSettings: (folder: string) => boolean;
  readonly hasKits: (folder: string) => boolean;
}

/**
 * The topmost folder with a settings file. Without one it is the nearest folder with kits in the one that is open, for
 * several films may lie there side by side; else the open one; and the file's own where it is in none.
 */
export function rootAmong({ folders, open, hasSettings, hasKits }: RootSearch): string {
  const settled = folders.findLast(hasSettings);
  if (settled !== undefined) return settled;
  if (open === undefined) return folders[0]!;
  const inOpen = folders.includes(open) ? folders.slice(0, folders.indexOf(open)) : folders;
  return inOpen.find(hasKits) ?? open;
}
