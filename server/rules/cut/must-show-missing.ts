import { shownOfPieceS } from '../../core/derived/edit.ts';
import type { Deliverable, Film, Piece, Shot, Val } from '../../core/film.ts';
import { defineRule, type FixIdea, set } from '../../core/rule.ts';
import { angleText, lengthText, listText, percentText, quoted, secondsText } from '../../core/say.ts';
import { nearest } from '../../core/nearest.ts';
import { faceSeenAtBest, heightsOf, partSeenAtBest } from '../../core/derived/part-seen.ts';
import { type Showing, showingsOfPiece } from '../../core/derived/showings.ts';
import { everythingShown, shownIn } from '../../core/derived/shown.ts';

export default defineRule({
  id: 'must-show-missing',
  family: 'cut',
  summary:
    'Something that the brief says must be seen is never seen in a deliverable, too briefly, lies outside the picture, or faces away.',
  severity: 'error',
  sources: ['common practice, no source'],
  limits: {
    least: { quantity: 'real-time', default: '1 s', meaning: 'How long a thing must be seen in all.' },
    part: {
      quantity: 'share',
      default: '50 %',
      meaning:
        'How much of the height of a part must lie in the picture of a shot that shows it, in one of them at least.',
    },
  },
  messages: {
    missing: '{deliverable}: {item} must be shown, but nothing in its cut shows {it}. {where}',
    brief: '{deliverable}: {item} is seen for {seen} in all; under {least} a feature goes unnoticed. Hold it longer.',
    outside:
      '{deliverables}: {item} must be shown, and {shots} {show} it, but at most {share} of its height lies in the picture: it reaches from {low} to {high}, and {best} sees {from} to {to} there. Aim at it, go farther back, or show it in another shot.',
    away: '{deliverables}: {item} must be shown and faces {faces}, and {shots} {show} it, but its face is at best {angle} from straight on, in {best}: 90° is edge on. Turn the product, move the camera round, or show it in another shot.',
    nowhere:
      '{item} must be shown, but no shot shows it. Name it under `shows` in the shot that does, or plan one that does.',
    near: '{item} must be shown, but no shot shows it. Shots show {near}: is that the same thing?',
  },
  film(film, { limits, report }) {
    const wanted = film.brief?.mustShow ?? [];
    if (film.shots.size === 0 || wanted.length === 0) return;
    const shown = everythingShown(film);
    const missing = new Map<Deliverable, Val<string>[]>();
    for (const item of wanted) {
      const name = quoted(item.value);
      const near = nearest(item.value, [...shown])?.word;
      if (!shown.has(item.value)) {
        // A subject that is no part of the product is a slip of its own.
        if (isSubjectMeant(item.value, film)) continue;
        if (near === undefined)
          report({ message: 'nowhere', data: { item: name }, at: item, fixes: () => showIn(item.value, film) });
        else
          report({
            message: 'near',
            data: { item: name, near: quoted(near) },
            at: item,
            fixes: () => rename(item, near),
          });
        continue;
      }
      const outside = outsideIn(film, item.value, limits.part);
      if (outside)
        report({ message: 'outside', data: outside.data, at: item, severity: 'warning', excess: outside.excess });
      const away = outside ? undefined : turnedAway(film, item.value);
      if (away) report({ message: 'away', at: item, ...away });
      for (const { deliverable, seenS } of tooBrief(film, item.value, limits.least)) {
        if (seenS <= 0) {
          missing.set(deliverable, [...(missing.get(deliverable) ?? []), item]);
          continue;
        }
        const data = { deliverable: deliverable.name, item: name };
        const texts = { seen: secondsText(seenS), least: secondsText(limits.least) };
        report({ message: 'brief', data: { ...data, ...texts }, at: item, severity: 'warning' });
      }
    }
    for (const [deliverable, items] of missing) {
      const data = {
        deliverable: deliverable.name,
        item: listText(items.map(({ value }) => quoted(value))),
        it: items.length > 1 ? 'them' : 'it',
        where: where(film, items, deliverable),
      };
      report({
        message: 'missing',
        data,
        at: items[0]!,
        severity: isChosen(deliverable, items, film) ? 'info' : undefined,
        fixes: () => without(deliverable, items, film),
      });
    }
  },
});

/** Does a shot have a subject that is defined nowhere and is likely this? */
function isSubjectMeant(item: string, { shots, product }: Film): boolean {
  const strays = [...shots.values()]
    .map(({ subject }) => subject.name)
    .filter((name) => name !== 'product' && !product.parts.has(name));
  return strays.some((name) => nearest(name, [item]) !== undefined);
}

/** The deliverables that show it too briefly or not at all; none where there is no cut yet. */
function tooBrief(film: Film, item: string, leastS: number): { deliverable: Deliverable; seenS: number }[] {
  if (film.cut.length === 0 || film.cutS === undefined) return [];
  return [...film.deliverables.values()]
    .filter((one) => wants(one, item))
    .map((one) => ({ deliverable: one, seenS: seen(film, one, item) }))
    .filter(({ seenS }) => seenS < leastS - aTenthS);
}

/** Two beats of quick music or 24 frames are a second too. */
const aTenthS = 0.1;

function seen(film: Film, deliverable: Deliverable, item: string): number {
  return piecesThat(deliverable, item).reduce((sum, piece) => sum + shownOfPieceS(piece, deliverable, film), 0);
}

/** Where the shots that tick off a part look past it; undefined where some deliverable's can't be told, or none does. */
function outsideIn(film: Film, item: string, least: number) {
  const part = film.product.parts.get(item);
  const heights = part && heightsOf(part, film.product);
  if (!heights) return undefined;
  const found = [...film.deliverables.values()].flatMap((deliverable) => {
    const seen = wants(deliverable, item)
      ? partSeenAtBest(part, showingsThat(film, deliverable, item), film)
      : undefined;
    return seen && !seen.isMiddleSeen && seen.share < least && seen.outside > byHand ? [{ deliverable, seen }] : [];
  });
  if (found.length === 0) return undefined;
  const worst = found.reduce((a, b) => (b.seen.share < a.seen.share ? b : a)).seen;
  const names = new Set(
    found.flatMap(({ deliverable }) => piecesThat(deliverable, item).map(({ shot }) => shot!.name)),
  );
  const { from, to } = worst.picture;
  const data = {
    deliverables: listText(found.map(({ deliverable }) => deliverable.name)),
    item: quoted(item),
    shots: listText([...names].map(quoted)),
    show: names.size > 1 ? 'show' : 'shows',
    share: percentText(worst.share),
    low: lengthText(heights.from),
    high: lengthText(heights.to),
    best: quoted(worst.shot.name),
    from: lengthText(from),
    to: lengthText(to),
  };
  return { data, excess: 1 - worst.share };
}

/** From here on nothing is seen of a face. */
const awayDeg = 75;

/** Where no shot that ticks off a part sees its face; a note where somebody holds the product, who may turn it. Of letters `label-too-small-to-read` says it. */
function turnedAway(film: Film, item: string) {
  const part = film.product.parts.get(item);
  if (!part?.faces || part.letters) return undefined;
  const found = [...film.deliverables.values()].flatMap((deliverable) => {
    const showings = wants(deliverable, item) ? showingsThat(film, deliverable, item) : [];
    const seen = faceSeenAtBest(part, showings, film);
    return seen && seen.asideDeg >= awayDeg ? [{ deliverable, seen, showings }] : [];
  });
  if (found.length === 0) return undefined;
  const { seen } = found.reduce((a, b) => (b.seen.asideDeg > a.seen.asideDeg ? b : a));
  const shots = new Set(found.flatMap(({ showings }) => showings.map(({ shot }) => shot)));
  const data = {
    deliverables: listText(found.map(({ deliverable }) => deliverable.name)),
    item: quoted(item),
    faces: facing[part.faces],
    shots: listText([...shots].map(({ name }) => quoted(name))),
    show: shots.size > 1 ? 'show' : 'shows',
    angle: angleText(seen.asideDeg, 0),
    best: seen.shot.name,
  };
  const isHeld = [...shots].some(({ people }) => people.length > 0);
  return { data, severity: isHeld ? ('info' as const) : ('warning' as const), excess: seen.asideDeg / awayDeg };
}

const facing = {
  front: 'the front',
  back: 'the back',
  left: 'the left',
  right: 'the right',
  up: 'up',
} as const;

/** Of the picture's height: less than this is put right by whoever looks through the camera. */
const byHand = 0.05;

/** None where one looks at the part itself: what is cut off of a subject is said of that. */
function showingsThat(film: Film, deliverable: Deliverable, item: string): Showing[] {
  const pieces = piecesThat(deliverable, item);
  if (pieces.some(({ shot }) => shot!.subject.name === item)) return [];
  return pieces.flatMap((piece) =>
    showingsOfPiece(piece, film).filter((one) => one.deliverables.includes(deliverable)),
  );
}

function piecesThat({ pieces }: Deliverable, item: string): Piece[] {
  return pieces.filter(({ shot }) => shot && shownIn(shot).some(({ value }) => value === item));
}

function wants({ needNotShow }: Deliverable, item: string): boolean {
  return !needNotShow.some(({ value }) => value === item);
}

/** The shots that have it, and whether the cut uses them elsewhere. */
function where(film: Film, items: readonly Val<string>[], deliverable: Deliverable): string {
  const shots = [...film.shots.values()].filter((shot) =>
    shownIn(shot).some((val) => items.some(({ value }) => value === val.value)),
  );
  const cut = shots.filter((shot) => shot.pieces.length > 0);
  const names = (cut.length > 0 ? cut : shots).map((shot) => quoted(shot.name));
  const list = listText(names.slice(0, 4), 'or');
  if (cut.length === 0) return `Put a second of ${list} into the cut.`;
  const it = items.length > 1 ? 'them' : 'it';
  return deliverable.section
    ? `Its section leaves out ${list}: if it need not show ${it}, say so.`
    : `It leaves out ${list}.`;
}

/** Who chose a stretch of a film that shows it knows what is left out: a note. */
function isChosen({ section }: Deliverable, items: readonly Val<string>[], { cut }: Film): boolean {
  const isInCut = (name: string) => cut.some(({ shot }) => shot && shownIn(shot).some(({ value }) => value === name));
  return section !== undefined && items.every(({ value }) => isInCut(value));
}

/** Says that a short one need not show it. */
function without(deliverable: Deliverable, items: readonly Val<string>[], film: Film): FixIdea[] {
  if (!isChosen(deliverable, items, film)) return [];
  const names = [...deliverable.needNotShow, ...items].map(({ value }) => value);
  const text = names.length > 1 ? `[${names.join(', ')}]` : names[0]!;
  return [
    set(`Say that ${quoted(deliverable.name)} need not show ${listText(items.map(({ value }) => quoted(value)))}`, [
      deliverable,
      'need-not-show',
      text,
    ]),
  ];
}

/** Says it of one of the shots that are seen longest: which of them does, only the user knows. */
function showIn(item: string, film: Film): FixIdea[] {
  const lengthS = ({ pieces }: Shot) => pieces.reduce((sum, piece) => sum + (piece.lengthS ?? 0), 0);
  const shots = [...film.shots.values()].filter((shot) => lengthS(shot) >= 1).sort((a, b) => lengthS(b) - lengthS(a));
  return shots.slice(0, 3).map((shot) => {
    // The subject counts as shown without being named.
    const named = shot.shows.map(({ value }) => value).filter((name) => name !== shot.subject.name);
    const names = [...named, item];
    return set(`Show ${quoted(item)} in ${quoted(shot.name)}`, [
      shot,
      'shows',
      names.length > 1 ? `[${names.join(', ')}]` : item,
    ]);
  });
}

function rename({ start, end }: Val<string>, name: string): FixIdea[] {
  return [{ title: `Write \`${name}\``, edits: [{ start, end, text: name }] }];
}
