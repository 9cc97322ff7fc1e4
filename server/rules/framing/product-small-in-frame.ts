import { leastLetterMinutes } from '../../calc/reading.ts';
import { outlineOf, subjectCorners } from '../../core/derived/outline.ts';
import { looksOf, type Showing, showingsOf, still, tryShot } from '../../core/derived/showings.ts';
import type { Deliverable, Film, Shot } from '../../core/film.ts';
import type { Box } from '../../core/units.ts';
import { once, onceIn } from '../../core/memo.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { listText, num, percentText, quoted } from '../../core/say.ts';
import { lettersPxIn } from '../../core/derived/letters.ts';
import { hasTitle } from '../../core/derived/titles.ts';
import { spared, wantedPx } from './letters-wanted.ts';
import { ceil2, subjectText, zoomText } from './framing-text.ts';
import { distanceChange } from '../optics/distance-change.ts';

export default defineRule({
  id: 'product-small-in-frame',
  family: 'framing',
  summary: 'The subject fills so little of the picture, all through the shot, that its detail is lost.',
  severity: 'sheet',
  sources: ['common practice, no source'],
  limits: {
    least: {
      quantity: 'share',
      default: '25 %',
      meaning: 'The subject is small when it fills less than this of both the width and the height.',
    },
    pixels: {
      quantity: 'number',
      default: '480',
      meaning: 'With so many pixels across or in height it shows its detail, however large the picture.',
    },
  },
  messages: {
    small:
      '{shot}: in {deliverables}, {subject} fills at most {width} of the width and {height} of the height: {pixels} pixels of {of}. Its detail will be hard to see: go nearer, or zoom in.',
  },
  yieldsTo: ['edges-empty'],
  shot(shot, { film, limits, report }) {
    // A spare shot may be zoomed into later: the cut does not tell.
    const spare = film.cut.length > 0 && shot.pieces.length === 0;
    // Room is left for words while a title stands over the shot.
    if (spare || shot.sharp === 'none' || hasTitle(shot, film) || isCrossed(shot, film)) return;
    const best = shownAtBest(film).get(shot.subject.name);
    const small = [...largest(shot, film)].filter(([one, seen]) => {
      return isSmall(one, seen, limits) && isSmall(one, best?.get(one) ?? seen, limits);
    });
    const [first] = small;
    if (!first || isReadable(shot, film) || isPassing(shot, film, first[1], limits.least)) return;
    if (shot.people.length > 0 && side(first[1]) < limits.least * handsRoom) return;
    const [nearest, zoomed] = [() => nearer(shot, film, limits.least), () => zoomedIn(shot, film, limits.least)];
    // What fills another shape, or leaves its action room, is as near as it can be.
    const isLoose = () => (film.deliverables.size === 1 && zoomed().length > 0) || nearest().length > 0;
    if (!isTiny(first[1], limits.least) && !isLoose()) return;
    const [deliverable, seen] = first;
    const { height } = deliverable.raster!.value;
    report({
      message: 'small',
      data: {
        shot: shot.name,
        deliverables: listText(small.map(([one]) => quoted(one.name))),
        subject: subjectText(shot),
        width: percentText(seen.width),
        height: percentText(seen.height),
        pixels: Math.round(seen.height * height),
        of: height,
      },
      at: shot.camera.distance ?? shot,
      // A part that is small in several shots is one thought.
      cause: film.product.parts.get(shot.subject.name)?.size,
      explainedBy: ['small-in-frame'],
      excess: limits.least / Math.max(seen.width, seen.height),
      // Nearer, a hand has no room, and there is less light.
      fixes: () => [...(shot.people.length > 0 ? [] : nearest()), ...zoomed()],
    });
  },
});

interface Seen {
  readonly width: number;
  readonly height: number;
}

function isSmall(
  one: Deliverable,
  { width, height }: Seen,
  { least, pixels }: { least: number; pixels: number },
): boolean {
  const raster = one.raster!.value;
  const most = Math.max(width * raster.width, height * raster.height);
  // A twentieth is seen by nobody.
  return Math.max(width, height) < least * 0.95 && most < pixels;
}

/** So small that nobody frames it so on purpose. */
function isTiny({ width, height }: Seen, least: number): boolean {
  return Math.max(width, height) < (least * 2) / 3;
}

/** A hand that holds it, or works at it, must be in the picture as well: so much closer it still has room. */
const handsRoom = 3 / 4;

/** Nobody looks for detail that is not there in a part that is seen for no longer, if it is not tiny. */
const glimpseS = 2;

/** A part that the brief does not ask for, or that is seen for a moment: small, but not so that nobody meant it. */
function isPassing(shot: Shot, { product, brief }: Film, seen: Seen, least: number): boolean {
  const part = product.parts.get(shot.subject.name);
  if (!part || part.letters || isTiny(seen, least)) return false;
  const isAsked = !brief || brief.mustShow.length === 0 || brief.mustShow.some(({ value }) => value === part.name);
  const lasts = shot.pieces.map(({ startS, endS }) => (endS ?? Infinity) - (startS ?? 0));
  return !isAsked || (lasts.length > 0 && lasts.every((seconds) => seconds <= glimpseS + 1e-6));
}

/**
 * The most that any shot of the cut shows of a part, by its name, in each deliverable; of the product, of it or any of its parts: what
 * another shot shows large, a wide one may show small.
 */
const shownAtBest = once((film: Film): ReadonlyMap<string, ReadonlyMap<Deliverable, Seen>> => {
  const best = new Map<string, Map<Deliverable, Seen>>();
  const keep = (name: string, all: Iterable<readonly [Deliverable, Seen]>) => {
    const known = best.get(name) ?? new Map<Deliverable, Seen>();
    for (const [one, seen] of all) if (side(seen) > side(known.get(one))) known.set(one, seen);
    best.set(name, known);
  };
  for (const shot of film.shots.values()) {
    if (film.cut.length > 0 && shot.pieces.length === 0) continue;
    const all = largest(shot, film);
    keep('product', all);
    if (shot.subject.name !== 'product') keep(shot.subject.name, all);
    for (const { value } of shot.shows) {
      const part = film.product.parts.get(value);
      if (part?.size && value !== shot.subject.name) keep(value, besides(shot, film, part.size.value));
    }
  }
  return best;
});

function side(seen: Seen | undefined): number {
  return seen ? Math.max(seen.width, seen.height) : 0;
}

/** What a thing fills that a shot shows beside its subject, as far from the lens as that. */
function besides(shot: Shot, film: Film, { widthMm, heightMm }: Box): [Deliverable, Seen][] {
  return showingsOf(shot, film).flatMap(({ views, deliverables }) =>
    views.flatMap(({ cropWidthMm, cropHeightMm }) => {
      if (!cropWidthMm || !cropHeightMm) return [];
      const seen = { width: widthMm / cropWidthMm, height: heightMm / cropHeightMm };
      return deliverables.map((one): [Deliverable, Seen] => [one, seen]);
    }),
  );
}

/** Its letters show in every deliverable: then its other detail does too. */
function isReadable(shot: Shot, film: Film): boolean {
  const part = film.product.parts.get(shot.subject.name);
  if (!part?.letters) return false;
  return [...film.deliverables.values()].every((one) => {
    const pixels = lettersPxIn(film, shot, part, one);
    const wanted = wantedPx(one, leastLetterMinutes);
    return typeof pixels !== 'number' || wanted === undefined || pixels >= wanted * spared;
  });
}

/** It moves, or opens, so far that it crosses the picture: that room is for its action. */
function isCrossed(shot: Shot, film: Film): boolean {
  const { fastest, lasts } = shot.action ?? {};
  if (!fastest || !lasts) return false;
  const widths = showingsOf(shot, film).flatMap(({ views }) => views.flatMap((view) => view.cropWidthMm ?? []));
  return widths.length > 0 && fastest.value * lasts.value >= Math.min(...widths);
}

/** For each deliverable the greatest shares of width and height that the subject fills in any piece. */
const largest = onceIn((shot: Shot, film: Film): ReadonlyMap<Deliverable, Seen> => {
  const all = new Map<Deliverable, Seen>();
  for (const where of showingsOf(shot, film)) {
    const seen = filled(where, film);
    if (!seen) continue;
    for (const one of where.deliverables) {
      const known = all.get(one);
      if (!known || Math.max(seen.width, seen.height) > Math.max(known.width, known.height)) all.set(one, seen);
    }
  }
  return all;
});

function filled(where: Showing, film: Film): Seen | undefined {
  let most: Seen | undefined;
  for (const { view, pose, turn } of looksOf([where])) {
    const { edges } = view;
    const points = subjectCorners(where.shot, film, turn);
    if (!edges || !points) continue;
    const outline = outlineOf(pose, points);
    const seen = {
      width: (outline.right - outline.left) / (edges.right - edges.left),
      height: (outline.top - outline.bottom) / (edges.top - edges.bottom),
    };
    if (!most || Math.max(seen.width, seen.height) > Math.max(most.width, most.height)) most = seen;
  }
  return most;
}

/** From where it fills a third at least, or as near as the lens focuses. */
function nearer(shot: Shot, film: Film, least: number): FixIdea[] {
  const { distance, lens } = shot.camera;
  if (!distance || distance.value.from !== distance.value.to) return [];
  const nearest = Math.max(50, (lens?.nearestFocus?.value ?? 0) - (lens?.frontToSensorMm ?? 0));
  const sizes = (mm: number) => [...largest(tryShot(shot, { camera: { distance: still(mm) } }), film).values()];
  for (
    let cm = Math.ceil(distance.value.from / 10) - 1;
    cm * 10 >= nearest - 1e-6;
    cm -= Math.max(1, Math.round(cm / 50))
  ) {
    const seen = sizes(cm * 10);
    if (seen.length === 0) continue;
    const fills = Math.min(...seen.map((one) => Math.max(one.width, one.height)));
    const full = seen.some((one) => one.width > 0.9 || one.height > 0.9);
    if (full) return [];
    if (fills < (least * 4) / 3) continue;
    const title = `Set distance to ${cm} cm (it fills ${percentText(fills)} of the width or height)`;
    return [set(title, ...distanceChange(shot, cm * 10, `${cm} cm`))];
  }
  return [];
}

/** So far that it is small no more, where the recording has the pixels. */
function zoomedIn(shot: Shot, film: Film, least: number): FixIdea[] {
  const seen = [...largest(shot, film).values()];
  const spare = Math.min(...showingsOf(shot, film).flatMap(({ views }) => views.map((view) => view.scale)));
  const k = least / Math.min(...seen.map((one) => Math.max(one.width, one.height)));
  const full = seen.some((one) => Math.max(one.width, one.height) * k > 0.9);
  if (shot.pieces.length === 0 || seen.length === 0 || full || k > Math.min(spare, mostZoom)) return [];
  const zooms = shot.pieces.map((piece) => {
    const ends = { from: ceil2(piece.zoom.from * k), to: ceil2(piece.zoom.to * k) };
    return [piece, 'zoom', zoomText(ends)] as const;
  });
  return [
    set(
      `Zoom in ${num(ceil2(k), 2)} times in the edit (it fills ${percentText(least)} of the width or height)`,
      ...zooms,
    ),
  ];
}

/** Nobody zooms in more. */
const mostZoom = 4;
