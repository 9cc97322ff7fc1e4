/** The pictures of the plan for the client: each shot as lit, and the film piece by piece. */
import { litPiece, litShowing, type LitScene } from '../../core/derived/lit/index.ts';
import { samePlaceS, shownOfPieceS, shownStretch } from '../../core/derived/edit.ts';
import { showingsOf } from '../../core/derived/showings.ts';
import type { Deliverable, Film, Piece, Shot } from '../../core/film.ts';
import { paintLit } from '../lit/paint.ts';
import { pngOf } from '../lit/png.ts';
import type { FrameOnSheet, PngFile } from '../sheet/blocks.ts';
import { called, capital, durationText, plain } from './plain-words.ts';

const shotPx = 480;
const pieceHighPx = 120;
/** More pieces than this are a film of its own; the first are enough to see the order. */
const mostPieces = 40;

export function shotFrame(shot: Shot, film: Film, words: readonly string[]): FrameOnSheet {
  const [showing] = showingsOf(shot, film);
  const scene = showing && litShowing(film, showing);
  return { png: scene && painted(scene, film, shotPx), heading: capital(plain(shot.name)), words };
}

/** What a deliverable shows, in its order, each piece at its middle. */
export function stripFrames(film: Film, deliverable: Deliverable): FrameOnSheet[] {
  const stretch = shownStretch(deliverable, film);
  const shown = film.cut.filter((piece) => !stretch || shownOfPieceS(piece, deliverable, film) > 0);
  return shown.slice(0, mostPieces).map((piece) => {
    const runs = stretch ? shownOfPieceS(piece, deliverable, film) : piece.lengthS;
    return {
      png: picture(piece, deliverable, film),
      heading: heading(piece),
      words: [...(runs ? [durationText(runs)] : []), ...titlesIn(piece, film)],
    };
  });
}

export function piecesLeft(film: Film): number {
  return Math.max(0, film.cut.length - mostPieces);
}

function heading({ shotName, footage, colour }: Piece): string {
  if (shotName) return capital(plain(shotName.value));
  return footage ? `Film ${called(footage.value)}` : colour ? 'Plain colour' : 'Not said';
}

/** The words that begin to be seen in a piece. */
function titlesIn({ startS, endS }: Piece, film: Film): string[] {
  if (startS === undefined || endS === undefined) return [];
  const same = samePlaceS(film);
  return film.titles.flatMap(({ text, atS }) =>
    text && atS !== undefined && atS >= startS - same && atS < endS - same ? [`“${text.value}”`] : [],
  );
}

function picture(piece: Piece, deliverable: Deliverable, film: Film): PngFile | undefined {
  const raster = deliverable.raster?.value;
  if (!raster) return undefined;
  if (piece.colour) return plainColour(piece.colour.value, raster.width / raster.height);
  const scene = litPiece(film, piece, deliverable, 0.5);
  return scene && painted(scene, film, Math.round(pieceHighPx * Math.min(scene.aspect, 2)));
}

function painted(scene: LitScene, { photograph }: Film, width: number): PngFile {
  const height = Math.max(1, Math.round(width / scene.aspect));
  return { bytes: pngOf(paintLit(scene, width, height, { photograph }), width, height), width, height };
}

function plainColour(colour: string, aspect: number): PngFile {
  const [width, height] = [Math.max(1, Math.round(9 * aspect)), 9];
  const rgb = [1, 3, 5].map((at) => parseInt(colour.slice(at, at + 2), 16));
  const pixels = Uint8ClampedArray.from({ length: width * height * 4 }, (_, index) => rgb[index % 4] ?? 255);
  return { bytes: pngOf(pixels, width, height), width, height };
}
