import { framesToS, nearestFrame, type Rate } from '../../calc/rate.ts';
import {
  beatOfFilmS,
  exactTime,
  framesText,
  secondsAndFrames,
  shownOfPieceS,
  shownStretch,
} from '../../core/derived/edit.ts';
import { usedStretch } from '../../core/derived/take.ts';
import type { Deliverable, Film, Piece } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { num, quoted, secondsText } from '../../core/say.ts';
import type { Seconds } from '../../core/units.ts';

export default defineRule({
  id: 'length-off',
  family: 'cut',
  summary: 'The cut does not run as long as the deliverable must, or its section ends after the cut does.',
  severity: 'error',
  sources: ['arithmetic; slots for films are exact to the frame'],
  messages: {
    short: '{deliverable}: the cut runs {found}, and {wanted} are promised: {off} short.{spare}',
    long: '{deliverable}: the cut runs {found}, and {wanted} are promised: {off} too long.{spare}',
    cap: '{deliverable}: the cut runs {found}, and {longest} is the longest that it may be: {off} too long. Shorten it, or show a `section` of it.',
    section:
      '{deliverable}: the section runs to {to} of the cut, which ends at {end}: {off} of it are empty. Let it end earlier.',
    backwards: '{deliverable}: the section {text} ends before it starts. Exchange its ends.',
  },
  deliverable(deliverable, { film, report }) {
    const rate = deliverable.rate?.value;
    const stretch = shownStretch(deliverable, film);
    if (!rate || !stretch || film.cut.length === 0) return;
    const { name, section, length, lengthS, longest, longestS } = deliverable;
    const data = { deliverable: name };
    const fault = sectionFault(deliverable, film, rate);
    if (section && fault) {
      if (fault.backwards) report({ message: 'backwards', data: { ...data, text: quoted(section.text) }, at: section });
      else report({ message: 'section', data: { ...data, ...fault.texts }, at: section });
      return;
    }
    const frames = nearestFrame(stretch.to, rate) - nearestFrame(stretch.from, rate);
    const found = secondsAndFrames(framesToS(frames, rate), rate);
    const isOff = lengthS !== undefined && !isRounded(deliverable, stretch.to - stretch.from);
    const off = isOff ? frames - nearestFrame(lengthS, rate) : 0;
    if (length && lengthS !== undefined && off !== 0) {
      const spare = spareText(deliverable, film, off, rate);
      const wanted = secondsAndFrames(lengthS, rate);
      report({
        message: off < 0 ? 'short' : 'long',
        data: { ...data, found, wanted, spare, off: framesText(Math.abs(off)) },
        at: length,
        excess: Math.abs(off),
        fixes: () => fixes(deliverable, film, { frames, off, rate }),
      });
    }
    const over = longestS === undefined ? 0 : frames - nearestFrame(longestS, rate);
    if (longest && over > 0 && off <= 0) {
      report({
        message: 'cap',
        data: { ...data, found, longest: longest.text, off: framesText(over) },
        at: longest,
        excess: over,
      });
    }
  },
});

/** Does a promise with decimals mean the cut, such as 18.5 s for 32 beats? Only slots in broadcast and cinemas have frames. */
function isRounded({ length, lengthS, shownOn }: Deliverable, runsS: Seconds): boolean {
  const decimals = /^\d+\.(\d+) ?s$/.exec(length?.text ?? '')?.[1];
  if (!decimals || shownOn.includes('broadcast') || shownOn.includes('cinema')) return false;
  return Math.abs(runsS - lengthS!) <= 0.5 * 10 ** -decimals.length + 1e-6;
}

/** A section that ends before it starts, or after the cut does. */
function sectionFault({ sectionS }: Deliverable, film: Film, rate: Rate) {
  if (!sectionS) return undefined;
  const empty = nearestFrame(sectionS.to, rate) - nearestFrame(film.cutS!, rate);
  const texts = { to: secondsText(sectionS.to), end: secondsText(film.cutS!), off: framesText(Math.max(0, empty)) };
  if (sectionS.to <= sectionS.from) return { backwards: true, texts };
  return empty >= 1 ? { backwards: false, texts } : undefined;
}

interface Adjusted {
  readonly piece: Piece;
  /** Frames that it has to spare. */
  readonly room: number;
  /** The length with which the film comes out exact, as it would be written. */
  readonly text: string;
}

/**
 * The piece, wholly shown, that can give or take the frames: the last one, so that no cut moves; else, where music counts
 * the time, one that changes by whole beats; else the one with most room.
 */
function bestPiece(deliverable: Deliverable, film: Film, off: number, rate: Rate): Adjusted | undefined {
  const wholly = deliverable.pieces.filter(
    (piece) => piece.lengthS !== undefined && Math.abs(shownOfPieceS(piece, deliverable, film) - piece.lengthS) < 1e-6,
  );
  const able = wholly.flatMap((piece): Adjusted[] => {
    const room = off < 0 ? spareFrames(piece, film, rate) : nearestFrame(piece.lengthS!, rate) / 2;
    const text = room < Math.abs(off) ? undefined : exactLength(piece, deliverable, film, rate);
    return text === undefined ? [] : [{ piece, room: Math.floor(room), text }];
  });
  const last = able.find(({ piece }) => piece === film.cut.at(-1));
  if (last) return last;
  const beatS = beatOfFilmS(film);
  const onBeat = beatS === undefined || isWhole(framesToS(off, rate) / beatS);
  return onBeat ? able.sort((a, b) => b.room - a.room)[0] : undefined;
}

function isWhole(beats: number): boolean {
  return Math.abs(beats - Math.round(beats)) < 0.02;
}

/** The length of the piece at which the whole comes to the frame that is promised: the film's end is rounded, not the piece. */
function exactLength(piece: Piece, deliverable: Deliverable, film: Film, rate: Rate): string | undefined {
  const edit = film.timeline.rate?.value;
  const stretch = shownStretch(deliverable, film);
  if (!edit || !stretch || deliverable.lengthS === undefined) return undefined;
  const wanted = nearestFrame(deliverable.lengthS, rate);
  const runsS = stretch.to - stretch.from;
  const exactS = piece.lengthS! + framesToS(wanted, rate) - runsS;
  const near = nearestFrame(exactS, edit);
  return [near, near - 1, near + 1].flatMap((frames) => {
    const newS = runsS - piece.lengthS! + framesToS(frames, edit);
    const text = nearestFrame(newS, rate) === wanted ? exactTime(frames, piece.length, film) : undefined;
    return text ?? [];
  })[0];
}

/** Frames of the film by which a piece could be held longer before its take's last handle begins. */
function spareFrames(piece: Piece, film: Film, rate: Rate): number {
  const { shot, speed } = piece;
  const used = usedStretch(piece, film);
  if (!shot) return piece.colour ? Infinity : 0;
  if (!shot.record || !used) return 0;
  if (speed === 0) return Infinity;
  const spareS = Math.max(0, shot.record.value - shot.handlesS - used.toS) / Math.abs(speed);
  return Math.floor((spareS * rate.num) / rate.den + 1e-6);
}

function pieceName(piece: Piece): string {
  const name = piece.shotName ? quoted(piece.shotName.value) : 'the plain colour';
  return `${name} (piece ${piece.index + 1})`;
}

function spareText(deliverable: Deliverable, film: Film, off: number, rate: Rate): string {
  if (deliverable.section) return '';
  const best = off < 0 ? bestPiece(deliverable, film, off, rate) : undefined;
  if (!best || !Number.isFinite(best.room)) return '';
  return ` Hold ${pieceName(best.piece)} longer: its recording has ${framesText(best.room)} to spare.`;
}

function fixes(
  deliverable: Deliverable,
  film: Film,
  { frames, off, rate }: { frames: number; off: number; rate: Rate },
): FixIdea[] {
  const ideas: FixIdea[] = [];
  const best = deliverable.section ? undefined : bestPiece(deliverable, film, off, rate);
  if (best) {
    const verb = off < 0 ? 'Hold' : 'Trim';
    ideas.push(set(`${verb} ${pieceName(best.piece)} to ${best.text}`, [best.piece, 'length', best.text]));
  }
  const promised = `${num(framesToS(frames, rate), 3)} s`;
  const exact = frames > 0 && nearestFrame(Number.parseFloat(promised), rate) === frames;
  if (exact) ideas.push(set(`Promise ${promised} instead (ask the client first)`, [deliverable, 'length', promised]));
  return [...sectionFix(deliverable, film, off, rate), ...ideas];
}

/** A section of the right length from the same start, where the cut is long enough. */
function sectionFix(deliverable: Deliverable, film: Film, off: number, rate: Rate): FixIdea[] {
  const { section, sectionS } = deliverable;
  const edit = film.timeline.rate?.value;
  if (!section || !sectionS || !edit || !section.text.includes(' to ')) return [];
  const toS = sectionS.to - framesToS(off, rate);
  const end = exactTime(nearestFrame(toS, edit), { ...section, value: section.value.to }, film);
  if (!end || toS > film.cutS! + 1e-6) return [];
  const text = `${section.text.slice(0, section.text.indexOf(' to '))} to ${end}`;
  return [set(`Use ${text} of the cut`, [deliverable, 'section', text])];
}
