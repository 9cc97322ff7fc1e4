import type { PlanePoint } from '../../calc/plane.ts';
import { areaOf } from '../../calc/plane.ts';
import { quote } from '../../core/document/edits.ts';
import { shownOfPieceS } from '../../core/derived/edit.ts';
import { type Under, underTitle } from '../../core/derived/titles.ts';
import { type Covering, coveringAt, lettersUnder, shareUnder, subjectIn } from '../../core/derived/under-title.ts';
import { looksAtSomebody } from '../../core/derived/people.ts';
import type { Deliverable, Film, Part, Piece, Title } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { listText, num, percentText, quoted, secondsText } from '../../core/say.ts';
import type { Seconds, Share } from '../../core/units.ts';
import { subjectText } from '../framing/framing-text.ts';
import { inTwoLines } from './title-lines.ts';

export default defineRule({
  id: 'title-over-product',
  family: 'cut',
  summary: 'A title hides much of what its picture is about, or the only look at letters on the product.',
  severity: 'info',
  sources: ['perspective', 'common practice, no source (how much may be hidden)'],
  limits: {
    most: { quantity: 'share', default: '40 %', meaning: 'How much of what a shot looks at a title may hide.' },
    letters: {
      quantity: 'share',
      default: '33 %',
      meaning: 'From here on letters that lie under a title count as hidden.',
    },
    read: { quantity: 'real-time', default: '1 s', meaning: 'How long letters must be seen free of titles, in all.' },
  },
  messages: {
    hides:
      '{text}: {covers} {share} of {what} in {shot}, for {time} of the {shown} that {deliverables} {show} it. Put the title where the picture is free, make it smaller, or hold it over another picture.',
    letters:
      '{text}: {covers} {share} of {part} in {shot}, and {deliverable} shows its letters free of titles for {free} in all. Put the title where the picture is free, or show {part} without it.',
    aside:
      '{text}: in {shot}, {what} stands aside and leaves the {side} to the words, yet {words} {meet} pixel {edge} of the {width} across {deliverable}, and {what} {reach} pixel {end}: {share} of its width, and most faces are wider than is counted here. Break the words into lines, make them smaller, or leave more room.',
  },
  film(film, { limits, report }) {
    const lettered = hiddenLetters(film, limits.letters, limits.read);
    for (const { title, part, share, under, freeS, isWanted } of lettered) {
      const data = { ...told(title, share), part: quoted(part.name), deliverable: quoted(under.deliverable.name) };
      report({
        message: 'letters',
        data: { ...data, shot: under.shot.name, free: secondsText(freeS) },
        at: title.text ?? title,
        severity: isWanted ? 'warning' : 'info',
        excess: share,
        cause: title.text ?? title,
        shot: under.shot,
        fixes: () => otherPlaces(title, film),
      });
    }
    const isSaid = new Set(lettered.map(({ title }) => title));
    for (const title of film.titles) {
      if (!isSaid.has(title)) reportSubject(title);
    }

    function reportSubject(title: Title): void {
      const all = underTitle(title, film);
      const [hidden, ...others] = all
        .flatMap((under) => hiddenIn(title, under, film) ?? [])
        .filter(({ share }) => share >= limits.most)
        .sort((a, b) => b.share - a.share);
      if (hidden) {
        const { shot, piece } = hidden.under;
        const same = [hidden, ...others].filter(({ under }) => under.piece === piece);
        const names = same.map(({ under }) => quoted(under.deliverable.name));
        report({
          message: 'hides',
          data: {
            ...told(title, hidden.share),
            what: subjectText(shot),
            shot: shot.name,
            time: secondsText(hidden.heldS),
            shown: secondsText(hidden.shownS),
            deliverables: listText(names),
            show: names.length > 1 ? 'show' : 'shows',
          },
          at: title.text ?? title,
          excess: hidden.share,
          shot,
          fixes: () => otherPlaces(title, film),
        });
        return;
      }
      const [met] = all.flatMap((under) => metIn(title, under, film) ?? []).sort((a, b) => b.share - a.share);
      if (!met) return;
      const { shot, deliverable } = met.under;
      const isRight = met.side === 'right';
      report({
        message: 'aside',
        data: {
          text: told(title, 0).text,
          shot: shot.name,
          what: subjectText(shot),
          side: met.side,
          deliverable: quoted(deliverable.name),
          words: title.panel ? 'their panel' : 'the line',
          meet: isRight ? 'begins at' : 'reaches to',
          edge: num(met.wordsPx, 0),
          width: num(deliverable.raster!.value.width, 0),
          reach: isRight ? 'reaches to' : 'begins at',
          end: num(met.thingPx, 0),
          share: percentText(met.share),
        },
        at: title.text ?? title,
        ...(met.share < touchTo && { severity: 'hint' as const }),
        excess: met.share,
        shot,
        fixes: () => [...inLines(title, film), ...otherPlaces(title, film)],
      });
    }
  },
});

function told(title: Title, share: Share) {
  return {
    text: quoted(title.text?.value.trim() ?? ''),
    covers: title.panel ? 'its panel covers' : 'its words lie over',
    share: percentText(share),
  };
}

/** What a title hides from its first frame over a piece to its last: the least of three moments. */
function allAlong(title: Title, under: Under, shareAt: (covering: Covering) => Share | undefined): Share | undefined {
  const { from, to } = under.span;
  const shares = [from, (from + to) / 2, to].map((filmS) => {
    const covering = coveringAt(title, under, filmS);
    return covering && shareAt(covering);
  });
  return shares.includes(undefined) ? undefined : Math.min(...(shares as number[]));
}

/** From here on a title with its panel is a card that fills the picture. */
const cardFrom: Share = 0.5;

function isCard({ title, picture }: Covering): boolean {
  return (title.to.x - title.from.x) * (title.to.y - title.from.y) >= cardFrom * picture.to.x * picture.to.y;
}

interface Hidden {
  readonly under: Under;
  readonly share: Share;
  readonly heldS: Seconds;
  readonly shownS: Seconds;
}

/** How much of what the shot looks at lies under a title for half of the time that it is shown, or longer. */
function hiddenIn(title: Title, under: Under, film: Film): Hidden | undefined {
  const { shot, piece, deliverable, span } = under;
  const [heldS, shownS] = [span.to - span.from, shownOfPieceS(piece, deliverable, film)];
  if (looksAtSomebody(shot, film) || heldS < shownS / 2) return undefined;
  const share = allAlong(title, under, (covering) =>
    isCard(covering) ? undefined : shareUnder(covering, subjectIn(covering, shot, film)),
  );
  return share === undefined ? undefined : { under, share, heldS, shownS };
}

// -- letters ---------------------------------------------------------------------------------------------------------

interface HiddenLetters {
  readonly title: Title;
  readonly part: Part;
  readonly under: Under;
  readonly share: Share;
  readonly freeS: Seconds;
  readonly isWanted: boolean;
}

/** Letters that a deliverable does not show free of titles for long enough, and the title that hides most of them. */
function hiddenLetters(film: Film, from: Share, leastS: Seconds): HiddenLetters[] {
  const lettered = [...film.product.parts.values()].filter(({ letters, size }) => letters && size);
  if (lettered.length === 0 || film.titles.length === 0) return [];
  const all = film.titles.flatMap((title) => underTitle(title, film).map((under) => ({ title, under })));
  return lettered.flatMap((part) => {
    const shares = all
      .filter(({ under }) => isShown(part, under.piece))
      .map((one) => ({ ...one, share: allAlong(one.title, one.under, lettersIn(part, one.under, film)) ?? 0 }))
      .filter(({ share }) => share >= from)
      .sort((a, b) => b.share - a.share);
    const isAsked = film.brief?.mustShow.some(({ value }) => value === part.name) ?? false;
    return [...new Set(shares.map(({ under }) => under.deliverable))].flatMap((deliverable) => {
      if (deliverable.needNotShow.some(({ value }) => value === part.name)) return [];
      const hidden = shares.filter(({ under }) => under.deliverable === deliverable);
      const freeS =
        shownS(part, deliverable, film) - hidden.reduce((sum, { under: { span } }) => sum + span.to - span.from, 0);
      return freeS < leastS - 1e-6 ? [{ ...hidden[0]!, part, freeS: Math.max(0, freeS), isWanted: isAsked }] : [];
    });
  });
}

function lettersIn(part: Part, { shot }: Under, film: Film) {
  return (covering: Covering) => (isCard(covering) ? undefined : lettersUnder(covering, part, shot, film));
}

function isShown({ name }: Part, { shot }: Piece): boolean {
  return shot !== undefined && (shot.subject.name === name || shot.shows.some(({ value }) => value === name));
}

/** Wherever the product is filmed as a whole they may be read, ticked off or not. */
function shownS(part: Part, deliverable: Deliverable, film: Film): Seconds {
  const pieces = deliverable.pieces.filter((piece) => isShown(part, piece) || piece.shot?.subject.name === 'product');
  return pieces.reduce((sum, piece) => sum + shownOfPieceS(piece, deliverable, film), 0);
}

// -- words beside something ------------------------------------------------------------------------------------------

interface Met {
  readonly under: Under;
  readonly side: 'left' | 'right';
  /** How much of its width lies under the words. */
  readonly share: Share;
  readonly wordsPx: number;
  readonly thingPx: number;
}

/** So far from the middle, of the picture's width, something stands aside. */
const asideFrom: Share = 0.05;
/** Less of its width under the words is a touch. */
const touchTo: Share = 0.15;

/** Where a picture was moved aside for words that run into what it shows all the same. */
function metIn(title: Title, under: Under, film: Film): Met | undefined {
  const { shot, piece, deliverable, span } = under;
  const side = title.place.endsWith('left') ? 'left' : title.place.endsWith('right') ? 'right' : undefined;
  const isMoved = shot.camera.offCentre?.value || piece.shiftAt || piece.shiftBy.has(deliverable.name);
  const covering = side && isMoved ? coveringAt(title, under, (span.from + span.to) / 2) : undefined;
  if (!side || !covering || isCard(covering)) return undefined;
  const outline = subjectIn(covering, shot, film);
  if (shareUnder(covering, outline) === 0) return undefined;
  const { from, to } = endsOf(outline);
  const { title: words, picture } = covering;
  const isRight = side === 'right';
  const aside = (0.5 - (from + to) / 2 / picture.to.x) * (isRight ? 1 : -1);
  const share = (isRight ? to - words.from.x : words.to.x - from) / (to - from);
  if (aside < asideFrom || share <= 0) return undefined;
  return { under, side, share, wordsPx: isRight ? words.from.x : words.to.x, thingPx: isRight ? to : from };
}

function endsOf(outline: readonly PlanePoint[]) {
  const across = outline.map(({ x }) => x);
  return { from: Math.min(...across), to: Math.max(...across) };
}

// -- fixes -----------------------------------------------------------------------------------------------------------

const rows = ['top', 'centre', 'bottom'] as const;
const columns = ['', '-left', '-right'] as const;
/** A place where less than this lies under the words is free. */
const freeTo: Share = 0.02;

/** Places where the title is over nothing in all its deliverables: those in its own column first. */
function otherPlaces(title: Title, film: Film): FixIdea[] {
  const column = columns.find((end) => end !== '' && title.place.endsWith(end)) ?? '';
  const inOrder = [column, ...columns.filter((end) => end !== column)].flatMap((end) =>
    rows.map((row) => `${row}${end}`),
  );
  return inOrder
    .filter((place) => place !== title.place && isFree({ ...title, place }, film))
    .slice(0, 2)
    .map((place) => set(`Place it at ${quoted(place)}`, [title, 'place', place]));
}

/** In two lines, where the words then lie over nothing. */
function inLines(title: Title, film: Film): FixIdea[] {
  const { text } = title;
  const broken = text && inTwoLines(text.value).find((value) => isFree({ ...title, text: { ...text, value } }, film));
  if (!broken) return [];
  const [first, second] = broken.split('\n');
  return [set(`Break it after ${quoted(first!)}, before ${quoted(second!)}`, [title, 'text', quote(broken)])];
}

function isFree(title: Title, film: Film): boolean {
  const lettered = [...film.product.parts.values()].filter(({ letters }) => letters);
  return underTitle(title, film).every((under) => {
    const covering = coveringAt(title, under, (under.span.from + under.span.to) / 2);
    if (!covering) return false;
    const parts = lettered.filter((part) => isShown(part, under.piece));
    const shares = parts.map((part) => lettersUnder(covering, part, under.shot, film) ?? 0);
    const subject = subjectIn(covering, under.shot, film);
    return areaOf(subject) > 0 && Math.max(shareUnder(covering, subject), ...shares) < freeTo;
  });
}
