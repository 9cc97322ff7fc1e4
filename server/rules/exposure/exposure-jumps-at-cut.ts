import type { LampLight } from '../../core/derived/light.ts';
import { brightestLight } from '../../core/derived/white-points.ts';
import type { Film, Piece, Shot } from '../../core/film.ts';
import { defineRule, type FixIdea } from '../../core/rule.ts';
import { listFirst, quoted, stopsText } from '../../core/say.ts';
import type { Degrees, Stops } from '../../core/units.ts';
import { exposureFixes, seenStops } from './exposure-fixes.ts';
import { judgedError, judgedInCut, styles, toldStops } from './judged-exposure.ts';
import { farthestOff } from './on-the-way.ts';
import { underOneLamp } from './under-one-lamp.ts';

export default defineRule({
  id: 'exposure-jumps-at-cut',
  family: 'exposure',
  summary: 'Two shots that meet in the cut are not equally bright.',
  severity: 'info',
  sources: ['ISO 2720 (incident light, C = 250)', 'common practice, no source (one stop is seen at any cut)'],
  limits: {
    allow: { quantity: 'stops', default: '1 stop', meaning: 'How much brighter one shot may be than the next.' },
  },
  messages: {
    jumps:
      'From {before} ({beforeOff}) to {after} ({afterOff}) the picture jumps by {stops}{others}. Set them alike, so that no grade has to.',
  },
  film(film, { limits, meant, report }) {
    const styled = (shot: Shot) => styles.some((word) => meant(word, shot));
    const jumps = jumpsOf(film, limits.allow).filter(({ shots }) => !shots.some(styled));
    const [worst, ...rest] = jumps.sort((a, b) => b.stops - a.stops);
    if (!worst || jumps.every((jump) => isToldAlready(jump, film))) return;
    const { piece, shots, errors, stops } = worst;
    const [farther, error] = Math.abs(errors[0]) > Math.abs(errors[1]) ? [shots[0], errors[0]] : [shots[1], errors[1]];
    const names = rest.map((one) => `${quoted(one.shots[0].name)} to ${quoted(one.shots[1].name)}`);
    report({
      message: 'jumps',
      data: {
        before: quoted(shots[0].name),
        beforeOff: offText(errors[0]),
        after: quoted(shots[1].name),
        afterOff: offText(errors[1]),
        stops: stopsText(stops),
        others: names.length > 0 ? `, and so from ${listFirst(names, 3)}` : '',
      },
      at: piece,
      excess: stops,
      related: rest.map(({ piece: { start, end }, stops: by }) => ({
        start,
        end,
        message: `here by ${stopsText(by)}`,
      })),
      shot: farther,
      fixes: (): FixIdea[] => exposureFixes(farther, film, error),
    });
  },
});

interface Jump {
  /** The later one of the two. */
  readonly piece: Piece;
  readonly shots: readonly [Shot, Shot];
  readonly errors: readonly [Stops, Stops];
  readonly stops: Stops;
}

/** Each pair of shots once; a dissolve or a fade leads from one brightness to the other. */
function jumpsOf(film: Film, allow: Stops): Jump[] {
  const seen = new Set<string>();
  return film.cut.slice(1).flatMap((piece, index): Jump[] => {
    const before = film.cut[index]!;
    const [one, other] = [before.shot, piece.shot];
    if (!one || !other || one === other || piece.dissolveS > 0 || before.fadeOutS > 0 || piece.fadeInS > 0) return [];
    if (isReadOtherwise(one, other)) return [];
    const errors = [judgedInCut(before, 1, film), judgedInCut(piece, 0, film)] as const;
    const [first, second] = errors;
    if (first === undefined || second === undefined || !isQuiet(first) || !isQuiet(second)) return [];
    const stops = Math.abs(first - second);
    const pair = [one.name, other.name].sort().join('/');
    if (stops <= allow + 1e-6 || seen.has(pair)) return [];
    seen.add(pair);
    return [{ piece, shots: [one, other], errors: [first, second], stops }];
  });
}

/** One cause, one finding: is it gone when what `exposure-off` says of the two, or of all under their lamp, is mended? */
function isToldAlready({ shots, errors }: Jump, film: Film): boolean {
  if (shots.some((shot) => Math.abs(farthestOff(shot, film)?.error ?? 0) > toldStops + 1e-6)) return true;
  const [first, second] = shots.map((shot) => toldOfLamp(shot, film));
  return (first !== 0 || second !== 0) && Math.abs(errors[0] - first! - (errors[1] - second!)) < seenStops;
}

/** By how much the lamp is said to be wrong under which the shot is, where it is said; else 0. */
function toldOfLamp(shot: Shot, film: Film): Stops {
  const under = underOneLamp(shot, film);
  const isTold = under?.shots.some((one) => !isQuiet(judgedError(one, film) ?? 0));
  return under && isTold ? under.error : 0;
}

/**
 * A lamp that was measured was so with the meter turned one way: seen from elsewhere the face gets another part of it, and of
 * the two shots nobody knows which one the reading is of.
 */
function isReadOtherwise(one: Shot, other: Shot): boolean {
  const apart = Math.abs((one.camera.angle?.value.to ?? 0) - (other.camera.angle?.value.from ?? 0));
  const isRead = ({ lamp, share }: LampLight) => lamp.measured && share > 0.5;
  return apart > sameSideDeg && [one, other].some((shot) => brightestLight(shot).lamps.some(isRead));
}

/** Cosines of a few degrees differ by nothing that is seen (common practice, no source). */
const sameSideDeg: Degrees = 15;

function isQuiet(error: Stops): boolean {
  return Math.abs(error) <= toldStops + 1e-6;
}

function offText(error: Stops): string {
  if (Math.abs(error) < 0.05) return 'as metered';
  return `${stopsText(error)} too ${error > 0 ? 'bright' : 'dark'}`;
}
