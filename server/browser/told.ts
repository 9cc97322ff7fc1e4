/** What the extension tells a server that can't read files itself. It comes from the same package, so it is taken as it is. */

export interface ToldFile {
  readonly uri: string;
  /** Of what is ours and the ignore files; of any other file it counts only that it is there. */
  readonly text?: string;
  readonly isTooBig?: boolean;
}

/** `shootSpec/files`: files that came, or have another text, and addresses of files and folders that went. */
export interface ToldFiles {
  readonly files: readonly ToldFile[];
  readonly gone?: readonly string[];
}

/** What the server begins with, beside what a server in a process is told. */
export interface ToldAtStart extends ToldFiles {
  /** Translations of the rules' messages. */
  readonly texts?: unknown;
}

export const filesNotification = 'shootSpec/files';

/** What lies beside the bundles and is asked for when it is needed. */
export const partRequest = 'shootSpec/part';
export type PartName = 'pages.md' | 'set-page.js' | 'set-page.css';
/** Where it lies, so that a reader can open it, and what it says. */
export interface Part {
  readonly address?: string;
  readonly text: string;
}
