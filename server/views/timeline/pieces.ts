/** The pieces of the cut, with their fades and dissolves, and how far their ends miss the beat. */
import { beatGrid } from '../../core/derived/beat-grid.ts';
import type { Film, Piece } from '../../core/film.ts';
import * as say from '../../core/say.ts';
import type { Seconds } from '../../core/units.ts';
import { fitted, textWidth } from '../measure.ts';
import { letters } from '../page.ts';
import { blockRange } from '../picture.ts';
import { cornersOf, hatch } from '../shapes.ts';
import { type El, el, from, ink, polygon, strokes, text } from '../svg.ts';
import type { Axis } from './axis.ts';
import type { Bar, Row } from './bar.ts';

const height = 40;

/** The pieces by name, or by number with their names below where a name is longer than its piece. */
export function pieceRow(film: Film, axis: Axis): Row {
  const pieces = film.cut.filter(isPlaced);
  const hasRoom = (piece: Placed) =>
    textWidth(nameOf(piece), letters.words) <=
    axis.x(piece.endS) - axis.x(piece.startS) - 12 - overlapPx(piece, film, axis);
  const short = new Set(pieces.filter((piece) => !hasRoom(piece)));
  const key = [...short].slice(0, mostNamed).map((piece) => `${piece.index + 1} ${nameOf(piece)}`);
  const more = short.size - key.length;
  return {
    name: 'Cut',
    height,
    bars: pieces.map((piece) => pieceBar(piece, film, short.has(piece) ? String(piece.index + 1) : nameOf(piece))),
    cutsWords: true,
    ...(key.length > 0 && { below: `${key.join(' · ')}${more > 0 ? ` · and ${more} more` : ''}` }),
  };
}

const mostNamed = 24;

type Placed = Piece & { readonly startS: Seconds; readonly endS: Seconds };

function isPlaced(piece: Piece): piece is Placed {
  return piece.startS !== undefined && piece.endS !== undefined;
}

/** How much of its ends fades, or is shared with its neighbours. */
function clearOf(piece: Piece, film: Film): { fromS: Seconds; toS: Seconds } {
  const next = film.cut[piece.index + 1];
  return {
    fromS: Math.max(piece.fadeInS, piece.dissolveS / 2),
    toS: Math.max(piece.fadeOutS, (next?.dissolveS ?? 0) / 2),
  };
}

function overlapPx(piece: Piece, film: Film, axis: Axis): number {
  const { fromS, toS } = clearOf(piece, film);
  return axis.x(fromS + toS) - axis.x(0);
}

function nameOf({ shotName, footage, colour }: Piece): string {
  return shotName?.value ?? footage?.value ?? (colour ? `plain ${colour.value}` : 'piece');
}

function pieceBar(piece: Placed, film: Film, words: string): Bar {
  const { startS, endS } = piece;
  const next = film.cut[piece.index + 1];
  const clear = clearOf(piece, film);
  const inside = (x: number, width: number, y: number): El[] => {
    const perS = width / Math.max(endS - startS, 1e-9);
    const signs = [
      ...wedge(x, y, piece.fadeInS * perS, 'in'),
      ...wedge(x + width, y, -piece.fadeOutS * perS, 'out'),
      ...(piece.dissolveS > 0 ? dissolveSign(x, y, (piece.dissolveS * perS) / 2) : []),
      ...(next?.dissolveS ? dissolveSign(x + width, y, (-next.dissolveS * perS) / 2) : []),
    ];
    const space = width - (clear.fromS + clear.toS) * perS - 10;
    const length = fitted(`${piece.length?.text ?? ''}${speedWords(piece)}`, letters.small, space);
    return length
      ? [...signs, text({ x: x + clear.fromS * perS + 5, y: y + 33 }, length, { size: letters.small, fill: ink.soft })]
      : signs;
  };
  return { fromS: startS, toS: endS, words, clear, inside, ranges: [blockRange(piece), piece.length] };
}

function speedWords({ speed }: Piece): string {
  return speed === 1 ? '' : ` at ${say.percentText(speed)}`;
}

/** A fade: black that gives way. */
function wedge(x: number, y: number, width: number, kind: 'in' | 'out'): El[] {
  if (Math.abs(width) < 0.5) return [];
  const points = [
    { x, y },
    { x: x + width, y },
    { x, y: y + height },
  ];
  return [
    from(undefined, [
      polygon(points, { fill: ink.ink, 'fill-opacity': 0.75, stroke: ink.ink }),
      el('title', {}, [`fade ${kind}`]),
    ]),
  ];
}

/** Half of a dissolve, crossed: two pictures share it. */
function dissolveSign(x: number, y: number, width: number): El[] {
  const box = cornersOf({ x: Math.min(x, x + width), y, width: Math.abs(width), height });
  return [strokes([...hatch(box, 5, 45), ...hatch(box, 5, 135)], { stroke: ink.ink, 'stroke-width': 0.6 })];
}

/** Cuts that miss their beat by more than a frame, with the frames that they are late. */
export function offBeat(film: Film): Bar[] {
  const grid = beatGrid(film);
  if (!grid) return [];
  return film.cut.slice(0, -1).flatMap((piece) => {
    const frame = piece.endFrame;
    if (frame === undefined || piece.endS === undefined || film.cut[piece.index + 1]!.dissolveS > 0) return [];
    const { late } = grid.near(frame);
    if (Math.abs(late) <= 1 + 1e-6) return [];
    const words = `${say.num(Math.abs(late), 1)} frames ${late > 0 ? 'late' : 'early'}`;
    return [{ fromS: piece.endS, toS: piece.endS, words, plain: true, ranges: [piece.length] }];
  });
}
