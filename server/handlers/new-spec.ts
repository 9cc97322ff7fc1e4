/** Wires what a first film begins with to the protocol, by requests of our own: what is there already, and new texts. */
import { type FileKind, kindOf, settingsPath } from '../core/paths.ts';
import { firstFiles } from '../first-files.ts';
import { type NewFilm, oldFilmOf, specLike, stillOld } from '../features/spec-like.ts';
import type { DocumentParams, Session } from './session.ts';

export const newSpecRequest = 'shootSpec/newSpec';
export const begunRequest = 'shootSpec/begun';

interface AskedFolder {
  readonly folder: string;
}

/** What an open folder has. */
interface Begun {
  /** Paths from the folder. */
  readonly kits: readonly string[];
  readonly specs: readonly string[];
  /** The kits that the settings name for every spec, as far as they can be read. */
  readonly usualKits: readonly string[];
}

export function registerNewSpec({ connection, ready, repos, at }: Session): void {
  connection.onRequest(
    begunRequest,
    ready(({ folder }: AskedFolder): Begun => {
      const file = repos.disk.fileOf(`${folder.replace(/\/$/, '')}/${settingsPath}`);
      if (file === undefined) return { kits: [], specs: [], usualKits: [] };
      const { files, checker } = repos.repoOf(file);
      const found = files.paths((one) => kindOf(one) === 'kit' || kindOf(one) === 'shoot');
      const of = (kind: FileKind) => found.filter((one) => kindOf(one) === kind);
      // The editor reads them itself, so it hears of none that leads out of the repo or is no file.
      const usualKits = checker.settings(settingsPath).kits.filter((one) => 'text' in checker.host.read(one));
      return { kits: of('kit'), specs: of('shoot'), usualKits };
    }),
  );
  connection.onRequest(newSpecRequest, ready(firstFiles));
  // The last text of the old film that could be read, as it stands in the editor.
  const oldOf = (uri: string) => {
    const known = at(uri)?.current;
    return known?.lastGood?.film ? known.lastGood : undefined;
  };
  connection.onRequest(
    'shootSpec/oldFilm',
    ready(({ textDocument: { uri } }: DocumentParams) => {
      const old = oldOf(uri);
      return (old && oldFilmOf(old)) ?? null;
    }),
  );
  connection.onRequest(
    'shootSpec/newSpecLike',
    ready(({ textDocument: { uri }, asked }: DocumentParams & { readonly asked: NewFilm }) => {
      const old = oldOf(uri);
      const text = old && specLike(old, asked);
      return text === undefined ? null : { text, stillOld: stillOld(old!.film!) };
    }),
  );
}
