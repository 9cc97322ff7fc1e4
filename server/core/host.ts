/** The outside world, as the core sees it: the repo's files by their path from its root, and nothing else. */
import type { Photograph } from './photograph.ts';
import type { Sketch } from './sketch.ts';
export type ReadResult =
  | { readonly text: string }
  | { readonly problem: 'missing' | 'outside' | 'not-a-file' | 'too-big' };

export interface Host {
  /** What the root folder is called, where that is known: a name to say where something was looked for. */
  readonly name?: string;
  /** A file's text. Refuses whatever lies outside the repo once links are followed, and whatever is no ordinary file. */
  read(path: string): ReadResult;
  /** Is there an ordinary file at this path inside the repo? */
  exists(path: string): boolean;
  /**
   * A cut-out photograph inside the repo: undefined where there is none, else why it can't be read, in words that follow its
   * name. Left out where nobody looks at pictures.
   */
  photograph?(path: string): Photograph | string | undefined;
  /** A sketch inside the repo, in the same way. */
  sketch?(path: string): Sketch | string | undefined;
  /** What lies in a folder inside the repo, in the order of the names; `''` is the root. Nothing where there is no such folder. */
  list(folder: string): readonly Entry[];
}

export interface Entry {
  readonly name: string;
  readonly isFolder: boolean;
}
