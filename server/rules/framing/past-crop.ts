/** How far a subject, as it stands or turns, reaches past the edges of what a deliverable shows. */
import type { EdgeTangents } from '../../calc/framing.ts';
import { leastCorners, outlineOf } from '../../core/derived/outline.ts';
import { looksOf, type Showing, showingsOf } from '../../core/derived/showings.ts';
import type { View } from '../../core/derived/framing.ts';
import type { Film, Part, Shot, Val } from '../../core/film.ts';
import { onceIn } from '../../core/memo.ts';

const sides = ['left', 'right', 'bottom', 'top'] as const;
type Side = (typeof sides)[number];

/** Where a subject reaches farthest past a picture's edge, or past what must stay free at it. */
export interface Over {
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
export function spanOf({ side, edges }: Over): number {
  return side === 'left' || side === 'right' ? edges.right - edges.left : edges.top - edges.bottom;
}

/** Does another deliverable hold the subject in the same piece? */
export function isCutByShape(shot: Shot, film: Film, where: Showing): boolean {
  const others = showingsOf(shot, film).filter((one) => one.piece === where.piece && one !== where);
  return others.some((one) => worst(one, film, 0).past <= 1e-9);
}

/** Of a subject without a size. */
const none = { left: 0, right: 0, bottom: 0, top: 0 };
const nothing: Over = { past: -Infinity, beyond: -Infinity, side: 'left', sides: [], edges: none, outline: none };

/** Of the subject, or of a part that must be seen, is shown and is wider than the product, so that wherever it sits it stands out. */
export function worst(where: Showing, film: Film, spare: number): Over {
  return widerParts(where.shot, film).reduce<Over>(
    (most, part) => {
      const over = { ...worstOf(where, partShot(where.shot, part), film, 0), part: part.name };
      const isAside = over.side === 'left' || over.side === 'right';
      return isAside && over.beyond > Math.max(most.beyond, 1e-9) ? over : most;
    },
    worstOwn(where, film, spare),
  );
}

export function worstOwn(where: Showing, film: Film, spare: number): Over {
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
export function worstOf(where: Showing, of: Shot, film: Film, spare: number, cornersOf = leastCorners): Over {
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

export function beyondEdge(outline: EdgeTangents, edges: EdgeTangents, side: Side): number {
  return side === 'left' || side === 'bottom' ? edges[side] - outline[side] : outline[side] - edges[side];
}

/** The same showing with the piece's zoom held at most there; undefined without a piece. */
export function withZoom({ shot, piece, ...rest }: Showing, most: number): Showing | undefined {
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

export function isPart({ subject }: Shot): boolean {
  return subject.name !== 'product';
}
