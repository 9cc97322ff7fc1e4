/** Lamps that show as shapes in a smooth flat face, and shadows that lamps leave. */
import {
  addScaled,
  angleBetweenDeg,
  dot,
  fromCamera,
  lengthOf,
  rectangle,
  subtract,
  type Vec3,
} from '../../../calc/geometry.ts';
import type { LitCamera } from './camera.ts';
import { type LitLamp, luxAt, shineLux } from './lamps.ts';
import { filtered, scaled } from './rgb.ts';
import type { LitArea, Outline } from './scene.ts';
import { isBefore, type LitSet, meets, mirrored, type Panel, shadeOver, shapedUnderDeg, slantDeg } from './set.ts';

/** The images of lamps in a face, where they lie on it. */
export function lampShapes(
  set: LitSet,
  face: Panel,
  within: Outline,
  path: readonly [number, number] | undefined,
): LitArea[] {
  const { camera, light } = set;
  const { material } = face;
  if (material.spreadDeg >= shapedUnderDeg || !isBefore(face, camera.at)) return [];
  return light.lamps.flatMap((lamp): LitArea[] => {
    if (!isBefore(face, lamp.at)) return [];
    const image = lampCorners(lamp).map((corner) => behind(face, corner));
    const middle = behind(face, lamp.at);
    const { along } = fromCamera(camera.view.pose, middle);
    if (along < 5) return [];
    const way = subtract(middle, camera.at);
    const spot = meets(face, camera.at, way);
    // Seen past the face's edge it is not seen at all; a margin for large lamps.
    if (spot.way === Infinity) return [];
    const shine = shineLux(lamp, spot.at);
    if (shine <= 0) return [];
    const toLamp = lengthOf(subtract(lamp.at, spot.at));
    const spread = Math.tan((material.spreadDeg * Math.PI) / 180) * toLamp;
    const outline = camera.outline(
      image,
      image.map(() => spread),
    );
    const rgb = scaled(
      filtered(lamp.tint, mirrored(material, Math.cos((slantDeg(face, camera.at) * Math.PI) / 180))),
      shine / set.wantedLux,
    );
    const shade = shadeOver(outline, camera.aspect, { x: 1, y: 1 }, () => rgb);
    if (!shade) return [];
    return [{ kind: 'highlight', outline, within, path, blend: 'add', opacity: 1, shade }];
  });
}

export function lampCorners({ at, right, up, halfWidthMm, halfHeightMm }: LitLamp): Vec3[] {
  return rectangle(at, right, up, halfWidthMm, halfHeightMm);
}

/** The same place as far behind a face as it lies before it. */
function behind({ middle, normal }: Panel, place: Vec3): Vec3 {
  return addScaled(place, normal, -2 * dot(subtract(place, middle), normal));
}

/** Where a lamp's light does not reach a panel because of a body, and the light that is missing there. */
export function shadows(
  set: LitSet,
  panel: Panel,
  within: Outline,
  { corners, opacity }: { readonly corners: readonly Vec3[]; readonly opacity: number },
): LitArea[] {
  return set.light.lamps.flatMap((lamp): LitArea[] => {
    if ((panel.isBackdrop && lamp.offBackdrop) || !isBefore(panel, lamp.at)) return [];
    const thrown = corners.map((corner) => throwTo(panel, lamp, corner));
    if (thrown.some((one) => one === undefined)) return [];
    const places = thrown as Thrown[];
    const { camera } = set;
    const outline = camera.hull(
      places.map((one) => one.at),
      places.map((one) => one.penumbraMm / 2),
    );
    const shade = shadeOver(outline, camera.aspect, shadowFine, (x, y) => {
      const { at } = meets(panel, camera.at, camera.ray(x, y));
      const lost = scaled(lamp.tint, -luxAt(lamp, at, panel.normal) / set.wantedLux);
      return filtered(lost, panel.material.diffuse);
    });
    return shade ? [{ kind: 'shadow', outline, within, blend: 'add', opacity, shade }] : [];
  });
}

const shadowFine = { x: 16, y: 16 };

interface Thrown {
  readonly at: Vec3;
  readonly penumbraMm: number;
}

/** A shadow longer than this many times the way from lamp to body is too faint and soft to tell. */
const farthest = 6;

function throwTo(panel: Panel, lamp: LitLamp, corner: Vec3): Thrown | undefined {
  const way = subtract(corner, lamp.at);
  const before = dot(subtract(corner, panel.middle), panel.normal);
  if (before < 0.5) return before < -0.5 ? undefined : { at: corner, penumbraMm: 0 };
  const { at, way: times } = meets({ ...panel, halfAcrossMm: 1e6, halfUpMm: 1e6 }, lamp.at, way);
  if (!(times < farthest)) {
    const level = addScaled(way, panel.normal, -dot(way, panel.normal));
    const foot = addScaled(corner, panel.normal, -before);
    return { at: addScaled(foot, level, farthest - 1), penumbraMm: lampSizeMm(lamp) * (farthest - 1) };
  }
  return { at, penumbraMm: lampSizeMm(lamp) * (times - 1) };
}

function lampSizeMm({ halfWidthMm, halfHeightMm }: LitLamp): number {
  return 2 * Math.sqrt(halfWidthMm * halfHeightMm);
}

/** A lamp that stands in the picture: its bright face, or its dark back. */
export function lampInPicture(set: LitSet, lamp: LitLamp, camera: LitCamera): LitArea[] {
  const outline = camera.outline(lampCorners(lamp));
  const faces = angleBetweenDeg(subtract(camera.at, lamp.at), lamp.axis) < 90;
  const rgb = faces ? scaled(lamp.tint, shineLux(lamp, camera.at) / set.wantedLux) : scaled(set.behind, 0.3);
  const shade = shadeOver(outline, camera.aspect, { x: 1, y: 1 }, () => rgb);
  return shade ? [{ kind: 'highlight', outline, blend: 'cover', opacity: 1, shade }] : [];
}
