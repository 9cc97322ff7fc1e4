import { angleBetweenDeg, directionOf, type Vec3 } from '../../calc/geometry.ts';
import { type View, viewAt } from '../../core/derived/framing.ts';
import { tiltDeg } from '../../core/derived/optics.ts';
import { actionMoment, takenS, turnedDeg, turningRpm } from '../../core/derived/time.ts';
import type { Film, Piece, Shot } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { along } from '../../core/resolve/shots.ts';
import { num } from '../../core/say.ts';
import { showsPiece } from '../../core/resolve/edit.ts';

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
    jump: '{from} to {to}: {view} and {size}, so it looks as if the picture jumps. From {leastAngle} round or {leastSize} times the size on it is a new view.',
    flip: '{from} to {to}: the product turns {before} before the cut and {after} after it. Turn it the same way, or put another shot between.',
  },
  piece(piece, { film, limits, report }) {
    const before = film.cut[piece.index - 1];
    if (!before?.shot || !piece.shot || piece.dissolveS > 0 || before.fadeOutS > 0 || piece.fadeInS > 0) return;
    if (before.shot.subject.name !== piece.shot.subject.name || goesOn(before, piece)) return;
    const names = { from: before.shot.name, to: piece.shot.name };
    const common = { at: piece.shotName ?? piece, explainedBy: ['jump-cuts'] as const };
    const angle = angleBetweenDeg(seenFrom(before, 1), seenFrom(piece, 0));
    const ratio = sizeRatio(before, piece, film);
    if (ratio && angle < limits.angle - 1e-6 && ratio.size < limits.size && ratio.size > 1 / limits.size) {
      report({
        message: 'jump',
        data: {
          ...names,
          view: angle < 0.5 ? 'seen from the same side' : `seen from ${num(angle, 0)}° aside`,
          size: sizeText(ratio.size),
          leastAngle: `${num(limits.angle)}°`,
          leastSize: num(limits.size, 2),
        },
        fixes: () => closer(piece, ratio, limits.size),
        ...common,
      });
      return;
    }
    const one = turningOnScreen(before);
    const other = turningOnScreen(piece);
    if (one * other < 0)
      report({ message: 'flip', data: { ...names, before: way(one), after: way(other) }, ...common });
  },
});

function sizeText(size: number): string {
  const text = num(size, 2);
  return text === '1' ? 'as large as before' : `${text} times as large as before`;
}

/** The same take that runs on over the cut is no cut to the eye. */
function goesOn(before: Piece, piece: Piece): boolean {
  if (before.shot !== piece.shot || before.speed !== piece.speed) return false;
  const sameTime = Math.abs(before.fromS + (takenS(before) ?? 0) - piece.fromS) < 0.02;
  return sameTime && Math.abs(before.zoom.to - piece.zoom.from) < 1e-6;
}

/** Where the camera stands as the product sees it, as a direction: a turn of the product is a new view too. */
function seenFrom(piece: Piece, end: 0 | 1): Vec3 {
  const shot = piece.shot!;
  const moment = piece.speed < 0 ? 1 - end : end;
  const action = actionMoment(piece, moment);
  const takeS = piece.fromS + (takenS(piece) ?? 0) * moment;
  const around = directionOf((along(shot.camera.angle?.value, action) ?? 0) - turnedDeg(shot, takeS));
  const tilt = (tiltDeg(shot, action) * Math.PI) / 180;
  return { x: around.x * Math.cos(tilt), y: Math.sin(tilt), z: around.z * Math.cos(tilt) };
}

interface Ratio {
  readonly size: number;
  /** The new shot in the deliverable that has least to spare. */
  readonly view: View;
}

/** How much larger the subject is after the cut, in the first deliverable in which both can be computed. */
function sizeRatio(before: Piece, piece: Piece, film: Film): Ratio | undefined {
  for (const deliverable of film.deliverables.values()) {
    if (!showsPiece(deliverable, before) || !showsPiece(deliverable, piece)) continue;
    const old = viewAt(before, deliverable, 1);
    const view = viewAt(piece, deliverable, 0);
    if (old?.cropWidthMm && view?.cropWidthMm) return { size: old.cropWidthMm / view.cropWidthMm, view };
  }
  return undefined;
}

/** The second shot closer by the step that makes it a new view, where its pixels allow. */
function closer(piece: Piece, { size, view }: Ratio, leastSize: number): FixIdea[] {
  const by = (leastSize * 1.02) / size;
  if (view.scale / by < 1 || piece.zoom.from !== piece.zoom.to) return [];
  const zoom = num(Math.ceil(piece.zoom.from * by * 100 - 1e-6) / 100, 2);
  return [set(`Set zoom of the second to ${zoom} (a closer view)`, [piece, 'zoom', zoom])];
}

/** Turns a minute as the film shows them: backwards and mirrored pictures turn the other way. */
function turningOnScreen(piece: Piece): number {
  const rpm = turningRpm(piece.shot as Shot) * piece.speed;
  return piece.flip?.value === 'mirror' ? -rpm : rpm;
}

function way(rpm: number): string {
  return rpm > 0 ? 'clockwise' : 'anticlockwise';
}
