/** The backdrop as a picture shows it, place by place: the light there, and what of it the product keeps off. */
import { addScaled, lengthOf, meetsBox, subtract, type Vec3 } from '../../calc/geometry.ts';
import type { Film, LampPlace, Shot } from '../film.ts';
import type { Lux, Share } from '../units.ts';
import { backdropLightAt } from './backdrop-light.ts';
import { type LitLamp, setLight } from './lit/lamps.ts';
import { strayShare } from './lit/set.ts';
import { productPlace } from './optics.ts';
import { turned } from './outline.ts';
import { type Hung, hungBackdrop, reachesBackdrop } from './past-backdrop.ts';
import { looksOf, type Look, type Showing } from './showings.ts';

export interface BackdropPlace {
  /** In the picture, as the camera sees it: 0 is its left or lower edge. */
  readonly x: Share;
  readonly y: Share;
  readonly lux: Lux;
  /** What is left of that in the shadow of the product. */
  readonly shadedLux: Lux;
  /** The lamp from which the product keeps most off, where it does. */
  readonly shadowOf?: LampPlace;
}

/** So many places across the picture and in its height. */
const [columns, rows] = [13, 9];
/** The share of the picture that each of them stands for. */
export const placeShare: Share = 1 / (columns * rows);

/** The places of a grid over the picture at which the backdrop is seen when a showing starts; none where its size is not said. */
export function backdropPlaces(showing: Showing, film: Film): BackdropPlace[] {
  const [look] = looksOf([showing]);
  const hung = hungBackdrop(showing.shot, film);
  if (!look?.view.edges || !hung) return [];
  const { shot } = showing;
  const moment = look.view.actionMoment;
  const product = new Product(film, shot, look.turn);
  const lamps = setLight(shot, moment, 1).lamps;
  return seenPlaces(look, hung, product).flatMap(({ x, y, at }) => {
    const light = backdropLightAt(shot, moment, at);
    if (!light) return [];
    const lost = light.lamps.map(({ lamp, lux }) => {
      const shape =
        lamp.aim === 'product' && lux > leastShare * light.totalLux
          ? lamps.find(({ name }) => name === lamp.name)
          : undefined;
      return { lamp, lux: shape ? lux * product.hides(shape, at) : 0 };
    });
    const most = lost.reduce<(typeof lost)[0] | undefined>((a, b) => (b.lux > (a?.lux ?? 0) ? b : a), undefined);
    const left = lost.reduce((sum, { lux }) => sum - lux, light.totalLux);
    // No shadow is darker than what comes back from all round.
    const shadedLux = Math.max(left, strayShare * light.totalLux);
    return [{ x, y, lux: light.totalLux, shadedLux, shadowOf: most?.lamp }];
  });
}

function seenPlaces({ view, pose, showing: { shot } }: Look, hung: Hung, product: Product) {
  const { left, right, bottom, top } = view.edges!;
  // What stands on a table has it round about: nobody can say how far back it goes, and what it hides is not told as seen.
  const tableMm = shot.surface?.aboveTableMm ? -shot.surface.aboveTableMm : -Infinity;
  const places: { x: Share; y: Share; at: Vec3 }[] = [];
  for (let index = 0; index < columns * rows; index++) {
    const [x, y] = [(index % columns) / (columns - 1), Math.floor(index / columns) / (rows - 1)];
    const across = addScaled(pose.forward, pose.right, left + x * (right - left));
    const ray = addScaled(across, pose.up, bottom + y * (top - bottom));
    if (!reachesBackdrop(pose, ray, shot) || product.meets(pose.at, ray)) continue;
    const at = addScaled(pose.at, ray, (hung.behindMm - pose.at.z) / ray.z);
    const foot = shot.backdrop?.sweeps ? Math.max(0, hung.bottomMm) : hung.bottomMm;
    const isHidden = at.y < tableMm;
    if (!isHidden && Math.abs(at.x) <= hung.halfWidthMm && at.y >= foot && at.y <= hung.topMm)
      places.push({ x, y, at });
  }
  return places;
}

/** A lamp that gives less than this of the light throws no shadow that is seen. */
const leastShare: Share = 0.1;

/** How many places on a lamp's face are looked at, each way. */
const samples = [-2 / 3, 0, 2 / 3];

/** The product as a box, as it stands. */
class Product {
  private readonly middle: Vec3;
  private readonly half: Vec3 | undefined;
  private readonly turnDeg: number;

  constructor({ product }: Film, shot: Shot, turnDeg: number) {
    const box = product.size?.value;
    this.middle = productPlace(shot);
    this.half = box && { x: box.widthMm / 2, y: box.heightMm / 2, z: (box.depthMm ?? 0) / 2 };
    this.turnDeg = turnDeg;
  }

  meets(from: Vec3, ray: Vec3): boolean {
    const unturned = (one: Vec3): Vec3 => ({ ...turned(one, -this.turnDeg), y: one.y });
    return this.half !== undefined && meetsBox(unturned(subtract(from, this.middle)), unturned(ray), this.half);
  }

  /** The share of a lamp's face that it hides from a place; none of a lamp that stands nearer to the place than it does. */
  hides(lamp: LitLamp, from: Vec3): Share {
    if (lengthOf(subtract(lamp.at, from)) < lengthOf(subtract(this.middle, from))) return 0;
    const spots = samples.flatMap((x) =>
      samples.map((y) =>
        addScaled(addScaled(lamp.at, lamp.right, x * lamp.halfWidthMm), lamp.up, y * lamp.halfHeightMm),
      ),
    );
    return spots.filter((spot) => this.meets(from, subtract(spot, from))).length / spots.length;
  }
}
