import { looksAtSomebody } from '../../core/derived/people.ts';
import { isBox, subjectCorners } from '../../core/derived/outline.ts';
import { type Showing, showingsOf } from '../../core/derived/showings.ts';
import { cameraMoves, turningRpm } from '../../core/derived/time.ts';
import type { Film, Shot } from '../../core/film.ts';
import { type Cause, defineRule } from '../../core/rule.ts';
import { lengthPair, lengthText, listText, percentText, quoted } from '../../core/say.ts';
import { farther, fixes, lessSlide, sayGoesAlong } from './crop-fixes.ts';
import { deliverablesText, pieceText, subjectText } from './framing-text.ts';
import {
  beyondEdge,
  isCutByShape,
  isPart,
  type Over,
  spanOf,
  withZoom,
  worst,
  worstOf,
  worstOwn,
} from './past-crop.ts';
import type { Share } from '../../core/units.ts';

export default defineRule({
  id: 'product-outside-crop',
  family: 'framing',
  summary: 'The subject, as it stands or turns, reaches past the edge of a deliverable.',
  severity: 'warning',
  sources: ['perspective of a box', 'common practice, no source (5 % spare survives a hand-set table)'],
  limits: {
    spare: {
      quantity: 'share',
      default: '2.5 %',
      meaning: 'How much of the picture a fix leaves free at each edge, as a share of its width or height.',
    },
    least: {
      quantity: 'share',
      default: '1.5 %',
      meaning: 'Nearer to an edge than this is told.',
    },
    part: {
      quantity: 'share',
      default: '5 %',
      meaning: 'How much of the picture a part may reach past its edge: what lies beside a part is the product.',
    },
    people: {
      quantity: 'share',
      default: '15 %',
      meaning: 'The same of somebody, or of hands: their box is a guess, and arms leave every picture.',
    },
  },
  messages: {
    cut: '{shot}: in {deliverables}, {subject} is cut off at the {sides}, by {by}: it takes {takes} {across}, and the picture shows {shows} there. {mend}.',
    round:
      '{shot}: {subject} reaches past the camera, which stands {distance} from its middle: no picture shows it whole. Go farther back, or check its size.',
    slid: '{shot}: in {deliverables}, {subject} is cut off {ends} of the slide, by up to {by}: it takes {takes} across, and the picture shows {shows} there. Slide less, or go farther back.',
    aside:
      '{shot}: in {deliverables}, {subject} is cut off at the {sides}, by {by}, with {room} free on the other side. {way}.',
    tight:
      '{shot}: in {deliverables}, {subject} comes within {gap} of the {sides} edge; {spare} keeps a hand-set product in the picture.',
  },
  shot(shot, { film, limits, report }) {
    const told = worstOfEachPiece(shot, film, limits).filter(
      ({ where, over }) =>
        !isLoose(shot, film) &&
        !isHair(shot, film, over, limits) &&
        !isFramed(where, over) &&
        !isOfCorner(where, film, over, limits.least) &&
        !isTraverse(shot, film, where, over),
    );
    for (const { where, over } of told) {
      // What several pieces show of the shot in one deliverable is one fault: what mends it mends them all.
      const worstOfAll = told.find((one) => deliverablesText(one.where) === deliverablesText(where))!;
      const { zoomAt } = where.piece ?? {};
      const unzoomed = zoomAt && withZoom(where, 1);
      const zoomedOut = unzoomed && worst(unzoomed, film, limits.spare).past <= 1e-9;
      const side = over.side;
      const level = side === 'left' || side === 'right';
      const common = {
        at: zoomedOut ? zoomAt : (shot.camera.distance ?? shot),
        explainedBy: ['tight-framing'] as const,
        excess: over.past / spanOf(over),
        ...((isSlight(where, over, film, limits) || isMuchByShape(shot, film, where, over)) && {
          severity: 'info' as const,
        }),
        cause: causeOf(shot, film, worstOfAll.where, worstOfAll.over),
        fixes: () => fixes(shot, film, where, limits.spare),
      };
      const data = {
        shot: nameOf(where),
        deliverables: deliverablesText(where),
        subject: cutText(shot, over),
        sides: listText(over.sides),
      };
      const distance = over.view!.lens!.distanceMm;
      const [low, high] = level ? (['left', 'right'] as const) : (['bottom', 'top'] as const);
      const kind = kindOf(shot, film, where, over);
      if (kind === 'round') {
        const { shot: name, subject } = data;
        report({ message: 'round', data: { shot: name, subject, distance: lengthText(distance) }, ...common });
      } else if (kind === 'slid') {
        const [takes, shows] = lengthPair(
          (over.outline.right - over.outline.left) * distance,
          (over.edges.right - over.edges.left) * distance,
        );
        const { shot: name, deliverables, subject } = data;
        const ends = over.sides.length > 1 ? 'at both ends' : 'at one end';
        report({
          message: 'slid',
          data: { shot: name, deliverables, subject, ends, by: lengthText(over.beyond * distance), takes, shows },
          ...common,
          at: shot.camera.slide!,
          cause: shot.camera.slide,
          fixes: () => [
            ...lessSlide(shot, film, limits.spare),
            ...farther(shot, film, where, limits.spare),
            ...sayGoesAlong(shot, subject),
          ],
        });
      } else if (kind === 'aside') {
        const by = lengthText(over.beyond * distance);
        const room = lengthText(roomOpposite(over) * distance);
        report({ message: 'aside', data: { ...data, by, room, way: asideWay(over) }, ...common });
      } else if (kind === 'cut') {
        const [takes, shows] = lengthPair(
          (over.outline[high] - over.outline[low]) * distance,
          (over.edges[high] - over.edges[low]) * distance,
        );
        report({
          message: 'cut',
          data: {
            ...data,
            by: lengthText(over.beyond * distance),
            takes,
            across: level ? 'across' : 'in height',
            shows,
            mend: mendText(shot, film, where),
          },
          ...common,
        });
      } else {
        const gap = -over.beyond / spanOf(over);
        report({
          message: 'tight',
          data: { ...data, gap: percentText(gap, 1), spare: percentText(limits.spare, 1) },
          severity: 'info',
          ...common,
        });
      }
    }
  },
});

function cutText(shot: Shot, { part }: Over): string {
  return part === undefined ? subjectText(shot) : quoted(part);
}

/** A part that is hardly cut off, and what is never sharp: how far steam or water reaches is a guess. */
function isSlight(where: Showing, over: Over, film: Film, { part, spare }: Record<'part' | 'spare', number>): boolean {
  const { shot } = where;
  const isOfPart = isPart(shot) || (over.part !== undefined && worstOwn(where, film, spare).beyond <= 1e-9);
  return shot.sharp === 'none' || (isOfPart && over.beyond / spanOf(over) <= part);
}

/** Of what a tall picture cuts off at both sides this much is seen at once, and mostly meant (common practice, no source). */
const much: Share = 0.25;

function isMuchByShape(shot: Shot, film: Film, where: Showing, { sides: cut, beyond, outline }: Over): boolean {
  const isBoth = cut.includes('left') && cut.includes('right');
  return isBoth && beyond > (much / 2) * (outline.right - outline.left) && isCutByShape(shot, film, where);
}

/** Which of the messages says it best. */
function kindOf(shot: Shot, film: Film, where: Showing, over: Over): 'round' | 'slid' | 'aside' | 'cut' | 'tight' {
  if (over.beyond === Infinity) return 'round';
  if (isCutAtBothEnds(shot, film, where)) return 'slid';
  if (over.beyond <= 1e-9) return 'tight';
  if (over.sides.length === 1 && roomOpposite(over) > over.beyond) return 'aside';
  return slidesPast(shot, over) ? 'slid' : 'cut';
}

/** A plan moves its pictures to the side alone: up and down they follow what is looked at. */
function asideWay({ side }: Over): string {
  if (side === 'left' || side === 'right') return 'Move the picture over';
  return `Aim ${side === 'top' ? 'higher' : 'lower'}, at a part that is there, or go farther back`;
}

/** What is free at the other edge, in tangents. */
function roomOpposite({ side, outline, edges }: Over): number {
  const opposite = { left: 'right', right: 'left', bottom: 'top', top: 'bottom' } as const;
  return -beyondEdge(outline, edges, opposite[side]);
}

function mendText(shot: Shot, film: Film, where: Showing): string {
  if (!isCutByShape(shot, film, where)) return 'Go farther back, or zoom less';
  return 'Go farther back and zoom in for the others, or choose with `shift-by` what it shows';
}

/** Too little to be told, though a fix leaves more. */
function isHair(shot: Shot, film: Film, over: Over, allowed: Record<'least' | 'part' | 'people', number>): boolean {
  const { least, part, people } = allowed;
  const share = over.beyond / spanOf(over);
  if (looksAtSomebody(shot, film)) return share <= people;
  const hair = stands(shot) ? part : isSlid(shot) ? least : 0;
  if (share > 0 && share <= hair && fitsAside(over)) return true;
  const isAmidst = hasProductBeside(shot, film, over) && (!mustBeSeen(shot, film) || isSlid(shot));
  return isAmidst ? share <= part : share <= -least;
}

/** What lies beside a part is the product, but where the part is as wide, or as high, as that. */
function hasProductBeside(shot: Shot, { product }: Film, { side }: Over): boolean {
  const [box, whole] = [shot.subject.box, product.size?.value];
  if (!isPart(shot) || !box || !whole) return isPart(shot);
  const level = side === 'left' || side === 'right';
  return level ? box.widthMm < asWide * whole.widthMm : box.heightMm < asWide * whole.heightMm;
}

const asWide = 0.8;

/** Of what need not be seen whole: dust, steam or a glow, of which nothing is sharp, and cloth. */
function isLoose(shot: Shot, film: Film): boolean {
  return (shot.sharp === 'none' && !mustBeSeen(shot, film)) || isCloth(shot, film);
}

/** Of a cloth any piece shows what it is, but where it must be seen. */
function isCloth(shot: Shot, film: Film): boolean {
  return !!film.product.parts.get(shot.subject.name)?.weave && !mustBeSeen(shot, film);
}

function mustBeSeen({ subject }: Shot, { brief }: Film): boolean {
  return !!brief?.mustShow.some(({ value }) => value === subject.name);
}

/** Only a corner of its box comes so near, and nobody said that it is a box: a shoe ends in its middle, where it is farther off. */
function isOfCorner(where: Showing, film: Film, { beyond, part }: Over, least: number): boolean {
  if (beyond > 1e-9 || part !== undefined || isPart(where.shot) || isBox(where.shot, film)) return false;
  return worstOf(where, where.shot, film, least, inscribed).past <= 1e-9;
}

function inscribed(shot: Shot, film: Film, turnDeg: number) {
  return subjectCorners(shot, film, turnDeg, 'upright');
}

/** Whoever sets the zoom for one deliverable has looked at its edges: what fits there is known to be tight. */
function isFramed({ piece, deliverables }: Showing, { beyond }: Over): boolean {
  return beyond <= 1e-9 && deliverables.every(({ name }) => piece?.zoomBy.has(name));
}

/** It fits, and lies a little to one side: whoever looks through the camera frames it. */
function fitsAside({ side, outline, edges }: Over): boolean {
  const [low, high] = side === 'left' || side === 'right' ? (['left', 'right'] as const) : (['bottom', 'top'] as const);
  return outline[high] - outline[low] < edges[high] - edges[low];
}

function stands(shot: Shot): boolean {
  return !cameraMoves(shot) && turningRpm(shot) === 0;
}

function isSlid({ camera: { slide } }: Shot): boolean {
  return slide !== undefined && slide.value.from !== slide.value.to;
}

function isPanned({ piece }: Showing): boolean {
  return piece !== undefined && piece.shift.from !== piece.shift.to;
}

/** It would fit, if the camera did not slide away from it. */
function slidesPast(shot: Shot, over: Over): boolean {
  return isSlid(shot) && (over.side === 'left' || over.side === 'right') && fitsAside(over);
}

/**
 * A slide or a pan in the edit along something wider than the picture shows it part by part, and a slide past a part lets
 * it go or come. What itself goes before a camera that stands comes in and leaves.
 */
function isTraverse(shot: Shot, film: Film, where: Showing, { side, edges, outline }: Over): boolean {
  if ((!isSlid(shot) && !isPanned(where)) || (side !== 'left' && side !== 'right')) return false;
  if (shot.action?.moves === 'subject') return true;
  const taken = (outline.right - outline.left) / (edges.right - edges.left);
  const isWider = taken > 1;
  const hasRoom = taken < roomy;
  return (
    isWider ||
    (isSlid(shot) && hasRoom && isPart(shot) && isWholeOnce(where, film) && !isCutAtBothEnds(shot, film, where))
  );
}

/** Of a part that is cut off on purpose no more than so much goes. */
const missed = 0.25;

/** Of what must be seen a slide shows the whole for a moment, and cuts much of it off before and after. */
function isCutAtBothEnds(shot: Shot, film: Film, where: Showing): boolean {
  if (!isSlid(shot) || !isPart(shot) || !mustBeSeen(shot, film)) return false;
  const { sides: cut, beyond, outline, edges } = worst(where, film, 0);
  const width = outline.right - outline.left;
  const isNarrower = width < edges.right - edges.left;
  return isNarrower && beyond > missed * width && cut.includes('left') && cut.includes('right');
}

/** Of the picture's width: who leaves a fifth free beside a part and slides lets it go. */
const roomy = 0.8;

/** Is all of it in the picture at some moment? */
function isWholeOnce({ views, ...rest }: Showing, film: Film): boolean {
  return views.some((view) => worst({ ...rest, views: [view] }, film, 0).beyond <= 1e-9);
}

/**
 * Where another deliverable holds the subject, the shape of this one cuts it, in all shots where it does; else the camera
 * stands too near.
 */
function causeOf(shot: Shot, film: Film, where: Showing, over: Over): Cause | undefined {
  const kind = kindOf(shot, film, where, over);
  // What the picture moved over would mend, and what is too wide for it, are two faults.
  const as = kind === 'tight' || kind === 'aside' ? kind : 'cut';
  const at = (isCutByShape(shot, film, where) ? where.deliverables[0].raster : undefined) ?? shot.camera.distance;
  return at && { start: at.start, end: at.end, file: at.file, as };
}

function worstOfEachPiece(shot: Shot, film: Film, { spare, least }: Spare): { where: Showing; over: Over }[] {
  const byPiece = new Map<unknown, { where: Showing; over: Over }>();
  for (const where of showingsOf(shot, film)) {
    const all = worst(where, film, spare);
    const over = all.part !== undefined && all.beyond / spanOf(all) <= least ? worstOwn(where, film, spare) : all;
    const known = byPiece.get(where.piece);
    if (over.past > 1e-9 && over.past > (known?.over.past ?? 0)) byPiece.set(where.piece, { where, over });
  }
  return [...byPiece.values()].sort((a, b) => b.over.past - a.over.past);
}

interface Spare {
  readonly spare: number;
  readonly least: number;
}

/** A shot, with its piece where the cut has several. */
function nameOf({ shot, piece }: Showing): string {
  return piece && shot.pieces.length > 1 ? `${shot.name}, ${pieceText(piece)}` : shot.name;
}
