/** From the set through the lens to the page. */
import { type CameraPose, fromCamera, type Vec3 } from '../../calc/geometry.ts';
import { hull } from '../../calc/plane.ts';
import type { Showing } from '../../core/derived/showings.ts';
import { type Flat, seen } from '../../core/derived/sight.ts';
import type { Scene } from '../scene.ts';
import { clipped, cornersOf, type Frame } from '../shapes.ts';
import type { Point } from '../svg.ts';

/** What is seen in a frame: from where, and how it lies on the page. */
export interface Sight {
  readonly scene: Scene;
  readonly showing: Showing;
  readonly pose: CameraPose;
  readonly flat: Flat;
  readonly frame: Frame;
}

/** The outline of a thing within the frame; empty where some of it is beside or behind the lens. */
export function outlineIn(
  corners: readonly Vec3[] | undefined,
  { pose, flat, frame }: Pick<Sight, 'pose' | 'flat' | 'frame'>,
): Point[] {
  if (!corners || corners.some((point) => fromCamera(pose, point).along <= 5)) return [];
  return clipped(hull(seen(pose, corners, flat)), cornersOf(frame));
}
