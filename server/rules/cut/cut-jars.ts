import { angleBetweenDeg, directionOf, lengthOf, subtract, type Vec3 } from '../../calc/geometry.ts';
import { type View, viewAt } from '../../core/derived/framing.ts';
import { faceLight } from '../../core/derived/light.ts';
import { cameraPose, subjectPlace } from '../../core/derived/optics.ts';
import { turned } from '../../core/derived/outline.ts';
import { sameTimeS } from '../../core/derived/edit.ts';
import {
  actionMoment,
  cameraMoves,
  endsAtS,
  moves,
  startsAtS,
  takenS,
  turnedDeg,
  turningRpm,
} from '../../core/derived/time.ts';
import type { Backdrop, Deliverable, Film, LampPlace, Piece, Shot } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { along } from '../../core/derived/moments.ts';
import { num, quoted, secondsText } from '../../core/say.ts';
import type { Degrees, Seconds } from '../../core/units.ts';
import { hasTitle } from '../../core/derived/titles.ts';
import { showsPiece } from '../../core/resolve/edit.ts';
import { pieceText, zoomText, zoomTitle } from '../framing/framing-text.ts';

export default defineRule({
  id: 'cut-jars',
  family: 'cut',
  summary: 'Two neighbouring shots are nearly the same picture, or the turn flips at the cut.',
  severity: 'hint',
  sources: ['30-degree rule, common practice, no source'],
  limits: {
    angle: { quantity: 'angle', default: '30°', meaning: 'From this change of view on, the next shot is a new view.' },
    size: { quantity: 'number', default: '1.3', meaning: 'From this change of size on, the next shot is a new view.' },
  },
  messages: {
    jump: '{piece}: {where}{view} and {size}, so it looks as if the picture jumps. From {leastAngle} round or {leastSize} times the size on it is a new view.',
    gap: '{shot}: {pieces} are one view of one shot, and {gap} of the take {is} at the cut between them: what moves jumps, and nothing says that time went by. Start the second where the first ends ({end}), put another picture between, or let one be {leastSize} times as large.',
    flip: '{piece}: the product turns {before} before the cut and {after} after it. Turn it the same way, or put another shot between.',
  },
  piece(piece, { film, limits, report }) {
    const before = film.cut[piece.index - 1];
    if (!before?.shot || !piece.shot || !isHardCut(before, piece)) return;
    const names = { piece: `${before.shot.name} to ${piece.shot.name}` };
    const common = { at: piece.shotName ?? piece, explainedBy: ['jump-cuts'] as const };
    const angle = angleBetweenDeg(seenFrom(before, 1), seenFrom(piece, 0));
    const [first, ...others] = ratios(before, piece, film);
    // One that jumps, where there is one: each deliverable may be zoomed by itself.
    const ratio = [first, ...others].find((one) => one && !isSame(angle, one) && isNear(angle, one, limits)) ?? first;
    if (!looksAtSame(before.shot, piece.shot, ratio)) return;
    const same = ratio !== undefined && isSame(angle, ratio);
    const isUntouched = same && isMatched(before, piece, ratio) && !isBesideJump(before, piece, film, limits);
    if (ratio && !isUntouched && isNear(angle, ratio, limits) && !isOtherPicture(before.shot, piece.shot)) {
      const isAlike = others.every((one) => isAsLarge(one, first!));
      report({
        message: 'jump',
        data: { ...names, ...jumpText(ratio, angle, limits), where: isAlike ? '' : whereText(ratio) },
        // What is nearly the same jars more than what is just the same.
        excess: same ? 1 : limits.angle / Math.max(angle, 1),
        cause: piece.shot.camera.distance,
        // A zoom of the piece changes all deliverables alike, so it mends a jump that all of them have.
        fixes: () => [
          ...(isAlike ? zooms(before, piece, [first!, ...others], { angle, limits, film }) : []),
          ...dissolved(before, piece, film),
        ],
        ...common,
      });
      return;
    }
    const gapS = isUntouched ? leftOutS(before, piece) : 0;
    if (gapS !== 0) {
      report({
        message: 'gap',
        data: { shot: piece.shot.name, ...gapText(before, piece, gapS), leastSize: num(limits.size, 2) },
        excess: 1,
        fixes: () => [
          ...goneOn(before, piece),
          ...zooms(before, piece, [first!, ...others], { angle, limits, film }),
          ...dissolved(before, piece, film),
        ],
        ...common,
      });
      return;
    }
    if (flips(before, piece)) {
      const [one, other] = [before, piece].map((each) => way(turningOnScreen(each))) as [string, string];
      report({ message: 'flip', data: { ...names, before: one, after: other }, ...common });
    }
  },
});

function isHardCut(before: Piece, piece: Piece): boolean {
  return piece.dissolveS === 0 && before.fadeOutS === 0 && piece.fadeInS === 0 && !goesOn(before, piece);
}

/** Two pictures whose middles lie so near to each other show the same, whatever each is said to look at: of their height. */
const sameMiddle = 0.1;

/** The same thing, or the product and a part of it in the middle of the same picture, from a camera that stays where it is. */
function looksAtSame(one: Shot, other: Shot, ratio: Ratio | undefined): boolean {
  const names = [one.subject.name, other.subject.name];
  const [a, b] = [one.camera, other.camera];
  if (names[0] === names[1]) return true;
  if (!names.includes('product') || a.lens !== b.lens) return false;
  if (a.distance !== b.distance || a.angle !== b.angle || a.height !== b.height) return false;
  const highMm = Math.min(ratio?.old.cropHeightMm ?? 0, ratio?.view.cropHeightMm ?? 0);
  return lengthOf(subtract(subjectPlace(one), subjectPlace(other))) <= sameMiddle * highMm;
}

function isOtherPicture(one: Shot, other: Shot): boolean {
  return isRelit(one, other) || isOtherSet(one, other);
}

/** Where no lamp of the one lights the other it is another picture; so it is where the key goes out, as at night. */
function isRelit(one: Shot, other: Shot): boolean {
  if (one.lit.length === 0 || other.lit.length === 0) return false;
  const isKept = one.lit.some((lamp) => other.lit.some((after) => isAtSamePlace(lamp, after)));
  return !isKept || isKeyOut(one, other);
}

function isKeyOut(one: Shot, { lit }: Shot): boolean {
  const key = faceLight(one, 0).key?.lamp;
  return key !== undefined && lit.every(({ origin }) => origin !== key.origin);
}

/** Where ground and background are both others, or the ground mirrors in the one alone, the eye sees another place, and the same view is a match. */
function isOtherSet(one: Shot, other: Shot): boolean {
  if (!isOtherStuff(one.surface, other.surface)) return false;
  const mirrors = ({ surface }: Shot) => surface?.finish === 'glossy';
  return isOtherStuff(one.backdrop, other.backdrop) || mirrors(one) !== mirrors(other);
}

/** A sweep and what hangs are told apart: the one closes the picture below, the other ends. */
function isOtherStuff(one: Stuff | undefined, other: Stuff | undefined): boolean {
  return (
    one?.material?.value !== other?.material?.value ||
    one?.colour?.value !== other?.colour?.value ||
    (one?.sweeps ?? false) !== (other?.sweeps ?? false)
  );
}

type Stuff = Pick<Backdrop, 'material' | 'colour'> & { readonly sweeps?: boolean };

/** The same place, or one that takes its place from it and has another level. */
function isAtSamePlace(one: LampPlace, other: LampPlace): boolean {
  return (
    one.origin === other.origin &&
    one.angle === other.angle &&
    one.distance === other.distance &&
    one.height === other.height
  );
}

/** Up to here two frames lie on each other: the camera was not touched. */
const lockedDeg = 0.5;
const lockedSize = 1.02;

/** A camera that goes is at the same place again only where the one shot begins just as the other ends. */
function isMatched(before: Piece, piece: Piece, { size }: Ratio): boolean {
  return [before, piece].every(({ shot }) => !cameraMoves(shot!)) || Math.abs(Math.log(size)) < Math.log(matchedSize);
}

/** As near as what is written in whole millimetres. */
const matchedSize = 1.002;

interface Limits {
  readonly angle: number;
  readonly size: number;
}

function isSame(angle: number, { size }: Ratio): boolean {
  return angle < lockedDeg && Math.abs(Math.log(size)) < Math.log(lockedSize);
}

/** Who is within a tenth of a new view has thought of one. */
const clearly = 0.9;

function isNear(angle: number, { size }: Ratio, limits: Limits): boolean {
  return angle < clearly * limits.angle && Math.abs(Math.log(size)) < clearly * Math.log(limits.size);
}

/** Does the cut before or after this one jump from the same place of the camera? Then three pictures are nearly one. */
function isBesideJump(before: Piece, piece: Piece, film: Film, limits: Limits): boolean {
  const first = film.cut[before.index - 1];
  const last = film.cut[piece.index + 1];
  return (
    (first !== undefined && jumps(first, before, film, limits)) ||
    (last !== undefined && jumps(piece, last, film, limits))
  );
}

function jumps(before: Piece, piece: Piece, film: Film, limits: Limits): boolean {
  const [a, b] = [before.shot, piece.shot];
  if (!a || !b || a.subject.name !== b.subject.name || a.camera.distance !== b.camera.distance) return false;
  if (!isHardCut(before, piece)) return false;
  const angle = angleBetweenDeg(seenFrom(before, 1), seenFrom(piece, 0));
  const ratio = sizeRatio(before, piece, film);
  return ratio !== undefined && !isSame(angle, ratio) && isNear(angle, ratio, limits);
}

function jumpText({ size }: Ratio, angle: Degrees, limits: Limits) {
  return {
    view: angle < lockedDeg ? 'seen from the same side' : `seen from ${num(angle, angle < 2 ? 1 : 0)}° aside`,
    size: sizeText(size),
    leastAngle: `${num(limits.angle)}°`,
    leastSize: num(limits.size, 2),
  };
}

function whereText({ deliverable }: Ratio): string {
  return `in ${quoted(deliverable.name)}, `;
}

function sizeText(size: number): string {
  const text = num(size, 2);
  return text === '1' ? 'as large as before' : `${text} times as large as before`;
}

/** Less is a hitch of a few frames, which may be the speed that changes. */
const leastGapS: Seconds = 0.2;

/** What one shot that is cut to itself leaves out of what moves in it, minus where it is shown again; 0 where it goes on. */
function leftOutS(before: Piece, piece: Piece): Seconds {
  const { shot } = piece;
  if (!shot || before.shot !== shot || shot.interval || !moves(shot) || before.speed * piece.speed <= 0) return 0;
  const gapS = (startsAtS(piece) - endsAtS(before)) * Math.sign(piece.speed);
  return Math.abs(gapS) < leastGapS ? 0 : gapS;
}

function gapText(before: Piece, piece: Piece, gapS: Seconds) {
  return {
    pieces: `${pieceText(before)} and ${pieceText(piece)}`,
    gap: secondsText(Math.abs(gapS)),
    is: gapS > 0 ? 'is left out' : 'is shown again',
    end: secondsText(endsAtS(before)),
  };
}

/** The second piece where the first ends, where the take is long enough. */
function goneOn(before: Piece, piece: Piece): FixIdea[] {
  const fromS = endsAtS(before);
  if (piece.speed <= 0 || fromS + (takenS(piece) ?? Infinity) > (piece.shot?.record?.value ?? 0) + 1e-6) return [];
  const text = `${num(fromS, 2)} s`;
  return [
    set(`Start ${pieceText(piece)} ${text} into the take (it goes on where the one before ends)`, [
      piece,
      'from',
      text,
    ]),
  ];
}

/** The same take that runs on over the cut is no cut to the eye. */
function goesOn(before: Piece, piece: Piece): boolean {
  if (before.shot !== piece.shot || before.speed !== piece.speed) return false;
  const sameTime = Math.abs(endsAtS(before) - startsAtS(piece)) < 0.02;
  return sameTime && Math.abs(before.zoom.to - piece.zoom.from) < 1e-6;
}

/** Where the camera stands as the product sees it, as a direction: a turn of the product is a new view too. */
function seenFrom(piece: Piece, end: 0 | 1): Vec3 {
  const shot = piece.shot!;
  const action = actionMoment(piece, end);
  const takeS = end === 0 ? startsAtS(piece) : endsAtS(piece);
  const pose = cameraPose(shot, action);
  const at = pose ? subtract(pose.at, subjectPlace(shot)) : directionOf(along(shot.camera.angle?.value, action) ?? 0);
  return { ...turned(at, -turnedDeg(shot, takeS)), y: at.y };
}

interface Ratio {
  readonly deliverable: Deliverable;
  readonly size: number;
  /** The shot before the cut, and the new one. */
  readonly old: View;
  readonly view: View;
}

/** How much larger the subject is after the cut, in the first deliverable in which both can be computed. */
function sizeRatio(before: Piece, piece: Piece, film: Film): Ratio | undefined {
  const [first] = ratios(before, piece, film);
  return first;
}

/** The same in each deliverable, computed as far as it is asked for. */
function* ratios(before: Piece, piece: Piece, film: Film): Generator<Ratio, undefined> {
  for (const deliverable of film.deliverables.values()) {
    if (!showsPiece(deliverable, before) || !showsPiece(deliverable, piece)) continue;
    const old = viewAt(before, deliverable, 1);
    const view = viewAt(piece, deliverable, 0);
    if (old?.cropWidthMm && view?.cropWidthMm)
      yield { deliverable, size: old.cropWidthMm / view.cropWidthMm, old, view };
  }
}

function isAsLarge(one: Ratio, other: Ratio): boolean {
  return Math.abs(Math.log(one.size / other.size)) < Math.log(lockedSize);
}

/** A fix goes so much past the step that makes it a new view. */
const spare = 1.02;

function zooms(
  before: Piece,
  piece: Piece,
  all: readonly Ratio[],
  { angle, limits, film }: { readonly angle: number; readonly limits: Limits; readonly film: Film },
): FixIdea[] {
  const [{ size }] = all as readonly [Ratio];
  const [first, second] =
    before.shot === piece.shot ? ['the first', 'the second'] : [before, piece].map(({ shot }) => quoted(shot!.name));
  return [
    ...closer(piece, second!, { views: all.map(({ view }) => view), by: (limits.size * spare) / size, film }),
    ...closer(before, first!, { views: all.map(({ old }) => old), by: limits.size * spare * size, film }),
    ...(angle < lockedDeg ? zoomedOn(before, piece, size) : []),
  ];
}

/** One of the two pieces closer by so much, where its pixels allow, its subject has room and no words were placed on it. */
function closer(
  piece: Piece,
  name: string,
  { views, by, film }: { readonly views: readonly View[]; readonly by: number; readonly film: Film },
): FixIdea[] {
  const { shot, zoom } = piece;
  if (!shot || hasTitle(shot, film) || zoom.from !== zoom.to) return [];
  if (views.some((view) => view.scale / by < 1 || !hasRoom(shot, view, by))) return [];
  const text = num(Math.ceil(zoom.from * by * 100 - 1e-6) / 100, 2);
  return [
    {
      ...set(`Set zoom of ${name} to ${text} (a closer view)`, [piece, 'zoom', text]),
      isNamed: true,
    },
  ];
}

/** Where the zoom of the edit alone makes the difference, the second may start with that of the first. */
function zoomedOn(before: Piece, piece: Piece, size: number): FixIdea[] {
  const from = before.zoom.to;
  const byCamera = (size * from) / piece.zoom.from;
  if (from === piece.zoom.from || Math.abs(Math.log(byCamera)) > Math.log(lockedSize)) return [];
  const to = piece.zoom.from === piece.zoom.to ? from : piece.zoom.to;
  const text = zoomText({ from, to });
  return [set(`Set zoom of the second to ${zoomTitle(text)} (it starts as the first ends)`, [piece, 'zoom', text])];
}

/** Whatever has no room for another size: the one turns into the other. */
function dissolved(before: Piece, piece: Piece, film: Film): FixIdea[] {
  const shortestS = Math.min(before.lengthS ?? 0, piece.lengthS ?? 0);
  if (shortestS < 4 * dissolveS || hasHardCutsOnly(film)) return [];
  return [
    set(`Dissolve into the second over ${num(dissolveS, 1)} s (nothing jumps)`, [
      piece,
      'dissolve',
      `${num(dissolveS, 1)} s`,
    ]),
  ];
}

/** A film of hard cuts on beats is meant so. */
function hasHardCutsOnly({ cut }: Film): boolean {
  return cut.every(({ dissolveS, length }) => dissolveS === 0 && length?.value.kind === 'beats');
}

/** A dissolve that is seen as one (common practice, no source). */
const dissolveS: Seconds = 0.6;

/** So much of a picture a subject fills at most that has room in it, and where hands or people come in beside it (common practice, no source). */
const mostFilled = { alone: 0.8, withPeople: 0.6 };

function hasRoom({ subject: { box }, people }: Shot, { cropWidthMm, cropHeightMm }: View, by: number): boolean {
  if (!box || cropWidthMm === undefined || cropHeightMm === undefined) return true;
  const filled = Math.max(box.widthMm / cropWidthMm, box.heightMm / cropHeightMm) * by;
  return filled <= (people.length > 0 ? mostFilled.withPeople : mostFilled.alone);
}

/** Not where one goes there and back: the take then runs backwards from where it was. */
function flips(before: Piece, piece: Piece): boolean {
  const isBack = before.shot === piece.shot && before.speed * piece.speed < 0;
  if (isBack && Math.abs(endsAtS(before) - startsAtS(piece)) <= sameTimeS) return false;
  return turningOnScreen(before) * turningOnScreen(piece) < 0;
}

/** Turns a minute as the film shows them: backwards and mirrored pictures turn the other way. */
function turningOnScreen(piece: Piece): number {
  const rpm = turningRpm(piece.shot as Shot) * piece.speed;
  return piece.flip?.value === 'mirror' ? -rpm : rpm;
}

function way(rpm: number): string {
  return rpm > 0 ? 'clockwise' : 'anticlockwise';
}
