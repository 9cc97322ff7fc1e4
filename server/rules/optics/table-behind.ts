/** The table that a small board lies on, where the picture shows it between the board's back edge and the backdrop. */
import { type CameraPose, fromCamera, type Vec3 } from '../../calc/geometry.ts';
import { hungBackdrop } from '../../core/derived/past-backdrop.ts';
import { poseInSet } from '../../core/derived/optics.ts';
import { type Showing, showingsOf } from '../../core/derived/showings.ts';
import { surfaceOutline } from '../../core/derived/surface-outline.ts';
import type { Deliverable, Film, Shot } from '../../core/film.ts';
import type { Mm, Share } from '../../core/units.ts';

export interface TableBehind {
  /** Of the picture's height, the most of all moments. */
  readonly share: Share;
  readonly backMm: Mm;
  readonly deliverables: readonly Deliverable[];
}

/** Undefined where the board lies on no table, and where the backdrop ends above that: what is seen below it is told already. */
export function tableBehind(shot: Shot, film: Film, least: Share): TableBehind | undefined {
  const outline = surfaceOutline(shot);
  const hung = hungBackdrop(shot, film);
  const lowMm = -(shot.surface?.aboveTableMm ?? 0);
  if (!outline || !hung || shot.backdrop?.sweeps || lowMm === 0 || hung.bottomMm > lowMm) return undefined;
  if (outline.backMm >= hung.behindMm) return undefined;
  const [edge, foot] = [
    { x: 0, y: 0, z: outline.backMm },
    { x: 0, y: lowMm, z: hung.behindMm },
  ];
  const seen = showingsOf(shot, film)
    .map((showing) => ({ showing, share: shareBetween(showing, edge, foot) }))
    .filter(({ share }) => share >= least);
  if (seen.length === 0) return undefined;
  return {
    share: Math.max(...seen.map(({ share }) => share)),
    backMm: outline.backMm,
    deliverables: seen.flatMap(({ showing }) => showing.deliverables),
  };
}

/** How much of the picture's height lies between two places behind the product, the lower first. */
function shareBetween({ shot, views }: Showing, low: Vec3, high: Vec3): Share {
  const shares = views.map(({ edges, actionMoment }) => {
    const pose = poseInSet(shot, actionMoment);
    if (!pose || !edges) return 0;
    const [from, to] = [upOf(pose, low), upOf(pose, high)];
    if (from === undefined || to === undefined) return 0;
    return (Math.min(to, edges.top) - Math.max(from, edges.bottom)) / (edges.top - edges.bottom);
  });
  return Math.max(0, ...shares);
}

function upOf(pose: CameraPose, place: Vec3): number | undefined {
  const { up, along } = fromCamera(pose, place);
  return along > 0 ? up / along : undefined;
}
