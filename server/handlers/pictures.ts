/** Wires the pictures of a plan, and its sheet, to the protocol, by requests of our own. */
import type { Position } from 'vscode-languageserver';
import { type ShownPicture, shownOf, standaloneOf } from '../features/pictures.ts';
import { paperFor, sheetText } from '../views/sheet.ts';
import { setPageHtml } from '../views/set-page/html.ts';
import { type DocumentParams, offsetOf, type ReadableFile, type Session, specAt } from './session.ts';

export const pictureRequest = 'shootSpec/picture';
export const pictureFileRequest = 'shootSpec/pictureFile';

export const sheetFileRequest = 'shootSpec/sheetFile';

interface AskedPicture extends DocumentParams {
  readonly position?: Position;
  readonly view?: string;
  readonly shot?: string;
  readonly deliverable?: string;
  readonly isLit?: boolean;
  /** How large the place is where it is shown, in CSS pixels; a page of its own where that is left out. */
  readonly width?: number;
  readonly height?: number;
}

interface AskedSheet extends DocumentParams {
  readonly as?: 'html' | 'pdf';
  /** `set` is the page that is worked with on the set; the sheet to take there where nothing is said. */
  readonly for?: 'set' | 'client';
}

/** `old`: the text can't be read just now, and this is drawn from the last one that could. */
type Answer = ShownPicture & {
  readonly version: number;
  /** Changes whenever what is drawn may. */
  readonly stamp: string;
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
      const shown = reading && shownOf(reading.result, wantedOf(reading, asked), reading.positions);
      if (!reading || !shown) return null;
      const { file, current, target } = reading.open;
      return {
        ...shown,
        version: file.version,
        stamp: `${file.version}/${session.epoch}`,
        old: current.result.doc.broken,
        ...(asked.position && { here: target.lines.offset(asked.position, target.units) }),
        root: target.uriOf(),
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

  connection.onRequest<{ html: string } | { pdfBase64: string } | null, unknown>(
    sheetFileRequest,
    ready(async (asked: AskedSheet): Promise<{ html: string } | { pdfBase64: string } | null> => {
      const reading = specAt(session, asked);
      const result = reading?.result;
      if (!result?.film) return null;
      if (asked.for === 'set') {
        const { current, file } = reading!.open;
        const path = current.place.path ?? decodeURIComponent(file.uri.slice(file.uri.lastIndexOf('/') + 1));
        return { html: setPageHtml(result, result.film, await session.setPageParts(path)) };
      }
      const { film } = result;
      const reader = asked.for === 'client' ? 'client' : undefined;
      if (asked.as !== 'pdf') return { html: sheetText(result, reader)! };
      if (!session.sheetPdf) return null;
      return { pdfBase64: await session.sheetPdf(paperFor(result, film, reader), film.region?.value.country) };
    }),
  );
}

function wantedOf(reading: ReadableFile, { position, width, height, ...asked }: AskedPicture) {
  const room = width === undefined ? undefined : { width, height };
  const { view, shot, deliverable, isLit } = asked;
  return { view, shot, deliverable, isLit: isLit === true, room, offset: position && offsetOf(reading, position) };
}
