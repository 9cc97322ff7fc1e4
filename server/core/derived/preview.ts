/** The still that stands for a film before it plays: where it lies, and what of the film no still can be taken from. */
import type { Deliverable, Film, Piece, Title } from '../film.ts';
import type { Ends, Seconds } from '../units.ts';
import { deliverablesOf, sameTimeS, shownStretch } from './edit.ts';

export interface Blurred extends Ends<Seconds> {
  /** As messages call it. */
  readonly what: 'a dissolve' | 'a fade';
}

/** Where two pictures mix, or one comes and goes: its ends belong to what is clear. */
export function blurredStretches({ cut }: Film): Blurred[] {
  return cut.flatMap((piece) => [...fadesOf(piece), ...dissolveOf(piece)]);
}

function fadesOf({ startS, endS, fadeInS, fadeOutS }: Piece): Blurred[] {
  const fadeIn = startS !== undefined && fadeInS > 0 ? [{ from: startS, to: startS + fadeInS }] : [];
  const fadeOut = endS !== undefined && fadeOutS > 0 ? [{ from: endS - fadeOutS, to: endS }] : [];
  return [...fadeIn, ...fadeOut].map((ends) => ({ ...ends, what: 'a fade' }));
}

/** It takes half of each side of its cut. */
function dissolveOf({ startS, dissolveS }: Piece): Blurred[] {
  if (startS === undefined || dissolveS <= 0) return [];
  return [{ from: startS - dissolveS / 2, to: startS + dissolveS / 2, what: 'a dissolve' }];
}

/** The blurred stretch that a moment lies in. */
export function blurredAt(atS: Seconds, film: Film): Blurred | undefined {
  return blurredStretches(film).find(({ from, to }) => atS > from + sameTimeS && atS < to - sameTimeS);
}

/** A frame is the last that begins inside. */
export function isShown(atS: Seconds, { from, to }: Ends<Seconds>): boolean {
  return atS >= from - sameTimeS && atS < to - sameTimeS;
}

/** The piece that is seen at a moment of the cut. */
export function pieceAt(atS: Seconds, { cut }: Film): Piece | undefined {
  return cut.find(
    ({ startS, endS }) => startS !== undefined && endS !== undefined && isShown(atS, { from: startS, to: endS }),
  );
}

/** A name of so many words stands well on a still; what is longer is read, and small (common practice, no source). */
const mostNameWords = 2;

/** The titles with more than a name in them that stand in the picture of a deliverable at a moment. */
export function sentencesAt(atS: Seconds, deliverable: Deliverable, film: Film): Title[] {
  return sentencesOf(deliverable, film).filter((title) => standsAt(title, atS));
}

function sentencesOf(deliverable: Deliverable, film: Film): Title[] {
  return film.titles.filter(
    (title) =>
      wordsOf(title.text?.value ?? '').length > mostNameWords && deliverablesOf(title, film).includes(deliverable),
  );
}

/** Its fades are part of its time: at its first moment one that fades is not seen yet. */
function standsAt({ atS, holdS, fadeS }: Title, momentS: Seconds): boolean {
  if (atS === undefined || holdS === undefined) return false;
  const seenFromS = fadeS > 0 ? atS + sameTimeS : atS - sameTimeS;
  return momentS >= seenFromS && momentS < atS + holdS - sameTimeS;
}

export function wordsOf(text: string): string[] {
  return text.toLowerCase().match(/[\p{L}\p{N}]+/gu) ?? [];
}

/** The moment of a deliverable, clear, of a shot and with no sentence over it, that is nearest to one; undefined where there is none. */
export function clearNear(atS: Seconds, deliverable: Deliverable, film: Film): Seconds | undefined {
  const stretch = shownStretch(deliverable, film);
  if (!stretch) return undefined;
  const frame = frameOf(film);
  const titles = sentencesOf(deliverable, film);
  const edges = [
    ...blurredStretches(film).flatMap(({ from, to }) => [from, to]),
    ...titles.flatMap((title) => {
      const { atS: from = 0, holdS = 0, fadeS } = title;
      return [fadeS > 0 ? from : from - frame, from + holdS];
    }),
    ...film.cut.flatMap(({ colour, startS, endS }) => (colour && startS && endS ? [startS - frame, endS] : [])),
  ];
  const inside = Math.max(stretch.from, Math.min(atS, stretch.to - frame));
  const isClear = (one: Seconds) =>
    isShown(one, stretch) &&
    !blurredAt(one, film) &&
    !pieceAt(one, film)?.colour &&
    !titles.some((title) => standsAt(title, one));
  const clear = [inside, ...edges].filter(isClear);
  return clear.sort((one, other) => Math.abs(one - atS) - Math.abs(other - atS))[0];
}

function frameOf({ timeline }: Film): Seconds {
  const rate = timeline.rate?.value;
  return rate ? rate.den / rate.num : 0.04;
}
