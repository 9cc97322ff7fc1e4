/** Shutter, motion and speed of a shot and of its pieces, in seconds and degrees. */
import { rateFps } from '../../calc/rate.ts';
import { framesPerStep, shutterAngleDeg, shutterS } from '../../calc/shutter.ts';
import type { Film, Piece, Shot } from '../film.ts';
import type { Degrees, Seconds } from '../units.ts';
import { once } from '../memo.ts';

/** Exposure time of each frame; undefined where it is automatic, not said, or an angle without a rate. */
export const shutterSeconds = once((shot: Shot): Seconds | undefined => {
  const { shutter, rate } = shot.camera;
  if (!shutter || shutter.value === 'auto') return undefined;
  if (shutter.value.kind === 'time') return shutter.value.s;
  return rate && shutterS(shutter.value.deg, rateFps(rate.value));
});

/** Shutter angle at the shot's own rate; the pictures of a time-lapse are exposed one by one and have none. */
export const shutterAngle = once((shot: Shot): Degrees | undefined => {
  const s = shutterSeconds(shot);
  return s === undefined || shot.interval || !shot.camera.rate
    ? undefined
    : shutterAngleDeg(s, rateFps(shot.camera.rate.value));
});

/** Does the camera move, or its lens zoom, during the action? */
export const cameraMoves = once(({ camera }: Shot): boolean =>
  [camera.distance, camera.height, camera.angle, camera.slide, camera.focal].some(
    (change) => change && change.value.from !== change.value.to,
  ),
);

/** Does anything in the picture move or change while it is recorded? Pieces that push in count as movement of the frame only. */
export const moves = once((shot: Shot): boolean => {
  const { turn, action, backdrop, people } = shot;
  const turning = (turn?.speed?.value ?? 0) !== 0 || (turn?.by?.value ?? 0) !== 0;
  return (
    cameraMoves(shot) ||
    turning ||
    action !== undefined ||
    people.length > 0 ||
    showsMovingScreen(shot) ||
    shot.lit.some((lamp) => lamp.changes) ||
    backdrop?.flashes !== undefined
  );
});

/** Does a screen in the shot show a moving picture? Footage moves unless it is said to stand still. */
export function showsMovingScreen({ backdrop }: Shot): boolean {
  if (!backdrop?.screenName) return false;
  return backdrop.picture ? backdrop.picture.value === 'moving' : backdrop.footage !== undefined;
}

/** Recorded frames stepped over per film frame: speed × recorded rate ÷ timeline rate; undefined without both rates. */
export function stepOf(piece: Piece, film: Film): number | undefined {
  const recorded = piece.shot && recordedFps(piece.shot);
  const edit = film.timeline.rate?.value;
  return recorded && edit && framesPerStep(Math.abs(piece.speed), recorded, rateFps(edit));
}

/** Pictures that the camera takes in a second of real life; undefined where its rate is not known. */
export function recordedFps({ interval, camera }: Shot): number | undefined {
  if (interval) return 1 / interval.value;
  return camera.rate && rateFps(camera.rate.value);
}

/** Seconds of the file that so many seconds of real life make: a time-lapse is written at the camera's rate. */
export function fileS({ interval, camera }: Shot, seconds: Seconds): Seconds {
  return interval && camera.rate ? seconds / (interval.value * rateFps(camera.rate.value)) : seconds;
}

/** Spare time at each end of a take: of a time-lapse only what is said, as the second of other shots is less than a picture of it. */
export function spareAtEndsS({ handlesS, interval, fields }: Shot): Seconds {
  return interval && !fields.said('handles') ? 0 : handlesS;
}

/** Seconds of real life that a piece takes out of the take, without the halves of its dissolves. */
export function takenS(piece: Piece): Seconds | undefined {
  return piece.lengthS === undefined ? undefined : piece.lengthS * Math.abs(piece.speed);
}

/** The second of its take at a moment of a piece (0 its start, 1 its end), which may run backwards through it. */
export function takeMomentS(piece: Piece, moment: number): Seconds {
  return piece.fromS + (takenS(piece) ?? 0) * (piece.speed < 0 ? 1 - moment : moment);
}

/** The moment of a piece that shows a second of its take. */
export function momentShowing(piece: Piece, takeS: Seconds): number {
  const taken = takenS(piece);
  if (!taken) return 0;
  const share = (takeS - piece.fromS) / taken;
  return piece.speed < 0 ? 1 - share : share;
}

/** Where in its take a piece starts: of one that runs backwards, the end of what it takes. */
export function startsAtS(piece: Piece): Seconds {
  return takeMomentS(piece, 0);
}

/** And where it ends; a picture that stands does where it starts. */
export function endsAtS(piece: Piece): Seconds {
  return takeMomentS(piece, 1);
}

/** Half of each dissolve of a piece in film seconds: of its own at its start, and of the next piece's at its end. */
export function dissolveHalves(piece: Piece, film: Film): { startS: Seconds; endS: Seconds } {
  return { startS: piece.dissolveS / 2, endS: (film.cut[piece.index + 1]?.dissolveS ?? 0) / 2 };
}

/** Degrees that the product has turned at a moment of the take, from how it stands at the start of the action. */
export function turnedDeg(shot: Shot, takeS: Seconds): Degrees {
  const { turn } = shot;
  const starts = turn?.starts?.value ?? 0;
  if (turn?.speed) return starts + 6 * turn.speed.value * takeS;
  const share = shot.actionS ? Math.min(1, Math.max(0, (takeS - shot.handlesS) / shot.actionS)) : 0;
  return starts + (turn?.by?.value ?? 0) * share;
}

/** Turns a minute of the product, whichever way it was said; 0 when it stands. */
export function turningRpm({ turn, actionS }: Shot): number {
  if (turn?.speed) return turn.speed.value;
  return turn?.by && actionS ? turn.by.value / 6 / actionS : 0;
}

/** Where a moment of a piece (0 its start, 1 its end) lies within the shot's action, 0 to 1. */
export function actionMoment(piece: Piece, moment: number): number {
  const { shot } = piece;
  if (!shot?.actionS) return 0;
  const takeS = takeMomentS(piece, moment);
  return Math.min(1, Math.max(0, (takeS - shot.handlesS) / shot.actionS));
}
