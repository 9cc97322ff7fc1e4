/** Things that stand on the set, as areas of the picture: boxes, upright round things, and what lies on their faces. */
import { luminance, type Rgb } from '../../../calc/colour.ts';
import { addScaled, lengthOf, subtract, type Vec3 } from '../../../calc/geometry.ts';
import type { Box, Degrees } from '../../units.ts';
import { turned } from '../outline.ts';
import type { LitCamera } from './camera.ts';
import { lampShapes } from './highlights.ts';
import { luxAt } from './lamps.ts';
import type { Material } from './materials.ts';
import { filtered, plus, scaled } from './rgb.ts';
import type { LitArea, LitKind, Outline } from './scene.ts';
import { cornersOf, faceLightAt, isBefore, type LitSet, meets, type Panel, shadeOver } from './set.ts';

export interface Body {
  readonly kind: LitKind;
  readonly middle: Vec3;
  readonly box: Box;
  readonly turnDeg: Degrees;
  readonly isRound: boolean;
  readonly material: Material;
}

/** The picture a little before and after, to tell how far a thing moves in the exposure. */
export interface Exposure {
  readonly before: LitCamera;
  readonly after: LitCamera;
  /** Turn of the product from before to after. */
  readonly turnsDeg: Degrees;
}

export type FaceName = 'front' | 'left' | 'back' | 'right' | 'up';

/** The faces of a box, the top included; the bottom is never seen. */
export function facesOfBody({ middle, box, turnDeg, material }: Body): Map<FaceName, Panel> {
  const depthMm = box.depthMm ?? 0;
  const face = (x: number, z: number, halfAcrossMm: number, outMm: number): Panel => {
    const out = turned({ x, z }, turnDeg);
    const normal = { x: out.x, y: 0, z: out.z };
    return {
      middle: addScaled(middle, normal, outMm),
      normal,
      across: { x: -out.z, y: 0, z: out.x },
      up: { x: 0, y: 1, z: 0 },
      halfAcrossMm,
      halfUpMm: box.heightMm / 2,
      material,
    };
  };
  const ahead = turned({ x: 0, z: 1 }, turnDeg);
  const side = turned({ x: 1, z: 0 }, turnDeg);
  return new Map<FaceName, Panel>([
    ['front', face(0, -1, box.widthMm / 2, depthMm / 2)],
    ['left', face(-1, 0, depthMm / 2, box.widthMm / 2)],
    ['back', face(0, 1, box.widthMm / 2, depthMm / 2)],
    ['right', face(1, 0, depthMm / 2, box.widthMm / 2)],
    [
      'up',
      {
        middle: addScaled(middle, { x: 0, y: 1, z: 0 }, box.heightMm / 2),
        normal: { x: 0, y: 1, z: 0 },
        across: { ...side, y: 0 },
        up: { ...ahead, y: 0 },
        halfAcrossMm: box.widthMm / 2,
        halfUpMm: depthMm / 2,
        material,
      },
    ],
  ]);
}

const smoothCorners = 32;

/** The corners of a body, below and above; of a round one as many as look round. */
export function cornersOfBody({ middle, box, turnDeg, isRound }: Body, roundCorners = smoothCorners): Vec3[] {
  const [halfX, halfZ] = [box.widthMm / 2, (box.depthMm ?? 0) / 2];
  const ring = isRound
    ? Array.from({ length: roundCorners }, (_, index) => (index * 2 * Math.PI) / roundCorners).map((angle) => ({
        x: Math.cos(angle),
        z: Math.sin(angle),
      }))
    : [
        { x: -1, z: -1 },
        { x: 1, z: -1 },
        { x: 1, z: 1 },
        { x: -1, z: 1 },
      ];
  return [-0.5, 0.5].flatMap((up) =>
    ring.map(({ x, z }) => {
      const out = turned({ x: x * halfX, z: z * halfZ }, turnDeg);
      return { x: middle.x + out.x, y: middle.y + up * box.heightMm, z: middle.z + out.z };
    }),
  );
}

/** Corners of light for each picture's width. */
const fine = { x: 40, y: 40 };
const roundFine = { x: 160, y: 48 };

export function bodyAreas(set: LitSet, body: Body, exposure: Exposure): LitArea[] {
  return body.isRound ? roundAreas(set, body, exposure) : boxAreas(set, body, exposure);
}

/**
 * The silhouette in the mean light of the faces, then what each differs from that: shared edges then have no seam, however
 * soft they are.
 */
function boxAreas(set: LitSet, body: Body, exposure: Exposure): LitArea[] {
  const { camera } = set;
  const faces = [...facesOfBody(body).values()].filter(
    (face) => isBefore(face, camera.at) && face.halfAcrossMm > 0 && face.halfUpMm > 0,
  );
  const outline = camera.hull(cornersOfBody(body));
  if (faces.length === 0 || outline.length < 9) return [];
  const { material } = body;
  const lights = faces.map((face) => faceLightAt(set, face.middle, face.normal, material, false));
  const mean = scaled(
    lights.reduce((sum, one) => plus(sum, one)),
    1 / lights.length,
  );
  const silhouette = shadeOver(outline, camera.aspect, { x: 1, y: 1 }, () => mean);
  if (!silhouette) return [];
  const { kind } = body;
  const { opacity } = material;
  const path = pathOf(faces[0]!.middle, body, exposure);
  return [
    { kind, outline, path, blend: 'cover', opacity, shade: silhouette },
    ...faces.flatMap((face): LitArea[] => {
      const own = camera.outline(cornersOf(face));
      const shade = shadeOver(own, camera.aspect, fine, (x, y) => {
        const { at } = meets(face, camera.at, camera.ray(x, y));
        return plus(faceLightAt(set, at, face.normal, material, false), mean, -1);
      });
      if (!shade) return [];
      return [{ kind, outline: own, path, blend: 'add', opacity, shade }, ...lampShapes(set, face, own, path)];
    }),
    ...edgeAreas(set, body, faces, lights),
  ];
}

/** Edges are never quite sharp and catch some light: a thin line where two faces that are seen meet. */
function edgeAreas(set: LitSet, body: Body, faces: readonly Panel[], lights: readonly Rgb[]): LitArea[] {
  const { kind, box, material } = body;
  const half = 0.004 * Math.min(box.widthMm, box.heightMm, box.depthMm ?? Infinity);
  const { camera } = set;
  return faces.flatMap((face, index) =>
    faces.slice(index + 1).flatMap((other, after): LitArea[] => {
      const [a, b] = commonEdge(face, other);
      if (!a || !b) return [];
      // A little way down each of the two faces.
      const onFace = [a, b].map((at) => addScaled(at, other.normal, -half));
      const onOther = [b, a].map((at) => addScaled(at, face.normal, -half));
      const outline = camera.outline([...onFace, ...onOther]);
      const [one, two] = [lights[index]!, lights[index + after + 1]!];
      const light = scaled(luminance(one) > luminance(two) ? one : two, edgeShine);
      const shade = shadeOver(outline, camera.aspect, { x: 1, y: 1 }, () => light);
      return shade ? [{ kind, outline, blend: 'add', opacity: material.opacity, shade }] : [];
    }),
  );
}

/** How much more light an edge gives than the brighter of its faces: common practice, no source. */
const edgeShine = 0.5;

function commonEdge(face: Panel, other: Panel): Vec3[] {
  const theirs = cornersOf(other);
  return cornersOf(face).filter((one) => theirs.some((two) => lengthOf(subtract(one, two)) < 0.01));
}

function roundAreas(set: LitSet, body: Body, exposure: Exposure): LitArea[] {
  const { camera } = set;
  const corners = cornersOfBody(body);
  const outline = camera.hull(corners);
  const { kind, material, middle, box } = body;
  const { opacity } = material;
  const mantle = (x: number, y: number): Rgb => {
    const { at, normal } = onMantle(body, camera.at, camera.ray(x, y));
    return faceLightAt(set, at, normal, material, true);
  };
  const shade = shadeOver(outline, camera.aspect, roundFine, mantle);
  if (!shade) return [];
  const path = pathOf({ ...middle, z: middle.z }, { ...body, turnDeg: 0 }, { ...exposure, turnsDeg: 0 });
  const areas: LitArea[] = [{ kind, outline, path, blend: 'cover', opacity, shade }];
  const top = facesOfBody(body).get('up')!;
  if (!isBefore(top, camera.at) || !box.depthMm) return areas;
  const lid = camera.outline(corners.slice(smoothCorners));
  const lidShade = shadeOver(lid, camera.aspect, roundFine, (x, y) => {
    const { at } = meets(top, camera.at, camera.ray(x, y));
    return plus(faceLightAt(set, at, top.normal, material, false), mantle(x, y), -1);
  });
  if (!lidShade) return areas;
  return [
    ...areas,
    { kind, outline: lid, path, blend: 'add', opacity, shade: lidShade },
    ...lampShapes(set, top, lid, path),
  ];
}

/** Where a ray meets the upright mantle of a round body, or passes nearest to it. */
function onMantle({ middle, box }: Body, from: Vec3, ray: Vec3): { at: Vec3; normal: Vec3 } {
  const [rx, rz] = [box.widthMm / 2, (box.depthMm ?? box.widthMm) / 2];
  const [ox, oz, dx, dz] = [(from.x - middle.x) / rx, (from.z - middle.z) / rz, ray.x / rx, ray.z / rz];
  const [a, b, c] = [dx * dx + dz * dz, ox * dx + oz * dz, ox * ox + oz * oz - 1];
  const way = a > 1e-12 ? (-b - Math.sqrt(Math.max(0, b * b - a * c))) / a : 0;
  const [x, z] = [ox + dx * way, oz + dz * way];
  const length = Math.hypot(x, z) || 1;
  const [sx, sz] = [x / length, z / length];
  const half = box.heightMm / 2;
  const y = Math.min(half, Math.max(-half, from.y + ray.y * way - middle.y));
  const out = Math.hypot(sx / rx, sz / rz);
  return {
    at: { x: middle.x + sx * rx, y: middle.y + y, z: middle.z + sz * rz },
    normal: { x: sx / rx / out, y: 0, z: sz / rz / out },
  };
}

/** The way of a place of a body across the picture during the exposure. */
export function pathOf(
  place: Vec3,
  { middle }: Body,
  { before, after, turnsDeg }: Exposure,
): readonly [number, number] | undefined {
  const round = (by: Degrees): Vec3 => {
    const out = turned({ x: place.x - middle.x, z: place.z - middle.z }, by);
    return { x: middle.x + out.x, y: place.y, z: middle.z + out.z };
  };
  const [start, end] = [before.spot(round(-turnsDeg / 2)), after.spot(round(turnsDeg / 2))];
  if (!start || !end) return undefined;
  const [x, y] = [end.x - start.x, end.y - start.y];
  return Math.hypot(x, y) > 1e-5 ? [x, y] : undefined;
}

/** A rectangle that lies on a face of a body, as an area of its own that ends with that face. */
export function patchArea(set: LitSet, kind: LitKind, { patch, within, body }: Patch, exposure: Exposure): LitArea[] {
  const { camera } = set;
  if (!isBefore(patch, camera.at) || within.length < 9) return [];
  const outline = camera.outline(cornersOf(patch));
  const shade = shadeOver(outline, camera.aspect, fine, (x, y) => {
    const { at } = meets(patch, camera.at, camera.ray(x, y));
    return faceLightAt(set, at, patch.normal, patch.material, false);
  });
  if (!shade) return [];
  return [{ kind, outline, within, path: pathOf(patch.middle, body, exposure), blend: 'cover', opacity: 1, shade }];
}

export interface Patch {
  readonly patch: Panel;
  readonly within: Outline;
  readonly body: Body;
}

/** The way of what stands still, as the camera moves. */
export function pathOfStill(place: Vec3, { before, after }: Exposure): readonly [number, number] | undefined {
  const [start, end] = [before.spot(place), after.spot(place)];
  if (!start || !end) return undefined;
  const [x, y] = [end.x - start.x, end.y - start.y];
  return Math.hypot(x, y) > 1e-5 ? [x, y] : undefined;
}

/** The dark line where a body meets what it stands on: light from all round does not get there. None under what hangs. */
export function contact(set: LitSet, panel: Panel, within: Outline, body: Body): LitArea[] {
  if (body.middle.y - body.box.heightMm / 2 > 0.5) return [];
  const corners = cornersOfBody(body, 16);
  const foot = corners.slice(0, corners.length / 2);
  const { camera } = set;
  const reach = Math.min(body.box.heightMm, 200) * 0.2;
  const outline = camera.hull(
    foot,
    foot.map(() => reach),
  );
  const shade = shadeOver(outline, camera.aspect, contactFine, (x, y) => {
    const { at } = meets(panel, camera.at, camera.ray(x, y));
    let sum = plus(set.light.room, { r: set.strayLux, g: set.strayLux, b: set.strayLux });
    for (const lamp of set.light.lamps) sum = plus(sum, lamp.tint, 0.25 * luxAt(lamp, at, panel.normal));
    return scaled(filtered(sum, panel.material.diffuse), -0.8 / set.wantedLux);
  });
  return shade ? [{ kind: 'shadow', outline, within, blend: 'add', opacity: 1, shade }] : [];
}

const contactFine = { x: 16, y: 16 };
