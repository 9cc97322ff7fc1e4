/** What moves in each piece, and which light changes. */
import type { Range } from '../../core/document/node.ts';
import type { LampPlace, Piece, Shot } from '../../core/film.ts';
import * as say from '../../core/say.ts';
import { blockRange } from '../picture.ts';
import type { Bar } from './bar.ts';

export function movement(piece: Piece): Bar[] {
  const { startS, endS, shot } = piece;
  if (startS === undefined || endS === undefined) return [];
  const ranges: (Range | undefined)[] = [piece.zoomAt, piece.shiftAt, piece.speedAt, piece.turnShown];
  const words = [...pieceMoves(piece), ...(shot ? shotMoves(shot, ranges) : [])];
  return words.length > 0 ? [{ fromS: startS, toS: endS, words: words.join(', '), ranges }] : [];
}

function pieceMoves({ zoom, shift }: Piece): string[] {
  const zooms =
    zoom.from !== zoom.to
      ? [`push ${zoom.to > zoom.from ? 'in' : 'out'} ${say.num(zoom.from, 2)} to ${say.num(zoom.to, 2)}`]
      : [];
  return shift.from !== shift.to
    ? [...zooms, `shift ${say.percentText(shift.from)} to ${say.percentText(shift.to)}`]
    : zooms;
}

function shotMoves({ camera, turn, action }: Shot, ranges: (Range | undefined)[]): string[] {
  const words: string[] = [];
  for (const [name, change] of [
    ['distance', camera.distance],
    ['height', camera.height],
    ['angle', camera.angle],
    ['slide', camera.slide],
    ['focal', camera.focal],
  ] as const) {
    if (!change || change.value.from === change.value.to) continue;
    ranges.push(change);
    words.push(`${name} ${change.text}`);
  }
  const focus = camera.focus;
  if (focus && typeof focus.value === 'object' && focus.value.from !== focus.value.to)
    words.push(`focus ${focus.text}`);
  if (turn?.speed) words.push(`turns at ${turn.speed.text}`);
  if (turn?.by) words.push(`turns by ${turn.by.text}`);
  if (turn) ranges.push(blockRange(turn));
  if (action?.what) words.push(action.what.value.replace(/\.$/, ''));
  return words;
}

export function lightChanges(piece: Piece): Bar[] {
  const { startS, endS, shot } = piece;
  const changing = shot?.lit.filter((lamp) => lamp.changes) ?? [];
  if (startS === undefined || endS === undefined || changing.length === 0) return [];
  const words = changing.map((lamp) => `${lamp.name}: ${changeWords(lamp)}`).join(', ');
  return [{ fromS: startS, toS: endS, words, ranges: changing.map((lamp) => blockRange(lamp)) }];
}

function changeWords({ level, distance, angle, height, temperature }: LampPlace): string {
  return [level, distance, angle, height, temperature]
    .flatMap((change) => (change && change.value.from !== change.value.to ? change.text : []))
    .join(', ');
}
