import { rateFps } from '../../calc/rate.ts';
import { type View, viewAt } from '../../core/derived/framing.ts';
import { faceRadiusMm, slideMmS, smearOf, turnSeenDegS } from '../../core/derived/motion.ts';
import { showingsOf } from '../../core/derived/showings.ts';
import type { Deliverable, Film, Piece, Shot } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { num, percentText, pixelsText, quoted } from '../../core/say.ts';
import type { Ends, Share } from '../../core/units.ts';
import { shorterSlide, slowerTurn, speedText, subjectText, towardZero } from './movement-fixes.ts';
import { showsPiece } from '../../core/resolve/edit.ts';

export default defineRule({
  id: 'move-judders',
  family: 'movement',
  summary: 'Something moves so far from one frame of the film to the next that it jumps.',
  severity: 'warning',
  sources: [
    '"Motion Picture", chapter 4: a full picture width in 7 s or more at 24 frames a second',
    'common practice, no source (half of that for each frame from 50 frames a second on; twice where a product turns in place)',
  ],
  limits: {
    step: {
      quantity: 'share',
      default: '0.6 %',
      meaning: 'The greatest step from frame to frame, of the long side of the picture.',
    },
  },
  messages: {
    zoom: '{shot}: {move} in {length} moves {edge} by {px} a frame in {deliverable} at {rate}: from {limit} on it judders. {longer} or longer keeps to that.',
    shift:
      '{shot}: {move} in {length} moves the picture by {px} a frame in {deliverable} at {rate}: from {limit} on it judders. {longer} or longer keeps to that.',
    camera:
      '{shot}: with {move}, {subject} moves by {px} a frame in {deliverable} at {rate}: from {limit} on it judders. Move it slower.',
  },
  piece(piece, { film, limits, report }) {
    const found = worstStep(piece, film);
    const { shot } = piece;
    const rate = film.timeline.rate;
    if (!shot || !rate || !found) return;
    const { deliverable, steps, kind } = found;
    const pace = limits.step * halved(rateFps(rate.value)) * (turnsInPlace(shot, kind) ? 2 : 1);
    const allowed = pace * longPerWidth(deliverable);
    // A tenth more is seen by nobody, and a tenth less of a move is no cure.
    if (steps.total <= allowed * 1.1) return;
    const width = deliverable.raster!.value.width;
    const data = {
      shot: shot.name,
      px: pixelsText(steps.total * width, 0),
      limit: pixelsText(allowed * width),
      deliverable: quoted(deliverable.name),
      rate: rate.text,
      length: `${num(piece.lengthS!, 2)} s`,
      longer: `${num(Math.ceil(piece.lengthS! * (steps.total / allowed) * 100 - 1e-6) / 100, 2)} s`,
      subject: subjectText(shot),
      edge: judgedAt(shot) === 'outline' ? subjectText(shot) : "the picture's edge",
      move: moveText(piece, shot, kind),
    };
    const message = kind === 'zoom' && piece.zoom.from === piece.zoom.to ? 'camera' : kind;
    report({
      message: message === 'slide' || message === 'turn' ? 'camera' : message,
      data,
      at: culprit(piece, shot, kind),
      excess: steps.total / allowed,
      explainedBy: kind === 'zoom' || kind === 'shift' ? ['fast-push-in', 'staccato-motion'] : ['staccato-motion'],
      fixes: () => fixes(piece, shot, film, { kind, allowed, steps, longest: longPerWidth(deliverable) }),
    });
  },
});

/** On a turntable only the face moves, and the picture stands: it bears twice as much. */
function turnsInPlace({ camera }: Shot, kind: Kind): boolean {
  return kind === 'turn' && !camera.angle;
}

/** At 50 frames a second and more twice as many steps are seen in the same time. */
function halved(fps: number): number {
  return fps >= 49 ? 0.5 : 1;
}

/** Upright on a phone, a pixel is as large to the eye as on its side: the long side of the picture counts. */
function longPerWidth({ raster }: Deliverable): number {
  const { width, height } = raster!.value;
  return Math.max(width, height) / width;
}

type Kind = 'zoom' | 'shift' | 'slide' | 'turn';

/** Steps from frame to frame as shares of the picture's width. */
interface Steps extends Readonly<Record<Kind, Share>> {
  readonly total: Share;
}

interface Found {
  readonly deliverable: Deliverable;
  readonly steps: Steps;
  /** What moves most. */
  readonly kind: Kind;
}

/** Of all deliverables that show some of the piece (as `written`, where another is tried), the one in which it jumps most. */
function worstStep(piece: Piece, film: Film, written = piece): Found | undefined {
  const { shot } = piece;
  if (!shot || !film.timeline.rate || !piece.lengthS || piece.speed === 0 || !moves(piece, shot)) return undefined;
  const kinds = ['zoom', 'shift', 'slide', 'turn'] as const;
  let worst: Found | undefined;
  for (const deliverable of film.deliverables.values()) {
    if (!showsPiece(deliverable, written)) continue;
    const steps = stepsIn(piece, shot, deliverable, film);
    const now = worst ? worst.steps.total / longPerWidth(worst.deliverable) : 0;
    if (!steps || steps.total / longPerWidth(deliverable) <= now * (1 + 1e-9)) continue;
    const kind = kinds.reduce((most, one) => (steps[one] > steps[most] ? one : most));
    worst = { deliverable, steps, kind };
  }
  return worst;
}

function moves({ zoom, shift }: Piece, shot: Shot): boolean {
  const { distance, focal } = shot.camera;
  const changing = [zoom, shift, distance?.value, focal?.value].some((one) => one && one.from !== one.to);
  // Somebody who walks before a camera that stands moves as people do.
  return shot.action?.moves !== 'subject' && (changing || slideMmS(shot) !== 0 || turnSeenDegS(shot) !== 0);
}

/** The greatest step in any quarter of the piece. */
function stepsIn(piece: Piece, shot: Shot, deliverable: Deliverable, film: Film): Steps | undefined {
  const frames = (piece.lengthS! / 4) * rateFps(film.timeline.rate!.value);
  const views = [0, 0.25, 0.5, 0.75, 1].flatMap((moment) => viewAt(piece, deliverable, moment) ?? []);
  const real = realSteps(piece, shot, film);
  let most: Steps | undefined;
  for (const [index, view] of views.entries()) {
    const next = views[index + 1];
    if (!next) continue;
    const [size, nextSize] = [view, next].map((one) => 1 / (one.cropWidthMm ?? one.cropWidthPx)) as [number, number];
    const reach = Math.max(reachOf(shot, view), reachOf(shot, next));
    const zoom = (reach * Math.abs(nextSize - size)) / Math.min(size, nextSize) / frames;
    const shift = (next.shift - view.shift) / frames;
    const widthMm = Math.min(view.cropWidthMm ?? Infinity, next.cropWidthMm ?? Infinity);
    const slide = real.slideMm / widthMm;
    const turn = real.turnMm / widthMm;
    // The camera slides right, so the subject moves left.
    const total = zoom + Math.abs(shift - slide) + turn;
    if (total > (most?.total ?? 0)) most = { zoom, shift: Math.abs(shift), slide: Math.abs(slide), turn, total };
  }
  return most;
}

/** Millimetres from film frame to film frame. What already smears is reported as that. */
function realSteps(piece: Piece, shot: Shot, film: Film): { slideMm: number; turnMm: number } {
  const turn = Math.abs(turnSeenDegS(shot));
  const smear = smearOf(shot, film);
  if ((turn === 0 && slideMmS(shot) === 0) || (smear && smear.px > smear.limitPx)) return { slideMm: 0, turnMm: 0 };
  const perFrame = piece.speed / rateFps(film.timeline.rate!.value);
  const radius = Math.max(...showingsOf(shot, film).map((one) => faceRadiusMm(film, one)), 0);
  return { slideMm: slideMmS(shot) * perFrame, turnMm: ((turn * Math.PI) / 180) * radius * Math.abs(perFrame) };
}

/** Before a plain backdrop the subject's outline is what the eye follows, else the edge of the picture. */
function judgedAt({ subject, backdrop }: Shot): 'outline' | 'edge' {
  const plain = backdrop && !backdrop.screenName && !backdrop.texture;
  return plain && subject.box ? 'outline' : 'edge';
}

/** How far from the middle of the picture the judged place lies, in widths of the picture; its edge at most. */
function reachOf(shot: Shot, view: View): Share {
  const { box } = shot.subject;
  const tall = view.cropHeightPx / view.cropWidthPx;
  if (judgedAt(shot) === 'edge' || !box || !view.cropWidthMm) return Math.max(0.5, tall / 2);
  const aside = Math.abs((shot.camera.offCentre?.value ?? 0) + view.shift);
  const across = Math.min(0.5, aside + box.widthMm / 2 / view.cropWidthMm);
  return Math.max(across, Math.min(tall / 2, box.heightMm / 2 / view.cropWidthMm));
}

function ends(from: string, to: string): string {
  return `${from} to ${to}`;
}

function moveText({ zoom, shift }: Piece, shot: Shot, kind: Kind): string {
  const { distance, focal } = shot.camera;
  switch (kind) {
    case 'zoom':
      if (zoom.from !== zoom.to) return `zoom ${ends(num(zoom.from, 2), num(zoom.to, 2))}`;
      return distance && distance.value.from !== distance.value.to
        ? `the camera going from ${distance.text}`
        : `the lens going from ${focal?.text ?? ''}`;
    case 'shift':
      return `shift ${ends(percentText(shift.from, 1), percentText(shift.to, 1))}`;
    case 'slide':
      return `the camera sliding at ${speedText(Math.abs(slideMmS(shot)))}`;
    case 'turn':
      return `a turn of ${num(Math.abs(turnSeenDegS(shot)) / 6, 2)} rpm`;
  }
}

function culprit(piece: Piece, { camera, turn }: Shot, kind: Kind) {
  const { distance, focal } = camera;
  const moved = distance && distance.value.from !== distance.value.to ? distance : focal;
  const zoom = piece.zoom.from !== piece.zoom.to ? piece.zoomAt : moved;
  const places = { zoom, shift: piece.shiftAt, slide: camera.slide, turn: turn?.speed ?? turn?.by ?? camera.angle };
  return places[kind] ?? piece;
}

interface Fault {
  readonly kind: Kind;
  /** Of the width of the picture in which it jumps most; `longest` is that picture's long side in its width. */
  readonly allowed: Share;
  readonly longest: number;
  readonly steps: Steps;
}

/** Less of the movement that counts most, so that the sum of all keeps to the guide. */
function fixes(piece: Piece, shot: Shot, film: Film, { kind, allowed, steps, longest }: Fault): FixIdea[] {
  const part = (allowed - (steps.total - steps[kind])) / steps[kind];
  if (part <= 0) return [];
  if (kind === 'slide') return shorterSlide(shot, part);
  if (kind === 'turn') return shot.camera.angle ? [] : slowerTurn(shot, part);
  const key = kind === 'zoom' ? 'zoom' : 'shift';
  const now = piece[key];
  if (now.from === now.to) return [];
  const to = farthestEnd(now, (end) => {
    const trial = { ...piece, [key]: { from: now.from, to: end } };
    const found = worstStep(trial, film, piece);
    return !found || found.steps.total <= allowed * (longPerWidth(found.deliverable) / longest) * (1 + 1e-6);
  });
  if (to === undefined) return [];
  const text = key === 'zoom' ? ends(num(now.from, 3), num(to, 3)) : ends(percentText(now.from, 1), percentText(to, 1));
  return [set(`Set ${key} to ${quoted(text)}`, [piece, key, text])];
}

/** Halves the way to the end until it holds: to 0.01, written toward the start; undefined where nothing is left. */
function farthestEnd({ from, to }: Ends, holds: (end: number) => boolean): number | undefined {
  let good = from;
  let bad = to;
  for (let round = 0; round < 20; round++) {
    const middle = (good + bad) / 2;
    if (holds(middle)) good = middle;
    else bad = middle;
  }
  const end = from + towardZero(good - from, 2);
  return Math.abs(end - from) < 0.01 - 1e-9 ? undefined : Number(end.toFixed(3));
}
