/** The camera of a lit scene: from the set to shares of the picture and back, with the blur of each depth. */
import { addScaled, type CameraPose, dot, fromCamera, lengthOf, subtract, type Vec3 } from '../../../calc/geometry.ts';
import { blurDiscMm, imageDistanceMm } from '../../../calc/optics.ts';
import { hull } from '../../../calc/plane.ts';
import type { LensMoment } from '../optics.ts';
import { beforeLens, type Cut, mapper } from '../sight.ts';
import type { Grain, Lie, Outline } from './scene.ts';

export interface View extends Cut {
  readonly pose: CameraPose;
  readonly lens: LensMoment;
}

interface Plane {
  readonly middle: Vec3;
  readonly across: Vec3;
  readonly up: Vec3;
  readonly normal: Vec3;
}

type Spots = Pick<Grain, 'strength' | 'widthMm' | 'heightMm'>;
type Sums = 'across' | 'up' | 'near' | 'blur';

export class LitCamera {
  readonly aspect: number;
  /** Width of the picture as a tangent. */
  readonly field: number;
  readonly view: View;
  readonly #flat: ReturnType<typeof mapper>;
  readonly #back: (x: number, y: number) => { x: number; y: number };

  constructor(view: View) {
    this.view = view;
    const { left, right, bottom, top } = view.edges;
    this.field = right - left;
    this.aspect = this.field / (top - bottom);
    this.#flat = mapper(view, { x: 0, y: 0, width: 1, height: 1 / this.aspect });
    const [zero, one, two] = [this.#flat({ x: 0, y: 0 }), this.#flat({ x: 1, y: 0 }), this.#flat({ x: 0, y: 1 })];
    const [a, b, c, d] = [one.x - zero.x, two.x - zero.x, one.y - zero.y, two.y - zero.y];
    const size = a * d - b * c;
    this.#back = (x, y) => {
      const [dx, dy] = [x - zero.x, y - zero.y];
      return { x: (d * dx - b * dy) / size, y: (a * dy - c * dx) / size };
    };
  }

  get at(): Vec3 {
    return this.view.pose.at;
  }

  /** The direction that a place of the picture looks in; not of length 1. */
  ray(x: number, y: number): Vec3 {
    const { forward, right, up } = this.view.pose;
    const tangent = this.#back(x, y);
    return addScaled(addScaled(forward, right, tangent.x), up, tangent.y);
  }

  /** Grain on a panel: how the places of the picture lie on it, and how blurred they are. */
  grainOn(plane: Plane, { strength, widthMm, heightMm }: Spots): Grain {
    const toward = subtract(plane.middle, this.at);
    const slant = Math.abs(dot(toward, plane.normal)) / lengthOf(toward);
    return { strength, widthMm, heightMm, slant, ...this.lieOn(plane) };
  }

  lieOn({ middle, across, up, normal }: Plane): Lie {
    const from = subtract(this.at, middle);
    const out = -dot(from, normal);
    const zero = this.ray(0, 0);
    const steps = [zero, subtract(this.ray(1, 0), zero), subtract(this.ray(0, 1), zero)];
    const along = (axis: Vec3) => steps.map((one) => dot(one, axis));
    const near = along(normal);
    // A place is where the camera is, and as far along its ray as the plane is away: out ÷ near.
    const place = (axis: Vec3) => along(axis).map((one, index) => out * one + dot(from, axis) * near[index]!);
    const [far, focused] = [this.blur(1e9), this.view.lens.focusMm];
    const blur = near.map((one, index) => (index === 0 ? far : 0) - (far * focused * one) / out);
    const share = 1 / out / this.field;
    const sums = { across: place(across), up: place(up), near, blur } as unknown as Pick<Lie, Sums>;
    return { ...sums, share };
  }

  /** Half of the blur disc of a depth along the axis, as a share of the picture's width; minus before the focus. */
  blur(along: number): number {
    const { focalMm, focusMm, fNumber } = this.view.lens;
    if (fNumber === undefined) return 0;
    const disc = blurDiscMm({ focalMm, fNumber, distanceMm: focusMm }, along);
    const half = disc / 2 / imageDistanceMm(focalMm, focusMm) / this.field;
    return along < focusMm ? -half : half;
  }

  /** A length at a depth as a share of the picture's width. */
  share(mm: number, along: number): number {
    return mm / along / this.field;
  }

  /** A flat outline in the picture; empty behind the lens. `soften` gives each corner more softness, in mm where it is. */
  outline(points: readonly Vec3[], soften?: readonly number[]): Outline {
    if (!soften) {
      return beforeLens(this.view.pose, points).flatMap(({ right, up, along }) => {
        const { x, y } = this.#flat({ x: right / along, y: up / along });
        return [x, y, this.blur(along)];
      });
    }
    const seen = points.map((point) => fromCamera(this.view.pose, point));
    if (seen.some(({ along }) => along <= 5)) return [];
    return seen.flatMap(({ right, up, along }, index) => {
      const { x, y } = this.#flat({ x: right / along, y: up / along });
      return [x, y, Math.abs(this.blur(along)) + this.share(soften[index] ?? 0, along)];
    });
  }

  /** The outline round points of one body; each corner keeps its softness. Empty where some lie behind the lens. */
  hull(points: readonly Vec3[], soften?: readonly number[]): Outline {
    const flat = this.outline(points, soften ?? points.map(() => 0));
    const corners = Array.from({ length: flat.length / 3 }, (_, index) => {
      const signed = soften ? flat[index * 3 + 2]! : this.blur(fromCamera(this.view.pose, points[index]!).along);
      return { x: flat[index * 3]!, y: flat[index * 3 + 1]!, soft: signed };
    });
    return hull(corners).flatMap(({ x, y, soft }) => [x, y, soft]);
  }

  /** Where a place goes in the picture; undefined behind the lens. */
  spot(point: Vec3): { x: number; y: number } | undefined {
    const { right, up, along } = fromCamera(this.view.pose, point);
    return along > 5 ? this.#flat({ x: right / along, y: up / along }) : undefined;
  }
}
