/** The frame of a shot as its camera will see it, with light, blur and movement, at a moment of the take. */
import { screenStops } from '../../../calc/exposure.ts';
import type { Rgb } from '../../../calc/colour.ts';
import { fromCamera, type Vec3 } from '../../../calc/geometry.ts';
import { mired } from '../../../calc/temperature.ts';
import type { Deliverable, Film, Piece, Shot } from '../../film.ts';
import { productMiddleMm } from '../../product-place.ts';
import { quoted } from '../../say.ts';
import type { Seconds } from '../../units.ts';
import { cutOf, viewAt } from '../framing.ts';
import { exposureSettings, faceLight, wantedLux } from '../light.ts';
import { cameraPose, lensAt } from '../optics.ts';
import { roundFrom } from '../outline.ts';
import { hungBackdrop } from '../past-backdrop.ts';
import type { Showing } from '../showings.ts';
import { surfaceOutline } from '../surface-outline.ts';
import { type Cut, wholeCut } from '../sight.ts';
import { shutterSeconds, takeMomentS, turnedDeg, turningRpm } from '../time.ts';
import { neutralMired } from '../white-points.ts';
import { type Body, bodyAreas, contact, cornersOfBody, type Exposure, facesOfBody, pathOfStill } from './body.ts';
import { LitCamera } from './camera.ts';
import { lampInPicture, shadows } from './highlights.ts';
import { setLight, whiteTint } from './lamps.ts';
import { backdropMaterial, productMaterial, surfaceMaterial, surfaceSpots, textureSpots } from './materials.ts';
import { mirrorAreas } from './mirror.ts';
import { cutOutOr, pathIn } from './cut-out.ts';
import { partAreas } from './parts.ts';
import { grey, plus, scaled } from './rgb.ts';
import type { LitArea, LitScene } from './scene.ts';
import { cornersOf, faceLightAt, type LitSet, meets, type Panel, panelLight, shadeOver, strayShare } from './set.ts';

export type { LitScene } from './scene.ts';

/** A moment of a piece (0 its start, 1 its end) as a deliverable shows it; undefined where lens or rasters are not known. */
export function litPiece(film: Film, piece: Piece, deliverable: Deliverable, moment: number): LitScene | undefined {
  const { shot } = piece;
  const view = viewAt(piece, deliverable, moment);
  if (!shot || !view) return undefined;
  const takeS = takeMomentS(piece, moment);
  return litAt(film, shot, takeS, cutOf(shot, piece, view));
}

/** What is shown first of a shot; undefined where lens or rasters are not known. */
export function litShowing(film: Film, { shot, piece, views, fromTakeS }: Showing): LitScene | undefined {
  return litAt(film, shot, fromTakeS, cutOf(shot, piece, views[0]));
}

/** The whole recorded picture at a time of the take; undefined where the lens is not known. */
export function litRecorded(film: Film, shot: Shot, takeS: Seconds): LitScene | undefined {
  const lens = lensAt(shot, momentAt(shot, takeS));
  return lens && litAt(film, shot, takeS, wholeCut(lens, shot));
}

/** Any part of the picture at a time of the take. */
function litAt(film: Film, shot: Shot, takeS: Seconds, cut: Cut | undefined): LitScene | undefined {
  if (!cut) return undefined;
  const moment = momentAt(shot, takeS);
  const camera = cameraAt(shot, takeS, cut);
  if (!camera) return undefined;
  const found = faceLight(shot, moment);
  const wanted = wantedLux(shot) ?? (found.totalLux > 0 ? found.totalLux : usualLux);
  const light = setLight(shot, moment, wanted);
  const wall = wallOf(shot, film, wanted);
  const board = boardOf(shot, wall);
  const strayLux = strayShare * (found.totalLux || wanted);
  const set: LitSet = {
    camera,
    light,
    wantedLux: wanted,
    strayLux,
    wall,
    board,
    behind: scaled(plus(light.room, grey(strayLux)), roomReflects / wanted),
  };
  const areas = areasOf(set, film, shot, takeS, exposureOf(shot, takeS, cut, camera));
  return {
    aspect: camera.aspect,
    behind: [set.behind.r, set.behind.g, set.behind.b],
    areas,
    fullAt: fullAt(shot),
    brightenStops: film.grade?.brightenStops ?? 0,
    saturation: film.grade?.saturation ?? 1,
    assumed: [
      ...(wantedLux(shot) ? [] : ['The exposure counts as metered, as a setting is not known']),
      ...light.assumed,
      ...unread(film),
    ],
  };
}

function unread(film: Film): string[] {
  const { picture, parts } = film.product;
  const named = [picture, ...[...parts.values()].map((part) => part.picture)].filter((one) => one !== undefined);
  return named.flatMap((one) => {
    const found = film.photograph(one.value);
    return typeof found === 'string' ? [`The picture ${quoted(one.text)} is not seen, as it ${found}`] : [];
  });
}

/** Light where nothing is known of it. */
const usualLux = 1000;
/** What walls of a room give back. */
const roomReflects = 0.3;

function momentAt({ actionS, handlesS }: Shot, takeS: Seconds): number {
  return actionS ? Math.min(1, Math.max(0, (takeS - handlesS) / actionS)) : 0;
}

function cameraAt(shot: Shot, takeS: Seconds, cut: Cut): LitCamera | undefined {
  const moment = momentAt(shot, takeS);
  const [lens, pose] = [lensAt(shot, moment), cameraPose(shot, moment)];
  return lens && pose && new LitCamera({ lens, pose, ...cut });
}

function exposureOf(shot: Shot, takeS: Seconds, cut: Cut, now: LitCamera): Exposure {
  const half = (shutterSeconds(shot) ?? 0) / 2;
  const around = (by: Seconds) => cameraAt(shot, takeS + by, cut) ?? now;
  return { before: around(-half), after: around(half), turnsDeg: 6 * turningRpm(shot) * half * 2 };
}

/**
 * Light at which a channel is full: 2.47 stops over middle grey, where 18 % becomes 100 %. Log, HLG and PQ hold a stop and a
 * half more, as `coloured-light-clips` reckons: common practice, no source.
 */
function fullAt({ camera }: Shot): number {
  const space = camera.colourSpace?.value ?? 'bt709';
  return space === 'log' || space === 'hlg' || space === 'pq' ? 2 ** 1.5 : 1;
}

/** A backdrop of which nobody said how large it is fills the picture. */
const endlessMm = 20_000;
const usualBehindMm = 1000;

function wallOf(shot: Shot, film: Film, wanted: number): Panel | undefined {
  const { backdrop } = shot;
  if (!backdrop) return undefined;
  const hung = hungBackdrop(shot, film);
  const half = hung ? { x: hung.halfWidthMm, y: (hung.topMm - hung.bottomMm) / 2 } : { x: endlessMm, y: endlessMm };
  const middle = {
    x: 0,
    y: hung ? (hung.topMm + hung.bottomMm) / 2 : shot.productMiddleMm,
    z: hung?.behindMm ?? backdrop.behind?.value ?? usualBehindMm,
  };
  const material = backdrop.screenName
    ? { diffuse: grey(screenReflects), mirrors: grey(0), spreadDeg: 40, opacity: 1 }
    : backdropMaterial(backdrop);
  const glows = screenGlow(shot, wanted);
  return {
    middle,
    across: { x: 1, y: 0, z: 0 },
    up: { x: 0, y: 1, z: 0 },
    normal: { x: 0, y: 0, z: -1 },
    halfAcrossMm: half.x,
    halfUpMm: half.y,
    material,
    isBackdrop: true,
    ...(glows && { glows }),
  };
}

/** A matt screen gives back 3 %: common practice, no source. */
const screenReflects = 0.03;

/** The light of a screen: nobody knows its picture, so that it is white above and an eighth of that at its bottom. */
function screenGlow(shot: Shot, wanted: number): ((up: number) => Rgb) | undefined {
  const screen = shot.backdrop?.screen;
  if (!screen?.white) return undefined;
  const settings = exposureSettings(shot);
  const level = shot.backdrop?.brightness?.value ?? 1;
  const white = settings
    ? 0.18 * 2 ** screenStops(screen.white.value, level, settings)
    : (Math.PI * screen.white.value * level) / wanted;
  const tint = whiteTint(mired(screen.temperatureK), neutralMired(shot) ?? mired(screen.temperatureK));
  return (up) => scaled(tint, white * (0.125 + 0.875 * Math.min(1, Math.max(0, 2 * up))));
}

/** Without a size the surface counts as reaching to the backdrop. */
function boardOf(shot: Shot, wall: Panel | undefined): Panel | undefined {
  const { surface } = shot;
  if (!surface) return undefined;
  const endless = { halfWidthMm: endlessMm, frontMm: -endlessMm, backMm: endlessMm };
  const { halfWidthMm, frontMm, backMm } = surfaceOutline(shot) ?? endless;
  const far = Math.min(wall?.middle.z ?? 3000, backMm);
  return {
    middle: { x: 0, y: 0, z: (far + frontMm) / 2 },
    across: { x: 1, y: 0, z: 0 },
    up: { x: 0, y: 0, z: 1 },
    normal: { x: 0, y: 1, z: 0 },
    halfAcrossMm: halfWidthMm,
    halfUpMm: (far - frontMm) / 2,
    material: surfaceMaterial(surface),
  };
}

function areasOf(set: LitSet, film: Film, shot: Shot, takeS: Seconds, exposure: Exposure): LitArea[] {
  const body = productBody(film, shot, takeS);
  const { camera } = set;
  const productDepth = fromCamera(camera.view.pose, { x: 0, y: shot.productMiddleMm, z: 0 }).along;
  const lamps = set.light.lamps.filter(({ at }) => !set.wall || at.z < set.wall.middle.z);
  const lampAreas = (isNear: boolean) =>
    lamps
      .filter(({ at }) => fromCamera(camera.view.pose, at).along < productDepth === isNear)
      .flatMap((lamp) => lampInPicture(set, lamp, camera));
  return [
    ...wallAreas(set, shot, body, exposure),
    ...boardAreas(set, shot, body, exposure),
    ...lampAreas(false),
    ...(body ? productAreas(set, film, shot, body, exposure) : []),
    ...lampAreas(true),
  ];
}

function productAreas(set: LitSet, film: Film, shot: Shot, body: Body, exposure: Exposure): readonly LitArea[] {
  const face = facesOfBody(body).get('front')!;
  const on = { kind: 'product', picture: film.product.picture?.value, face, body, stands: true } as const;
  const whole = cutOutOr(set, film, on, exposure, bodyAreas(set, body, exposure));
  return [...whole, ...partAreas(set, film, shot, { product: body, picture: pathIn(whole) }, exposure)];
}

function productBody(film: Film, shot: Shot, takeS: Seconds): Body | undefined {
  const box = film.product.size?.value;
  if (!box) return undefined;
  return {
    kind: 'product',
    middle: { x: 0, y: productMiddleMm(film.product), z: 0 },
    box,
    turnDeg: turnedDeg(shot, takeS),
    isRound: (film.product.symmetry?.value ?? 1) >= roundFrom,
    material: productMaterial(film),
  };
}

const wallFine = { x: 36, y: 36 };

function wallAreas(set: LitSet, shot: Shot, body: Body | undefined, exposure: Exposure): LitArea[] {
  const { wall, camera } = set;
  if (!wall) return [];
  const outline = camera.outline(cornersOf(wall));
  const shade = shadeOver(outline, camera.aspect, wallFine, (x, y) =>
    panelLight(set, wall, meets(wall, camera.at, camera.ray(x, y)).at),
  );
  if (!shade) return [];
  const texture = wall.glows ? undefined : shot.backdrop?.texture?.value;
  const grain = texture ? { grain: camera.grainOn(wall, textureSpots(texture)) } : {};
  const kind = wall.glows ? 'screen' : 'backdrop';
  const path = pathOfStill(wall.middle, exposure);
  return [
    { kind, outline, path, blend: 'cover', opacity: 1, shade, ...grain },
    ...(body ? shadows(set, wall, outline, shadowOf(body)) : []),
  ];
}

function boardAreas(set: LitSet, shot: Shot, body: Body | undefined, exposure: Exposure): LitArea[] {
  const { board, camera } = set;
  if (!board || camera.at.y <= 0) return [];
  const outline = camera.outline(cornersOf(board));
  const { material } = board;
  const shade = shadeOver(outline, camera.aspect, wallFine, (x, y) => {
    const { at } = meets(board, camera.at, camera.ray(x, y));
    return faceLightAt({ ...set, board: undefined }, at, board.normal, material, false);
  });
  if (!shade) return [];
  const path = pathOfStill({ x: 0, y: 0, z: 0 }, exposure);
  const darker = body ? [...shadows(set, board, outline, shadowOf(body)), ...contact(set, board, outline, body)] : [];
  const grain = camera.grainOn(board, surfaceSpots(shot.surface?.material?.value));
  return [
    { kind: 'surface', outline, path, blend: 'cover', opacity: material.opacity, shade, grain },
    ...darker,
    ...mirrorAreas(set, board, outline, body),
  ];
}

/** Shadows are too soft for more corners of a round body. */
const shadowCorners = 12;

function shadowOf(body: Body): { corners: readonly Vec3[]; opacity: number } {
  return { corners: cornersOfBody(body, shadowCorners), opacity: body.material.opacity };
}
