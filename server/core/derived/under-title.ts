/** How much of a thing in the picture lies under the words of a title, or under their panel. */
import { addScaled, angleBetweenDeg, type CameraPose, rectangle, subtract, type Vec3 } from '../../calc/geometry.ts';
import { areaOf, hull, type PlanePoint, type Rectangle, within } from '../../calc/plane.ts';
import type { Film, Part, Shot, Title } from '../film.ts';
import type { Degrees, Mm, Seconds, Share } from '../units.ts';
import { lookingWay } from './face-seen.ts';
import { cutOf, viewAt } from './framing.ts';
import { cameraPose, productPlace, subjectPlace } from './optics.ts';
import { leastCorners } from './outline.ts';
import { mapper, seen } from './sight.ts';
import { takeMomentS, turnedDeg } from './time.ts';
import { momentOf, titleArea, type Under } from './titles.ts';

/** A moment at which a title stands over a piece: the picture there, in pixels of the deliverable. */
export interface Covering {
  readonly pose: CameraPose;
  readonly turnDeg: Degrees;
  readonly picture: Rectangle;
  /** What the title hides of it. */
  readonly title: Rectangle;
  /** Round the points of one body; only what lies in the picture. */
  outline(points: readonly Vec3[]): PlanePoint[];
}

/** Undefined where the lens or a raster is not known. */
export function coveringAt(title: Title, { piece, shot, deliverable }: Under, filmS: Seconds): Covering | undefined {
  const moment = momentOf(piece, filmS);
  const view = viewAt(piece, deliverable, moment);
  const cut = view && cutOf(shot, piece, view);
  const pose = view && cameraPose(shot, view.actionMoment);
  const raster = deliverable.raster?.value;
  if (!cut || !pose || !raster) return undefined;
  const picture = { from: { x: 0, y: 0 }, to: { x: raster.width, y: raster.height } };
  const flat = mapper(cut, { x: 0, y: 0, ...raster });
  return {
    pose,
    turnDeg: turnedDeg(shot, takeMomentS(piece, moment)),
    picture,
    title: titleArea(title, deliverable, raster),
    outline: (points) => within(hull(seen(pose, points, flat)), picture),
  };
}

/** Of an outline, what lies under the title: 0 of one outside the picture. */
export function shareUnder({ title }: Covering, outline: readonly PlanePoint[]): Share {
  const all = areaOf(outline);
  return all > 0 ? areaOf(within(outline, title)) / all : 0;
}

/** What the shot looks at, in the picture; empty without its size. */
export function subjectIn(covering: Covering, shot: Shot, film: Film): PlanePoint[] {
  return covering.outline(leastCorners(shot, film, covering.turnDeg) ?? []);
}

/** From here on letters are seen too much aside to be read. */
const asideDeg = 75;

/**
 * The least that lies under the title of a part with letters, wherever it sits across its face; undefined where its size, its
 * height or the product's is not said, or the camera does not see that face.
 */
export function lettersUnder(covering: Covering, part: Part, shot: Shot, film: Film): Share | undefined {
  const places = placesOf(part, shot, film, covering);
  const shares = places.map((corners) => covering.outline(corners)).filter((outline) => areaOf(outline) > 0);
  return shares.length > 0 ? Math.min(...shares.map((outline) => shareUnder(covering, outline))) : undefined;
}

/** Its corners at the left, in the middle and at the right of its face; one that is filmed as a subject is where the camera looks. */
function placesOf(part: Part, shot: Shot, { product }: Film, { pose, turnDeg }: Covering): Vec3[][] {
  const [size, box] = [part.size?.value, product.size?.value];
  if (!size || !box || part.heightMm === undefined) return [];
  const isSubject = shot.subject.name === part.name;
  const faces = part.faces ?? 'front';
  const isSide = faces === 'left' || faces === 'right';
  const [faceMm, outMm] = isSide ? [box.depthMm ?? 0, box.widthMm] : [box.widthMm, box.depthMm ?? 0];
  const normal = part.faces ? lookingWay(part.faces, turnDeg) : levelTo(pose.at);
  const onFace = { ...productPlace(shot), y: part.heightMm };
  const middle = isSubject ? subjectPlace(shot) : faces === 'up' ? onFace : addScaled(onFace, normal, outMm / 2);
  if (angleBetweenDeg(subtract(pose.at, middle), normal) >= asideDeg) return [];
  const front = lookingWay('front', turnDeg);
  const [across, up] = faces === 'up' ? [sideOf(front), negative(front)] : [sideOf(normal), { x: 0, y: 1, z: 0 }];
  const highMm: Mm = faces === 'up' ? (size.depthMm ?? size.heightMm) : size.heightMm;
  const aside = isSubject ? 0 : Math.max(0, faceMm - size.widthMm) / 2;
  return [-aside, 0, aside].map((by) =>
    rectangle(addScaled(middle, across, by), across, up, size.widthMm / 2, highMm / 2),
  );
}

/** The level way to the camera, where nobody says how a part faces. */
function levelTo({ x, z }: Vec3): Vec3 {
  const length = Math.hypot(x, z) || 1;
  return { x: x / length, y: 0, z: z / length };
}

/** Level, and square to a way that is level. */
function sideOf({ x, z }: Vec3): Vec3 {
  return { x: -z, y: 0, z: x };
}

function negative({ x, y, z }: Vec3): Vec3 {
  return { x: -x, y: -y, z: -z };
}
