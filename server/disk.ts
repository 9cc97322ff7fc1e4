/** Where the files of repos lie: the disk of this machine, or what a page was told of a folder somewhere else. */
import type { Host } from './core/host.ts';

export interface Disk {
  /** What a file is called here, with the folders that it lies in; undefined for an address where no file can be read. */
  fileOf(uri: string): string | undefined;
  /** The address of a file by its path from a root, or of the root itself. */
  uriOf(root: string, path?: string): string;
  /** A file's path from a root; it climbs out where the file lies elsewhere. */
  pathFrom(root: string, file: string): string;
  isInside(folder: string, file: string): boolean;
  /** The root of the repo that a file lies in. */
  rootFor(file: string, openFolder: string | undefined): string;
  host(root: string): Host;
  /** Which paths below a root its ignore files take out. */
  ignoredBelow(root: string): (path: string) => boolean;
  /** Where what is saved nowhere belongs while no folder is open. */
  readonly here: string;
}
