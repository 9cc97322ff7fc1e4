/** What a light that is not the one that a camera is balanced for looks like in the picture. */
import { luminance, type Rgb } from './colour.ts';
import { type Chromaticity, whiteXy } from './temperature.ts';

type Three = readonly [number, number, number];
type Matrix = readonly [Three, Three, Three];

/** Cone responses of XYZ after Bradford (ICC.1, annex E; Lam 1985), and back. */
const cones: Matrix = [
  [0.8951, 0.2664, -0.1614],
  [-0.7502, 1.7135, 0.0367],
  [0.0389, -0.0685, 1.0296],
];
const fromCones: Matrix = [
  [0.9869929, -0.1470543, 0.1599627],
  [0.4323053, 0.5183603, 0.0492912],
  [-0.0085287, 0.0400428, 0.9684867],
];
/** Linear sRGB of XYZ (IEC 61966-2-1). */
const srgb: Matrix = [
  [3.2409699, -1.5373832, -0.4986108],
  [-0.9692436, 1.8759675, 0.0415551],
  [0.0556301, -0.203977, 1.0569715],
];
const d65: Chromaticity = { x: 0.3127, y: 0.329 };

/**
 * Linear sRGB, luminance 1, of a light where what the camera is balanced for comes out neutral: Bradford's adaptation from
 * that white to D65. Colours that a screen can't show are held at its edge.
 */
export function tintOf(light: Chromaticity, balanced: Chromaticity): Rgb {
  const own = times(cones, xyz(light));
  const [from, to] = [times(cones, xyz(balanced)), times(cones, xyz(d65))];
  const adapted = own.map((one, index) => (one * to[index]!) / from[index]!) as unknown as Three;
  const [r, g, b] = times(srgb, times(fromCones, adapted)).map((one) => Math.max(0, one)) as unknown as Three;
  const y = luminance({ r, g, b });
  return { r: r / y, g: g / y, b: b / y };
}

/**
 * White light of a temperature that lies `duv` from the Planckian locus beyond what is usual of its kind (plus is green):
 * a step across the locus in CIE 1960 u, v (CIE 15).
 */
export function whiteOff(temperatureK: number, duv: number): Chromaticity {
  const white = whiteXy(temperatureK);
  if (duv === 0) return white;
  const [cooler, warmer] = [uv60(whiteXy(temperatureK * 1.01)), uv60(whiteXy(temperatureK * 0.99))];
  const way = { u: warmer.u - cooler.u, v: warmer.v - cooler.v };
  const length = Math.hypot(way.u, way.v);
  const at = uv60(white);
  if (length === 0) return white;
  const [u, v] = [at.u - (duv * way.v) / length, at.v + (duv * way.u) / length];
  const sum = 2 * u - 8 * v + 4;
  return { x: (3 * u) / sum, y: (2 * v) / sum };
}

function uv60({ x, y }: Chromaticity): { u: number; v: number } {
  const sum = -2 * x + 12 * y + 3;
  return { u: (4 * x) / sum, v: (6 * y) / sum };
}

function xyz({ x, y }: Chromaticity): Three {
  return [x / y, 1, (1 - x - y) / y];
}

function times(matrix: Matrix, [a, b, c]: Three): Three {
  return matrix.map((row) => row[0] * a + row[1] * b + row[2] * c) as unknown as Three;
}
