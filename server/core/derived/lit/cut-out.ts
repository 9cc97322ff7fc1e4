/** A cut-out photograph on a face, in the light of the set; what it stands in place of is left out where the photograph is at hand. */
import { addScaled, fromCamera } from '../../../calc/geometry.ts';
import type { Film } from '../../film.ts';
import { type Body, type Exposure, pathOf } from './body.ts';
import { grey } from './rgb.ts';
import type { LitArea, LitKind } from './scene.ts';
import { cornersOf, diffuseAt, isBefore, type LitSet, meets, type Panel, shadeOver, slantDeg } from './set.ts';

/** Flat pictures of things that are not flat look wrong from the side: common practice, no source. */
const mostSlantDeg = 60;
const fine = { x: 40, y: 40 };

export interface OnFace {
  readonly kind: LitKind;
  readonly picture: string | undefined;
  readonly face: Panel;
  /** What turns with it. */
  readonly body: Body;
  /** On the foot of the face, else in its middle. */
  readonly stands: boolean;
}

/** As large as fits on the face. `plain` is what is seen without it. */
export function cutOutOr(
  set: LitSet,
  film: Film,
  on: OnFace,
  exposure: Exposure,
  plain: readonly LitArea[],
): readonly LitArea[] {
  const { picture } = on;
  const photograph = picture === undefined ? undefined : film.photograph(picture);
  if (picture === undefined || !photograph || typeof photograph === 'string') return plain;
  const { face } = on;
  if (!isBefore(face, set.camera.at) || slantDeg(face, set.camera.at) > mostSlantDeg) return plain;
  const { widthPx, heightPx } = photograph;
  const scale = Math.min((2 * face.halfAcrossMm) / widthPx, (2 * face.halfUpMm) / heightPx);
  const [widthMm, heightMm] = [widthPx * scale, heightPx * scale];
  const drop = on.stands ? heightMm / 2 - face.halfUpMm : 0;
  const panel: Panel = {
    ...face,
    middle: addScaled(face.middle, face.up, drop),
    halfAcrossMm: widthMm / 2,
    halfUpMm: heightMm / 2,
    material: { ...face.material, diffuse: grey(1) },
  };
  const laid = laidOut(set, on, panel, exposure, { path: picture, widthMm, heightMm });
  return laid ? [...plain.map((area) => ({ ...area, unless: picture })), laid] : plain;
}

/** The photograph among areas. */
export function pathIn(areas: readonly LitArea[]): string | undefined {
  return areas.find((area) => area.photograph)?.photograph?.path;
}

function laidOut(
  set: LitSet,
  { kind, body }: OnFace,
  panel: Panel,
  exposure: Exposure,
  size: { readonly path: string; readonly widthMm: number; readonly heightMm: number },
): LitArea | undefined {
  const { camera } = set;
  const path = pathOf(panel.middle, body, exposure);
  const { along } = fromCamera(camera.view.pose, panel.middle);
  // Its own edges are soft in it already: the outline lies beyond them.
  const moved = path ? Math.hypot(...path) : 0;
  const marginMm = (3 * Math.abs(camera.blur(along)) + moved + 0.005) * along * camera.field;
  const around = {
    ...panel,
    halfAcrossMm: panel.halfAcrossMm + marginMm,
    halfUpMm: panel.halfUpMm + marginMm,
  };
  const outline = camera.outline(cornersOf(around));
  const shade = shadeOver(outline, camera.aspect, fine, (x, y) => {
    const { at } = meets(panel, camera.at, camera.ray(x, y));
    return diffuseAt(set, at, panel.normal, panel.material);
  });
  if (!shade) return undefined;
  const photograph = { ...size, ...camera.lieOn(panel) };
  return { kind, outline, path, blend: 'cover', opacity: 1, shade, photograph };
}
