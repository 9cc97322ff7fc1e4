import type { EdgeTangents } from '../../calc/framing.ts';
import { looksAtSomebody } from '../../core/derived/people.ts';
import { isBox, leastCorners, outlineOf, subjectCorners } from '../../core/derived/outline.ts';
import { looksOf, type Showing, showingsOf, tryShot } from '../../core/derived/showings.ts';
import type { View } from '../../core/derived/framing.ts';
import { sideways, wayOf } from '../../core/derived/sight.ts';
import { cameraMoves, turningRpm } from '../../core/derived/time.ts';
import type { Film, Part, Shot, Val } from '../../core/film.ts';
import { onceIn } from '../../core/memo.ts';
import { type Cause, defineRule, type FixIdea, set } from '../../core/rule.ts';
import { lengthPair, lengthText, listText, num, percentText, quoted } from '../../core/say.ts';
import {
  byDeliverable,
  deliverablesText,
  floor2,
  pieceText,
  subjectText,
  zoomText,
  zoomTitle,
} from './framing-text.ts';
import { distanceChange, fartherCm } from '../optics/distance-change.ts';
import type { Share } from '../../core/units.ts';

const sides = ['left', 'right', 'bottom', 'top'] as const;
type Side = (typeof sides)[number];

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

/** Where a subject reaches farthest past a picture's edge, or past what must stay free at it. */
interface Over {
  /** Past the free margin, in tangents; 0 or less fits. */
  readonly past: number;
  /** Past the edge itself. */
  readonly beyond: number;
  readonly side: Side;
  /** Those that are reached past; where none is, those that it comes too near to. */
  readonly sides: readonly Side[];
  readonly view?: View;
  readonly edges: EdgeTangents;
  readonly outline: EdgeTangents;
  /** What reaches past where it is no subject, but a part that the shot shows. */
  readonly part?: string;
}

/** How wide, or high, the picture is where it is reached past. */
function spanOf({ side, edges }: Over): number {
  return side === 'left' || side === 'right' ? edges.right - edges.left : edges.top - edges.bottom;
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

function isPart({ subject }: Shot): boolean {
  return subject.name !== 'product';
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

/** Does another deliverable hold the subject in the same piece? */
function isCutByShape(shot: Shot, film: Film, where: Showing): boolean {
  const others = showingsOf(shot, film).filter((one) => one.piece === where.piece && one !== where);
  return others.some((one) => worst(one, film, 0).past <= 1e-9);
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

/** Of a subject without a size. */
const none = { left: 0, right: 0, bottom: 0, top: 0 };
const nothing: Over = { past: -Infinity, beyond: -Infinity, side: 'left', sides: [], edges: none, outline: none };

/** Of the subject, or of a part that must be seen, is shown and is wider than the product, so that wherever it sits it stands out. */
function worst(where: Showing, film: Film, spare: number): Over {
  return widerParts(where.shot, film).reduce<Over>(
    (most, part) => {
      const over = { ...worstOf(where, partShot(where.shot, part), film, 0), part: part.name };
      const isAside = over.side === 'left' || over.side === 'right';
      return isAside && over.beyond > Math.max(most.beyond, 1e-9) ? over : most;
    },
    worstOwn(where, film, spare),
  );
}

function worstOwn(where: Showing, film: Film, spare: number): Over {
  return worstOf(where, where.shot, film, spare);
}

const widerParts = onceIn((shot: Shot, { product, brief }: Film): Part[] => {
  if (isPart(shot) || !product.size) return [];
  const isIn = (names: readonly Val<string>[] | undefined, name: string) => names?.some(({ value }) => value === name);
  return [...product.parts.values()].filter(
    ({ name, size }) =>
      size &&
      size.value.widthMm > product.size!.value.widthMm &&
      isIn(shot.shows, name) &&
      isIn(brief?.mustShow, name) &&
      !isIn(shot.people, name),
  );
});

/** The part in the place of the subject, in the middle of the product. */
function partShot(shot: Shot, { name, size, heightMm, faces }: Part): Shot {
  const { subject } = shot;
  return { ...shot, subject: { ...subject, name, box: size?.value, heightMm: heightMm ?? subject.heightMm, faces } };
}

/** @param of the shot with what is looked for as its subject */
function worstOf(where: Showing, of: Shot, film: Film, spare: number, cornersOf = leastCorners): Over {
  let most: Over = nothing;
  const [touched, crossed] = [new Set<Side>(), new Set<Side>()];
  for (const { view, pose, turn } of looksOf([where])) {
    const { edges } = view;
    const points = cornersOf(of, film, turn);
    if (!edges || !points) continue;
    const outline = outlineOf(pose, points);
    for (const side of sides) {
      const beyond = beyondEdge(outline, edges, side);
      const level = side === 'left' || side === 'right';
      const past = beyond + spare * (level ? edges.right - edges.left : edges.top - edges.bottom);
      if (past > 1e-9) touched.add(side);
      if (beyond > 1e-9) crossed.add(side);
      if (past > most.past) most = { past, beyond, side, sides: [], view, edges, outline };
    }
  }
  const reached = crossed.size > 0 ? crossed : touched;
  return { ...most, sides: sides.filter((side) => reached.has(side)) };
}

function beyondEdge(outline: EdgeTangents, edges: EdgeTangents, side: Side): number {
  return side === 'left' || side === 'bottom' ? edges[side] - outline[side] : outline[side] - edges[side];
}

/** The same showing with the piece's zoom held at most there; undefined without a piece. */
function withZoom({ shot, piece, ...rest }: Showing, most: number): Showing | undefined {
  if (!piece) return undefined;
  const views = rest.views.map((view) => {
    const larger = Math.max(1, view.zoom / most);
    const { edges } = view;
    const middle = edges && (edges.left + edges.right) / 2;
    return {
      ...view,
      edges: edges && {
        left: middle! + (edges.left - middle!) * larger,
        right: middle! + (edges.right - middle!) * larger,
        bottom: edges.bottom * larger,
        top: edges.top * larger,
      },
    };
  });
  return { shot, piece, ...rest, views: views as unknown as Showing['views'] };
}

function fixes(shot: Shot, film: Film, where: Showing, spare: number): FixIdea[] {
  const choices = [lessZoom(where, film, spare), moved(where, film, spare)];
  return [...choices.filter((fix) => fix !== undefined), ...farther(shot, film, where, spare)];
}

/** What runs or is carried may go beside the camera: the plan says so, not the numbers. */
function sayGoesAlong({ action }: Shot, subject: string): FixIdea[] {
  if (!action?.what || action.fields.said('moves')) return [];
  return [set(`Say that ${subject} goes beside the camera, at its pace`, [action, 'moves', 'both'])];
}

/** The same slide, so much shorter that all is in the picture from its start to its end. */
function lessSlide(shot: Shot, film: Film, spare: number): FixIdea[] {
  const { slide } = shot.camera;
  for (let share = 0.9; slide && share > 0.05; share -= 0.1) {
    const value = { from: slide.value.from * share, to: slide.value.to * share };
    const tried = tryShot(shot, { camera: { slide: { ...slide, value } } });
    if (showingsOf(tried, film).some((where) => worst(where, film, spare).past > 0)) continue;
    const text = `${lengthText(value.from)} to ${lengthText(value.to)}`;
    return [
      set(`Set slide to ${quoted(text)} (all of ${subjectText(shot)} stays in the picture)`, [
        shot.camera,
        'slide',
        text,
      ]),
    ];
  }
  return [];
}

/** Moves the picture of these deliverables so that the subject lies in the middle, where that is enough. */
function moved(where: Showing, film: Film, spare: number): FixIdea | undefined {
  const { piece, deliverables, views } = where;
  const { outline, edges, side } = worst(where, film, spare);
  if (!piece || (side !== 'left' && side !== 'right')) return undefined;
  const width = edges.right - edges.left;
  const sign = sideways(wayOf(where.shot, piece));
  const share = sign * Math.round((50 * (edges.left + edges.right - outline.left - outline.right)) / width);
  const slid = views.map((view) => ({ ...view, edges: view.edges && slide(view.edges, (-sign * share) / 100) }));
  if (share === 0 || worst({ ...where, views: slid as unknown as Showing['views'] }, film, spare).past > 0)
    return undefined;
  const changes = deliverables.map((one) => {
    const total = Math.round((piece.shiftBy.get(one.name)?.value ?? 0) * 100) + share;
    return [byDeliverable(piece, 'shift-by'), one.name, `${total} %`] as const;
  });
  const way = share > 0 ? 'right' : 'left';
  return set(`Move the picture ${Math.abs(share)} % to the ${way} in ${deliverablesText(where)}`, ...changes);
}

function slide(edges: EdgeTangents, share: number): EdgeTangents {
  const by = (edges.right - edges.left) * share;
  return { ...edges, left: edges.left + by, right: edges.right + by };
}

/** A smaller zoom of this piece, where it has one to give. */
function lessZoom(where: Showing, film: Film, spare: number): FixIdea | undefined {
  const { piece } = where;
  if (!piece?.zoomAt) return undefined;
  const top = Math.max(piece.zoom.from, piece.zoom.to);
  // Nobody zooms in 20 times, so nothing beyond is tried.
  for (let most = floor2(Math.min(top, 20) - 0.01); most >= 1; most = floor2(most - 0.01)) {
    const factor = piece.zoomBy.get(where.deliverables[0].name)?.value ?? 1;
    if (worst(withZoom(where, most * factor)!, film, spare).past > 0) continue;
    const text = zoomText({ from: Math.min(piece.zoom.from, most), to: Math.min(piece.zoom.to, most) });
    const which = where.shot.pieces.length > 1 ? ` of ${pieceText(piece)}` : '';
    return set(`Set zoom${which} to ${zoomTitle(text)} (all of ${subjectText(where.shot)} is in the picture)`, [
      piece,
      'zoom',
      text,
    ]);
  }
  return undefined;
}

/** From here on it would be too small elsewhere, where a shape of its own cuts it in one deliverable. */
const tooSmall = 1.3;

function farther(shot: Shot, film: Film, where: Showing, spare: number): FixIdea[] {
  const cm = holdingCm(shot, film, spare);
  if (cm === undefined) return [];
  const times = (cm * 10) / shot.camera.distance!.value.from;
  const change = distanceChange(shot, cm * 10, `${cm} cm`);
  const title = `Set distance to ${cm} cm (it fits with ${percentText(spare, 1)} to spare, ${num(times, 2)} times smaller)`;
  const plain = set(title, ...change);
  if (!isCutByShape(shot, film, where)) return [plain];
  const cut = showingsOf(shot, film).filter((one) => worst(one, film, spare).past > 1e-9);
  const zooms = shot.pieces.flatMap((piece) => {
    const names = cut.flatMap((one) => (one.piece === piece ? one.deliverables.map(({ name }) => name) : []));
    const zoom = { from: floor2(piece.zoom.from * times), to: floor2(piece.zoom.to * times) };
    // So that the picture still fills it.
    const by = (name: string) =>
      (Math.ceil(((piece.zoomBy.get(name)?.value ?? 1) * piece.zoom.from * 1000) / zoom.from - 1e-6) / 1000).toString();
    return [
      [piece, 'zoom', zoomText(zoom)] as const,
      ...names.map((name) => [byDeliverable(piece, 'zoom-by'), name, by(name)] as const),
    ];
  });
  const both = `Set distance to ${cm} cm and zoom in again, but in ${deliverablesText(where)} (it fits there, the others stay as they are)`;
  return [set(both, ...change, ...zooms), ...(times > tooSmall ? [] : [plain])];
}

/** The nearest whole centimetre farther back from which every deliverable holds the subject. */
function holdingCm(shot: Shot, film: Film, spare: number): number | undefined {
  const isHeld = (tried: Shot) => showingsOf(tried, film).every((where) => worst(where, film, spare).past <= 0);
  return fartherCm(shot, (nowCm) => Math.floor(nowCm) + 1 + 3 * nowCm, isHeld);
}
