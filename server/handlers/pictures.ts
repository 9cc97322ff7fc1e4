/** Wires the pictures of a plan to the protocol, by requests of our own. */
import type { Position } from 'vscode-languageserver';
import { URI } from 'vscode-uri';
import { type Shown, shownOf, standaloneOf } from '../features/pictures.ts';
import { type Asked, offsetOf, type Reading, readingOf, type Session } from './session.ts';

export const pictureRequest = 'shootSpec/picture';
export const pictureFileRequest = 'shootSpec/pictureFile';

interface AskedPicture extends Asked {
  readonly position?: Position;
  readonly view?: string;
  readonly shot?: string;
  readonly deliverable?: string;
}

/** `old`: the text can't be read just now, and this is drawn from the last one that could. */
type Answer = Shown & {
  readonly version: number;
  readonly old: boolean;
  readonly here?: number;
  readonly root: string;
};

export function registerPictures(session: Session): void {
  const { connection, ready } = session;

  connection.onRequest(
    pictureRequest,
    ready((asked: AskedPicture): Answer | null => {
      const reading = specAt(session, asked);
      const shown = reading && shownOf(reading.result, wantedOf(reading, asked), reading.carry);
      if (!reading || !shown) return null;
      const { file, current, target } = reading.open;
      return {
        ...shown,
        version: file.version,
        old: current.result.doc.broken,
        ...(asked.position && { here: target.lines.offset(asked.position, target.units) }),
        root: URI.file(target.root).toString(),
      };
    }),
  );

  connection.onRequest(
    pictureFileRequest,
    ready((asked: AskedPicture): { svg: string } | null => {
      const reading = specAt(session, asked);
      const svg = reading && standaloneOf(reading.result, wantedOf(reading, asked));
      return svg === undefined ? null : { svg };
    }),
  );
}

function specAt(session: Session, { textDocument }: Asked): Reading | undefined {
  const open = session.at(textDocument.uri);
  return open && open.current.place.kind === 'shoot' ? readingOf(open) : undefined;
}

function wantedOf(reading: Reading, { position, view, shot, deliverable }: AskedPicture) {
  return { view, shot, deliverable, offset: position && offsetOf(reading, position) };
}
