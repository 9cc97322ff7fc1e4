import { once } from '../../core/memo.ts';
import { rpmFor } from '../../calc/motion.ts';
import { rateFps } from '../../calc/rate.ts';
import type { Range } from '../../core/document/node.ts';
import { filmTimeLike } from '../../core/derived/edit.ts';
import { faceRadiusMm, largest, longSide } from '../../core/derived/motion.ts';
import { showingsOf } from '../../core/derived/showings.ts';
import { actionMoment, takenS, turnedDeg, turningRpm } from '../../core/derived/time.ts';
import type { Deliverable, Film, Piece, Shot, Turn } from '../../core/film.ts';
import { filmSeconds } from '../../core/resolve/edit.ts';
import { along } from '../../core/derived/moments.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { angleText, num } from '../../core/say.ts';
import * as u from '../../core/units.ts';
import type { Degrees, Seconds, Share } from '../../core/units.ts';
import { turnInPiece } from './movement-fixes.ts';

export default defineRule({
  id: 'turn-misses-angle',
  family: 'movement',
  summary: 'The cut shows more or less of the turn than it should, or a loop does not close.',
  severity: 'warning',
  sources: [
    '6° a second for each turn a minute',
    'common practice, no source (5° less, and a seventh more, show what is to be seen)',
  ],
  limits: {
    allow: { quantity: 'angle', default: '5°', meaning: 'How far the turn that is seen may be from the one wanted.' },
    seen: { quantity: 'angle', default: '15°', meaning: 'From this turn on it is seen as one.' },
  },
  messages: {
    misses: '{shot}: {how} for {time} shows {found} of the turn, and {wanted} are wanted. {cure}.',
    hardly:
      '{shot}: in the cut the turn goes by {found} only, which is hardly seen as one. {rpm} would show {enough}, or show it longer.',
    stands:
      '{shot}: {wanted} of a turn are wanted, but neither the product nor the camera goes round. Say `turn` in the shot.',
    open: '{deliverable}: from the first frame to the last the product turns by {found}, which is {off} from where it began: the loop jumps. A whole round is {whole}{faces}.',
  },
  piece(piece, { limits, film, report }) {
    const { shot, turnShown } = piece;
    if (!shot || piece.lengthS === undefined || shot.actionS === undefined) return;
    if (!turnShown) {
      if (facePx(shot, piece, film) < movedPx) checkHardly(shot, piece, limits.seen, report);
      return;
    }
    const found = Math.abs(seenTurn(shot, piece));
    const wanted = Math.abs(turnShown.value);
    const over = Math.max(limits.allow, wanted * mostOver);
    if (found >= wanted - limits.allow - 1e-6 && found * clearShare(piece) <= wanted + over + 1e-6) return;
    const data = { shot: shot.name, wanted: angleText(wanted, 0) };
    if (found < 1e-6) {
      report({ message: 'stands', data, at: turnShown });
      return;
    }
    report({
      message: 'misses',
      data: {
        ...data,
        how: how(shot),
        time: `${num(takenS(piece)!, 2)} s`,
        found: angleText(found, 0),
        cure: cure(piece, shot, wanted, found),
      },
      at: turnShown,
      excess: Math.abs(found - wanted),
      fixes: () => fixes(piece, shot, wanted, { film, allow: limits.allow }),
    });
  },
  deliverable(one, { film, report }) {
    const loop = one.fields.text('loop');
    const [first, last] = [one.pieces[0], one.pieces.at(-1)];
    const shot = first?.shot;
    const rate = film.timeline.rate;
    if (!one.loop || !loop || !rate || !last || !shot || shot !== last.shot || turningRpm(shot) === 0) return;
    const symmetry = Math.max(1, film.product.symmetry?.value ?? 1);
    if (symmetry === Infinity) return;
    const whole = 360 / symmetry;
    const round = loopTurn(one, first, last);
    const off = Math.abs(round.turned - Math.round(round.turned / whole) * whole);
    const aFrame = Math.abs(6 * turningRpm(shot) * last.speed) / rateFps(rate.value);
    if (off <= aFrame * (1 + 1e-6) || (last.fadeOutS > 0 && first.fadeInS > 0)) return;
    report({
      message: 'open',
      data: {
        deliverable: one.name,
        found: angleText(round.turned, 0),
        off: angleText(off, 0),
        whole: angleText(whole),
        faces: symmetry > 1 ? `, as ${num(symmetry, 0)} of its faces look alike` : '',
      },
      at: loop,
      shot,
      excess: off,
      fixes: () => closingTurn(shot, round, whole),
    });
  },
});

/** What must be seen is seen where the turn goes on by so little of it (common practice, no source). */
const mostOver = 0.15;

/** The part of a piece that stands by itself: what turns on under a fade or in a dissolve may be counted or not. */
function clearShare({ lengthS, dissolveS, fadeInS, fadeOutS }: Piece): Share {
  return lengthS ? Math.max(0, lengthS - dissolveS - fadeInS - fadeOutS) / lengthS : 1;
}

/** From so many pixels of a picture 1920 long on, the face is seen to move (common practice, no source). */
const movedPx = 36;

/** How far the face goes across the picture while the piece turns, at a picture 1920 long. */
function facePx(shot: Shot, piece: Piece, film: Film): number {
  const turn = (turnShown(shot, piece) * Math.PI) / 180;
  const all = showingsOf(shot, film).flatMap((showing) => {
    const found = showing.piece === piece ? largest(showing) : undefined;
    const raster = found?.deliverable.raster?.value;
    return found && raster ? [(turn * faceRadiusMm(film, showing) * found.pxPerMm) / longSide(raster)] : [];
  });
  return Math.max(0, ...all);
}

type Tell = (said: {
  message: 'hardly';
  severity: 'info';
  data: { shot: string; found: string; rpm: string; enough: string };
  at: Range;
  excess: number;
}) => void;

/** Of a shot whose product is turned so slowly that no piece of the cut shows a turn. */
function checkHardly(shot: Shot, piece: Piece, seen: Degrees, report: Tell): void {
  const rpm = Math.abs(turningRpm(shot));
  const found = turnShown(shot, piece);
  // Who says by how far it turns has thought of how much is seen.
  const at = shot.turn?.speed;
  if (piece !== longestTurn(shot) || rpm === 0 || !at || found < 1 || found >= seen - 1e-6) return;
  const enough = 2 * seen;
  const data = {
    shot: shot.name,
    found: angleText(found, 0),
    rpm: `${num((rpm * enough) / found, 1)} rpm`,
    enough: angleText(enough, 0),
  };
  report({ message: 'hardly', severity: 'info', data, at, excess: seen / found });
}

function turnShown(shot: Shot, piece: Piece): Degrees {
  return Math.abs(turnInPiece(shot, piece));
}

/** The piece that shows most of the turn, the first of several. */
const longestTurn = once((shot: Shot): Piece | undefined => {
  let longest: Piece | undefined;
  for (const one of shot.pieces) if (!longest || turnShown(shot, one) > turnShown(shot, longest)) longest = one;
  return longest;
});

/** What is seen of the product's turn, less what the camera goes round with it. */
function seenTurn(shot: Shot, piece: Piece): Degrees {
  const angle = shot.camera.angle?.value;
  const camera = (moment: number) => along(angle, actionMoment(piece, moment)) ?? 0;
  return turnInPiece(shot, piece) - (camera(1) - camera(0));
}

function how(shot: Shot): string {
  const { turn, camera } = shot;
  if (!orbits(shot)) {
    if (turn?.speed) return turn.speed.text;
    if (turn?.by) return `${turn.by.text} over an action of ${num(shot.actionS!, 2)} s, seen`;
  } else if (turningRpm(shot) === 0) return `a camera going round from ${camera.angle!.text}, seen`;
  return 'the turn, seen';
}

function orbits({ camera: { angle } }: Shot): boolean {
  return angle !== undefined && angle.value.from !== angle.value.to;
}

/** What shows the turn that is wanted, in numbers. */
function cure(piece: Piece, shot: Shot, wanted: Degrees, found: Degrees): string {
  const { turn } = shot;
  const factor = wanted / found;
  const longer = `show it for ${num(piece.lengthS! * factor, 2)} s`;
  if (orbits(shot)) return `Go round ${factor > 1 ? 'farther' : 'less far'}, or ${longer}`;
  if (turn?.by) return `Turn by ${angleText(turn.by.value * factor, 0)}, or ${longer}`;
  return `Turn at ${num(rpmFor(wanted, takenS(piece)!), 2)} rpm, or ${longer}`;
}

interface Scope {
  readonly film: Film;
  readonly allow: Degrees;
}

/** The turn first, then the time in the cut. */
function fixes(piece: Piece, shot: Shot, wanted: Degrees, scope: Scope): FixIdea[] {
  const turning = Math.abs(turnInPiece(shot, piece));
  if (turning < 1e-6 || Math.abs(turning - Math.abs(seenTurn(shot, piece))) > 1e-6) return [];
  return [
    ...otherTurn(shot.turn, takenS(piece)!, wanted, wanted / turning),
    ...otherLength(piece, wanted, turning, scope),
  ];
}

/** @param factor wanted ÷ found, for a turn that is said as an angle */
function otherTurn(turn: Turn | undefined, seconds: Seconds, wanted: Degrees, factor: number): FixIdea[] {
  if (turn?.speed) {
    const rpm = Math.round(rpmFor(wanted, seconds) * 1000) / 1000;
    const range = turn.table?.speed?.value;
    if (range && (rpm < range.from * (1 - 1e-6) || rpm > range.to * (1 + 1e-6))) return [];
    const text = `${num(Math.sign(turn.speed.value) * rpm, 3)} rpm`;
    return [set(`Turn at ${text}`, [turn, 'speed', text])];
  }
  if (!turn?.by) return [];
  const text = angleText(turn.by.value * factor);
  return [set(`Turn by ${text}`, [turn, 'by', text])];
}

/** Written in the unit that the piece has, where that comes near enough. */
function otherLength(piece: Piece, wanted: Degrees, turning: Degrees, { film, allow }: Scope): FixIdea[] {
  if (piece.shot?.turn?.speed === undefined) return [];
  const perSecond = turning / piece.lengthS!;
  const clock = { rate: film.timeline.rate?.value, tempoBpm: film.music?.tempo?.value };
  const texts = (['down', 'up'] as const).flatMap(
    (side) => filmTimeLike(piece.length, wanted / perSecond, film, side) ?? [],
  );
  return [...new Set(texts)].flatMap((text) => {
    const shown = (filmSeconds(u.filmTime(text), clock) ?? 0) * perSecond;
    if (Math.abs(shown - wanted) > allow) return [];
    return [set(`Show it for ${text} (${angleText(shown, 0)})`, [piece, 'length', text])];
  });
}

interface LoopTurn {
  readonly turned: Degrees;
  /** Real seconds over which it turns so far. */
  readonly seconds: number;
}

/** From how the product stands in the first frame to how it stands when the last one ends. */
function loopTurn(one: Deliverable, first: Piece, last: Piece): LoopTurn {
  const { sectionS } = one;
  const shot = first.shot!;
  const startS = first.fromS + Math.max(0, (sectionS?.from ?? 0) - (first.startS ?? 0)) * first.speed;
  const cutOffS = Math.max(0, (last.endS ?? 0) - (sectionS?.to ?? Infinity));
  const endS = last.fromS + ((last.lengthS ?? 0) - cutOffS) * last.speed;
  return { turned: Math.abs(turnedDeg(shot, endS) - turnedDeg(shot, startS)), seconds: Math.abs(endS - startS) };
}

/** The turn that comes nearest to the written one and closes. */
function closingTurn({ turn }: Shot, { turned, seconds }: LoopTurn, whole: Degrees): FixIdea[] {
  if (turned === 0 || seconds === 0) return [];
  const wanted = Math.max(1, Math.round(turned / whole)) * whole;
  return otherTurn(turn, seconds, wanted, wanted / turned);
}
