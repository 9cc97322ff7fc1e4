/** Wires the film that the panel plays to the protocol: the reel of a deliverable, and its pictures one by one. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Range } from '../core/document/node.ts';
import type { Reel } from '../film/reel.ts';
import type { PieceMoment, PieceScene } from '../film/reel-of.ts';
import { oneLine } from '../formats/escape.ts';
import { FootageFolder } from '../footage/footage-folder.ts';
import { type DocumentParams, type ReadableFile, type Session, specAt } from './session.ts';

interface AskedReel extends DocumentParams {
  /** The first of the film where it is left out, or is none of them. */
  readonly deliverable?: string;
}

type AskedScene = AskedReel & PieceMoment;

/** `why`: it can't be played. */
type ReelAnswer = { readonly reel: Reel } | { readonly why: string };

export function registerPlay(session: Session): void {
  const { connection, ready } = session;

  connection.onRequest<ReelAnswer | null, unknown>(
    'shootSpec/reel',
    ready(async (asked: AskedReel): Promise<ReelAnswer | null> => {
      const reading = specAt(session, asked);
      const wanted = reading && deliverableOf(reading, asked);
      if (!reading || !wanted) return null;
      const reel = (await program()).reelOf({ ...wanted, ...filesOf(reading.open.current.place.root) });
      return typeof reel === 'string' ? { why: oneLine(reel) } : { reel: withPlacesNow(reel, reading) };
    }),
  );

  connection.onRequest(
    'shootSpec/scene',
    ready(async ({ piece, atS, without, tellsMoves, ...asked }: AskedScene): Promise<PieceScene | null> => {
      const reading = specAt(session, asked);
      const wanted = reading && deliverableOf(reading, asked);
      if (!wanted || !Number.isFinite(atS)) return null;
      return (await program()).sceneOf(wanted.film, wanted.deliverable, { piece, atS, without, tellsMoves });
    }),
  );
}

/** The program that puts films together, so that the server carries none of it. */
async function program(): Promise<typeof import('../film/index.ts')> {
  const file = pathToFileURL(join(import.meta.dirname, 'film.cjs')).href;
  const loaded = (await import(/* @vite-ignore */ file)) as { default: typeof import('../film/index.ts') };
  return loaded.default;
}

function deliverableOf({ result }: ReadableFile, { deliverable }: AskedReel) {
  const { film } = result;
  const one = film?.deliverables.get(deliverable ?? '') ?? film?.deliverables.values().next().value;
  return film && one && { film, deliverable: one };
}

/** Fonts and sounds are no larger. */
const largestFileBytes = 200e6;

/** Files of the repo, and of nowhere else. */
function filesOf(root: string) {
  const folder = FootageFolder.at(root);
  const found = (path: string) => {
    const at = folder?.locate(path);
    return at && !('problem' in at) && at.bytes <= largestFileBytes ? at.file : undefined;
  };
  return {
    locate: found,
    read(path: string): Uint8Array | string {
      const file = found(path);
      return file === undefined ? 'is not there' : readFileSync(file);
    },
  };
}

/** The text may have changed since it could be read last. */
function withPlacesNow(reel: Reel, { positions }: ReadableFile): Reel {
  const now = (range: Range | undefined) => range && positions.about(range);
  return {
    ...reel,
    pieces: reel.pieces.map((piece) => ({
      ...piece,
      name: oneLine(piece.name),
      written: now(piece.written),
      shot: now(piece.shot),
    })),
    notes: reel.notes.map(oneLine),
  };
}
