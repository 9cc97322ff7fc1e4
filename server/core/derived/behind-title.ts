/** What a title lies on in a picture, where that is one plain thing: its colour as the plan says it, and as it comes out there. */
import { linearFromSrgb, luminance, parseHex, type Rgb } from '../../calc/colour.ts';
import { addScaled, meetsBox, subtract, type Vec3 } from '../../calc/geometry.ts';
import type { Deliverable, Film, Piece, Shot, Title, Val } from '../film.ts';
import type { Lux, Seconds, Share } from '../units.ts';
import { backdropLightAt } from './backdrop-light.ts';
import { cutOf, type View, viewAt } from './framing.ts';
import { LitCamera } from './lit/camera.ts';
import { luxAt, setLight } from './lit/lamps.ts';
import { faceLight, wantedLux } from './light.ts';
import { cameraPose, productPlace } from './optics.ts';
import { turned } from './outline.ts';
import { downAt, hungBackdrop, reachesBackdrop } from './past-backdrop.ts';
import { isOnSurface, surfaceOutline } from './surface-outline.ts';
import { takeMomentS, turnedDeg } from './time.ts';
import { momentOf, titlePlace, underTitle } from './titles.ts';

export interface Behind {
  readonly shot: Shot;
  readonly deliverable: Deliverable;
  readonly what: 'backdrop' | 'surface';
  /** Its colour, as the plan says it. */
  readonly said: Val<string>;
  /** Linear: a grey card of 18 % that is exposed right is 0.18, and over 1 it burns out. */
  readonly light: Rgb;
}

/** What lies behind a title in each picture that it stands over for long; those left out of which that is not known. */
export function behindTitle(title: Title, film: Film): Behind[] {
  return underTitle(title, film).flatMap(({ span, ...under }) => {
    const moment = momentOf(under.piece, (span.from + span.to) / 2);
    return behindIn(title, film, { ...under, moment }) ?? [];
  });
}

interface Where {
  readonly piece: Piece;
  readonly shot: Shot;
  readonly deliverable: Deliverable;
  /** Of the piece: 0 is its start. */
  readonly moment: number;
}

/** At so many places behind the words, each way. */
const [across, down] = [7, 2];
/** So many of them must meet the same thing. */
const mostly = 0.9;

function behindIn(title: Title, film: Film, where: Where): Behind | undefined {
  const { shot, piece, deliverable, moment } = where;
  const view = viewAt(piece, deliverable, moment);
  const wanted = wantedLux(shot);
  if (!view || !wanted || !isLightKnown(shot, view.actionMoment)) return undefined;
  const places = placesBehind(title, film, where, view);
  for (const what of ['backdrop', 'surface'] as const) {
    const met = places.filter((one) => one?.what === what);
    const said = what === 'backdrop' ? plainBackdrop(shot) : plainSurface(shot);
    const rgb = said && parseHex(said.value);
    if (!rgb || met.length < mostly * across * down) continue;
    const ends = [met[0]!, met[met.length >> 1]!, met.at(-1)!].map(({ at }) => at);
    const lux = meanLux(shot, what, ends, view.actionMoment);
    const reflects = what === 'backdrop' ? shot.backdrop?.reflects?.value : undefined;
    return lux === undefined ? undefined : { shot, deliverable, what, said, light: litBy(rgb, lux / wanted, reflects) };
  }
  return undefined;
}

/** Of a room whose light is not said nobody knows how much reaches what lies behind. */
function isLightKnown(shot: Shot, moment: number): boolean {
  return shot.room?.light !== undefined && faceLight(shot, moment).complete;
}

/** What is seen at each place behind the words; nothing where lens or raster are not known. */
function placesBehind(title: Title, film: Film, { shot, piece, deliverable, moment }: Where, view: View) {
  const raster = deliverable.raster?.value;
  const cut = cutOf(shot, piece, view);
  const pose = cameraPose(shot, view.actionMoment);
  if (!raster || !cut || !pose || !view.lens) return [];
  const camera = new LitCamera({ lens: view.lens, pose, ...cut });
  const { leftPx, topPx, widthPx, heightPx } = titlePlace(title, deliverable, raster);
  const takeS = takeMomentS(piece, moment);
  return Array.from({ length: across * down }, (_, index) => {
    const x = leftPx + (widthPx * (index % across)) / (across - 1);
    const y = topPx + (heightPx * Math.floor(index / across)) / (down - 1);
    return placeMet(camera.at, camera.ray(x / raster.width, y / raster.width), { shot, film, takeS });
  });
}

/** Its own colour in the light there; of one that says how much it gives back, as much as that. */
function litBy(encoded: Rgb, gain: number, reflects: Share | undefined): Rgb {
  const own = linearFromSrgb(encoded);
  const times = gain * (reflects ? reflects / Math.max(0.01, luminance(own)) : 1);
  return { r: own.r * times, g: own.g * times, b: own.b * times };
}

/** A screen shows what it shows, and what is far behind is lit by other light. */
function plainBackdrop({ backdrop }: Shot): Val<string> | undefined {
  return backdrop?.screenName ? undefined : backdrop?.colour;
}

/** What shines shows what it mirrors. */
function plainSurface({ surface }: Shot): Val<string> | undefined {
  return surface?.finish === 'matte' ? surface.colour : undefined;
}

interface Set {
  readonly shot: Shot;
  readonly film: Film;
  readonly takeS: Seconds;
}

/** What a ray from the lens meets first; undefined where that is the product, or not known. */
function placeMet(from: Vec3, ray: Vec3, { shot, film, takeS }: Set): { what: Behind['what']; at: Vec3 } | undefined {
  const box = film.product.size?.value;
  const middle = productPlace(shot);
  const turnDeg = turnedDeg(shot, takeS);
  const unturned = (one: Vec3): Vec3 => ({ ...turned(one, -turnDeg), y: one.y });
  const half = box && { x: box.widthMm / 2, y: box.heightMm / 2, z: (box.depthMm ?? 0) / 2 };
  if (!half || meetsBox(unturned(subtract(from, middle)), unturned(ray), half)) return undefined;
  const behindMm = hungBackdrop(shot, film)?.behindMm;
  const pose = { at: from, forward: ray, right: ray, up: ray };
  if (behindMm !== undefined && reachesBackdrop(pose, ray, shot)) {
    return { what: 'backdrop', at: addScaled(from, ray, (behindMm - from.z) / ray.z) };
  }
  const outline = surfaceOutline(shot);
  const way = downAt(pose, ray);
  if (way === Infinity || !outline) return undefined;
  const at = addScaled(from, ray, way);
  return isOnSurface(outline, at) ? { what: 'surface', at } : undefined;
}

/** The light at some places of the backdrop, or of a surface; undefined where not all of it is known. */
function meanLux(shot: Shot, what: Behind['what'], places: readonly Vec3[], moment: number): Lux | undefined {
  const { lamps, room } = setLight(shot, moment, 1);
  const luxAtPlace = (at: Vec3) => {
    if (what === 'surface') return lamps.reduce((sum, lamp) => sum + luxAt(lamp, at, up), luminance(room));
    const light = backdropLightAt(shot, moment, at);
    return light?.complete ? light.totalLux : NaN;
  };
  const mean = places.reduce((sum, at) => sum + luxAtPlace(at), 0) / places.length;
  return Number.isNaN(mean) ? undefined : mean;
}

const up: Vec3 = { x: 0, y: 1, z: 0 };
