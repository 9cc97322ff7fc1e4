import { nearestFrame } from '../../calc/rate.ts';
import { dissolveHalves } from '../../core/derived/time.ts';
import { exactTime, filmTimeLike, samePlaceS } from '../../core/derived/edit.ts';
import type { Deliverable, Film, Piece } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { listText, secondsText } from '../../core/say.ts';

export default defineRule({
  id: 'fade-overruns-shot',
  family: 'cut',
  summary: 'Fades and dissolves take longer than the piece that carries them, or a section cuts through one.',
  severity: 'error',
  sources: ['arithmetic'],
  messages: {
    longer: '{shot}: {both} do not fit into the {length} of this piece. {most} leaves half of it clear.',
    first: 'The first piece has a `dissolve`, but nothing stands before it: say `fade-in` to come up from black.',
    firstOfLoop:
      'The first piece has a `dissolve`, but a loop carries none over from its end. Add a last piece of the same shot that ends where the first begins in its take, and dissolve into that.',
    section:
      '{deliverable}: the section {side} at {at} in the middle of a dissolve ({from} to {to}): it would begin or end half mixed. Let it begin and end clear of the dissolve.',
  },
  piece(piece, { film, report }) {
    const { lengthS, dissolve, fadeInS, fadeOutS } = piece;
    if (piece.index === 0 && dissolve) {
      const text = dissolve.text;
      const fix: FixIdea = {
        title: `Fade in over ${text} instead`,
        set: [{ block: piece, key: 'fade-in', text }],
        remove: [{ block: piece, key: 'dissolve' }],
      };
      if ([...film.deliverables.values()].some(({ loop }) => loop))
        report({ message: 'firstOfLoop', data: {}, at: dissolve });
      else report({ message: 'first', data: {}, at: dissolve, fixes: piece.fadeIn ? [] : [fix] });
      return;
    }
    if (lengthS === undefined) return;
    const halves = dissolveHalves(piece, film);
    const startS = fadeInS + halves.startS;
    const endS = fadeOutS + halves.endS;
    if (startS + endS <= lengthS + 1e-6) return;
    report({
      message: 'longer',
      data: {
        shot: piece.shotName?.value ?? `piece ${piece.index + 1}`,
        both: listText([...sideText(startS, 'in'), ...sideText(endS, 'out')]),
        length: secondsText(lengthS),
        most: startS > 0 && endS > 0 ? `${secondsText(lengthS / 4)} each` : secondsText(lengthS / 2),
      },
      at: piece.fadeOut ?? piece.fadeIn ?? dissolve ?? piece.length ?? piece,
      fixes: () => shorter(piece, film, startS > 0 && endS > 0 ? lengthS / 4 : lengthS / 2),
    });
  },
  deliverable(deliverable, { film, report }) {
    const { section, sectionS, name } = deliverable;
    if (!section || !sectionS) return;
    const stretches = dissolves(film);
    const same = samePlaceS(film);
    for (const side of ['from', 'to'] as const) {
      const cutS = sectionS[side];
      const through = stretches.find((one) => cutS > one.from + same && cutS < one.to - same);
      if (!through) continue;
      report({
        message: 'section',
        data: {
          deliverable: name,
          side: side === 'from' ? 'begins' : 'ends',
          at: secondsText(cutS),
          from: secondsText(through.from),
          to: secondsText(through.to),
        },
        at: section,
        fixes: () => aroundFix(deliverable, film, side, through),
      });
    }
  },
});

function sideText(seconds: number, side: string): string[] {
  return seconds > 0 ? [`${secondsText(seconds)} ${side}`] : [];
}

/** Every fade and dissolve of the piece at `mostS` inside it, so that half of it stays clear. */
function shorter(piece: Piece, film: Film, mostS: number): FixIdea[] {
  const keys = [
    ['fade-in', piece.fadeIn, piece.fadeInS, 1],
    ['fade-out', piece.fadeOut, piece.fadeOutS, 1],
    ['dissolve', piece.dissolve, piece.dissolveS, 2],
  ] as const;
  const changes = keys.flatMap(([key, written, seconds, share]) => {
    const wantedS = mostS * share;
    if (!written || seconds <= wantedS + 1e-6) return [];
    const text = filmTimeLike(written, wantedS, film, 'down');
    return text ? [[piece, key, text] as const] : [];
  });
  if (changes.length === 0) return [];
  return [set(`Set ${listText([...new Set(changes.map(([, key, text]) => `${key} to ${text}`))])}`, ...changes)];
}

function dissolves(film: Film): { from: number; to: number }[] {
  return film.cut.flatMap(({ startS, dissolveS }) =>
    startS === undefined || dissolveS <= 0 ? [] : [{ from: startS - dissolveS / 2, to: startS + dissolveS / 2 }],
  );
}

/** The section moved to the clear side of the dissolve: after it at its start, before it at its end. */
function aroundFix(
  deliverable: Deliverable,
  film: Film,
  side: 'from' | 'to',
  through: { from: number; to: number },
): FixIdea[] {
  const { section, sectionS } = deliverable;
  const edit = film.timeline.rate?.value;
  if (!section || !sectionS || !edit || !section.text.includes(' to ')) return [];
  const clearS = side === 'from' ? through.to : through.from;
  const clear = exactTime(nearestFrame(clearS, edit), { ...section, value: section.value[side] }, film);
  const [from, to] = section.text.split(' to ');
  if (!clear) return [];
  const text = side === 'from' ? `${clear} to ${to}` : `${from} to ${clear}`;
  return [set(`Use ${text} of the cut`, [deliverable, 'section', text])];
}
