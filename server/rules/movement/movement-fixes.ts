/** Words and fixes that the movement rules share. */
import { takenS, turnedDeg, turningRpm } from '../../core/derived/time.ts';
import type { Piece, Shot } from '../../core/film.ts';
import { type FixIdea, set } from '../../core/rule.ts';
import { angleText, num, quoted } from '../../core/say.ts';
import type { Degrees, Ends, Mm } from '../../core/units.ts';

/** `the product`, or the part by its name. */
export function subjectText({ subject }: Shot): string {
  return subject.name === 'product' ? 'the product' : quoted(subject.name);
}

/** `8.5 mm/s`, `35 cm/s`, `2 m/s`. */
export function speedText(mmS: number): string {
  if (mmS >= 1000) return `${num(mmS / 1000, 1)} m/s`;
  return mmS < 100 ? `${num(mmS, 1)} mm/s` : `${num(mmS / 10, 0)} cm/s`;
}

/** Toward 0, so that what is written stays under a limit. */
export function towardZero(value: number, digits: number): number {
  const factor = 10 ** digits;
  return Math.trunc(value * factor + Math.sign(value) * 1e-6) / factor;
}

/** `0 cm to 28.5 cm`. */
export function moveText({ from, to }: Ends<Mm>): string {
  return from === to ? `${num(from / 10, 1)} cm` : `${num(from / 10, 1)} cm to ${num(to / 10, 1)} cm`;
}

/** How far the product turns in a piece, plus is clockwise. */
export function turnInPiece(shot: Shot, piece: Piece): Degrees {
  const taken = takenS(piece) ?? 0;
  return turnedDeg(shot, piece.fromS + taken) - turnedDeg(shot, piece.fromS);
}

/** The same turn at a share of its pace, and no faster than the table goes, with what the longest piece then shows of it. */
export function slowerTurn(shot: Shot, wanted: number): FixIdea[] {
  const { turn } = shot;
  const { from: least = 0, to: most = Infinity } = turn?.table?.speed?.value ?? {};
  const share = Math.min(wanted, most / Math.abs(turningRpm(shot)));
  const shown = Math.max(0, ...shot.pieces.map((piece) => Math.abs(turnInPiece(shot, piece))));
  const price = shown > 0 ? ` (shows ${angleText(shown * share, 0)} instead of ${angleText(shown, 0)})` : '';
  if (turn?.speed) {
    const rpm = towardZero(turn.speed.value * share, 2);
    if (rpm === 0 || Math.abs(rpm) < least - 1e-6) return [];
    return [set(`Turn at ${num(rpm, 2)} rpm${price}`, [turn, 'speed', `${num(rpm, 2)} rpm`])];
  }
  const by = turn?.by && towardZero(turn.by.value * share, 0);
  return turn && by ? [set(`Turn by ${angleText(by, 0)}${price}`, [turn, 'by', angleText(by, 0)])] : [];
}

/** The same slide over a share of its way; the place of it that is nearest to straight before the subject stays. */
export function shorterSlide(shot: Shot, share: number): FixIdea[] {
  const { slide } = shot.camera;
  if (!slide) return [];
  const { from, to } = slide.value;
  const near = Math.min(Math.max(0, Math.min(from, to)), Math.max(from, to));
  const end = (mm: Mm) => near + towardZero(((mm - near) * share) / 10, 1) * 10;
  const now = { from: end(from), to: end(to) };
  const wayMm = Math.abs(now.to - now.from);
  if (wayMm === 0) return [];
  const title = `Slide ${num(wayMm / 10, 1)} cm instead of ${num(Math.abs(to - from) / 10, 1)} cm`;
  return [set(title, [shot.camera, 'slide', moveText(now)])];
}
