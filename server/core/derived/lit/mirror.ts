/** What a smooth surface mirrors: lamps as shapes, and what stands on it upside down, softer the higher it stands. */
import { dot, lengthOf, subtract, type Vec3 } from '../../../calc/geometry.ts';
import { type Body, cornersOfBody, facesOfBody } from './body.ts';
import { lampShapes } from './highlights.ts';
import { filtered, plus } from './rgb.ts';
import type { LitArea, Outline } from './scene.ts';
import {
  faceLightAt,
  isBefore,
  type LitSet,
  meets,
  metLight,
  mirrored,
  type Panel,
  reflected,
  shadeOver,
} from './set.ts';

export function mirrorAreas(set: LitSet, board: Panel, within: Outline, body: Body | undefined): LitArea[] {
  const shapes = lampShapes(set, board, within, undefined);
  const { mirrors } = board.material;
  if (!body || mirrors.r + mirrors.g + mirrors.b === 0) return shapes;
  return [...shapes, ...faceImages(set, board, within, body)];
}

/** Each face of the body that the surface sees toward the camera, less what the surface mirrors where the body is not. */
function faceImages(set: LitSet, board: Panel, within: Outline, body: Body): LitArea[] {
  const { camera } = set;
  const spread = Math.tan((board.material.spreadDeg * Math.PI) / 180);
  const eye = { ...camera.at, y: -camera.at.y };
  const faces = [...facesOfBody(body)].filter(([name, face]) => name !== 'up' && isBefore(face, eye));
  const wholes = body.isRound ? faces.slice(0, 1) : faces;
  return wholes.flatMap(([, face]): LitArea[] => {
    const corners = body.isRound ? cornersOfBody(body) : cornersOfFace(face);
    const image = corners.map((corner) => ({ ...corner, y: -corner.y }));
    const outline = camera.hull(
      image,
      corners.map(({ y }) => spread * Math.max(0, y)),
    );
    const shade = shadeOver(outline, camera.aspect, { x: 24, y: 24 }, (x, y) => {
      const { at } = meets(board, camera.at, camera.ray(x, y));
      const ray = subtract(at, camera.at);
      const way = reflected(ray, board.normal);
      const place = body.isRound ? nearestOn(body, at) : meets(face, at, way).at;
      const normal = body.isRound ? outward(body, place) : face.normal;
      const light = faceLightAt(set, place, normal, body.material, true);
      const missing = plus(light, metLight({ ...set, board: undefined }, at, way), -1);
      return filtered(missing, mirrored(board.material, dot(way, board.normal) / lengthOf(way)));
    });
    return shade ? [{ kind: 'mirrored', outline, within, blend: 'add', opacity: body.material.opacity, shade }] : [];
  });
}

function cornersOfFace({ middle, across, halfAcrossMm, halfUpMm }: Panel): Vec3[] {
  return [
    [-1, -1],
    [1, -1],
    [1, 1],
    [-1, 1],
  ].map(([x, y]) => ({
    x: middle.x + across.x * x! * halfAcrossMm,
    y: middle.y + y! * halfUpMm,
    z: middle.z + across.z * x! * halfAcrossMm,
  }));
}

function nearestOn({ middle, box }: Body, from: Vec3): Vec3 {
  const [dx, dz] = [from.x - middle.x, from.z - middle.z];
  const length = Math.hypot(dx, dz) || 1;
  return {
    x: middle.x + (dx / length) * (box.widthMm / 2),
    y: middle.y,
    z: middle.z + (dz / length) * (box.widthMm / 2),
  };
}

function outward({ middle }: Body, at: Vec3): Vec3 {
  const [x, z] = [at.x - middle.x, at.z - middle.z];
  const length = Math.hypot(x, z) || 1;
  return { x: x / length, y: 0, z: z / length };
}
