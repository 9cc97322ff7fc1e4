import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  candelaFromLumens,
  configurationFactor,
  cosineShare,
  distanceForGainM,
  distanceGain,
  fallOffStops,
  luxAt1m,
  luxAt1mOfCandela,
  luxFromCandela,
  luxOnFace,
} from '../../server/calc/light.ts';

const point = { widthM: 0, heightM: 0 };
const tube120 = { widthM: 1.2, heightM: 0.04 };
const tube60 = { widthM: 0.6, heightM: 0.04 };
const panel = { widthM: 0.3, heightM: 0.2 };

/** Light on a small face before the middle of an even diffuse rectangle, added up patch by patch: ΣcosΘ₁cosΘ₂ dA ÷ (πr²). */
function patches(widthM: number, heightM: number, distanceM: number): number {
  const [across, up] = [600, 120];
  let sum = 0;
  for (let i = 0; i < across; i++) {
    for (let j = 0; j < up; j++) {
      const x = ((i + 0.5) / across - 0.5) * widthM;
      const y = ((j + 0.5) / up - 0.5) * heightM;
      const r2 = x * x + y * y + distanceM * distanceM;
      sum += (distanceM * distanceM) / (Math.PI * r2 * r2);
    }
  }
  return (sum * widthM * heightM) / (across * up);
}

describe('inverse square law', () => {
  it.each([
    [0.5, 4000],
    [1, 1000],
    [2, 250],
    [3, 111.111],
  ])('1000 lx at 1 m are at %d m', (distance, lux) => {
    expect(luxFromCandela(1000, distance)).toBeCloseTo(lux, 3);
    expect(luxAt1mOfCandela(1000, point) * distanceGain(point, distance)).toBeCloseTo(lux, 3);
  });

  it('loses 2.000 stops for twice the way and 1.170 from 1 to 1.5 m', () => {
    expect(Math.log2(distanceGain(point, 2))).toBeCloseTo(-2, 9);
    expect(Math.log2(distanceGain(point, 1.5))).toBeCloseTo(-1.17, 3);
  });

  // E = I ÷ d² applied to both ends of 10 cm.
  it.each([
    [0.5, 0.526],
    [1, 0.275],
    [2, 0.141],
  ])('from %d m, 10 cm deeper is darker by', (near, stops) => {
    expect(fallOffStops(point, near + 0.05, 0.1)).toBeCloseTo(stops, 3);
  });

  it('finds the distance for half a stop', () => {
    expect(fallOffStops(point, 0.03, 0.07)).toBe(Infinity);
  });

  it.each([
    [0.2, 1.0],
    [0.3, 0.7],
    [0.5, 0.4],
  ])('a spot at %d m across 7 cm', (distance, stops) => {
    expect(fallOffStops(point, distance, 0.07)).toBeCloseTo(stops, 1);
  });
});

describe('wide lamps near by', () => {
  // Configuration factor of a parallel rectangle, Siegel & Howell, against adding up small patches.
  it.each([
    [tube120, 0.5],
    [panel, 0.3],
    [tube60, 0.6],
    [tube60, 0.2],
    [panel, 1],
  ])('agrees with patches', (lamp, distance) => {
    const exact = configurationFactor(lamp.widthM, lamp.heightM, distance);
    expect(Math.abs(patches(lamp.widthM, lamp.heightM, distance) / exact - 1)).toBeLessThan(1e-3);
  });

  it('goes to 1 when touching and to area ÷ (π·d²) far away', () => {
    expect(configurationFactor(1, 1, 1e-6)).toBeCloseTo(1, 5);
    expect(configurationFactor(1, 1, 0)).toBe(1);
    expect(configurationFactor(0.1, 0.1, 10) / (0.01 / (Math.PI * 100))).toBeCloseTo(1, 4);
  });

  it.each([
    [tube120, 0.5, 2.79, -0.52],
    [panel, 0.3, 9.18, -0.28],
    [tube60, 0.6, 2.54, -0.13],
  ])('gains less than the inverse square', (lamp, distance, gain, stops) => {
    expect(distanceGain(lamp, distance)).toBeCloseTo(gain, 2);
    expect(Math.log2(distanceGain(lamp, distance) * distance * distance)).toBeCloseTo(stops, 2);
  });

  it('falls off by 0.6 stop, not 1.0, 20 cm from a 60 cm tube', () => {
    expect(fallOffStops(tube60, 0.2, 0.07)).toBeCloseTo(0.6, 1);
  });

  // Photometric rule: at five times the source's size the inverse square is wrong by under 1 %.
  it('is within 1 % of a point from five times its size on', () => {
    const ratio = configurationFactor(0.3, 0.3, 1.5) / ((0.3 * 0.3) / (Math.PI * 1.5 * 1.5));
    expect(1 - ratio).toBeLessThan(0.0132);
    // A disc of diameter 1 at distance 5: 1 − 1/(1 + 0.1²) = 0.99 %.
    expect(1 - 1 / (1 + 0.1 ** 2)).toBeCloseTo(0.0099, 4);
    expect(distanceGain({ ...panel, beamDeg: 60 }, 0.3)).toBe(distanceGain(point, 0.3));
  });

  // Configuration factor against patches, also where an inverse square from 1 m would be half a stop off.
  it.each([
    [{ widthM: 1.2, heightM: 1.2 }, 6],
    [{ widthM: 0.9, heightM: 0.9 }, 4.5],
    [tube120, 8],
  ])('holds far from a large lamp too', (lamp, distance) => {
    const { widthM, heightM } = lamp;
    const exact = patches(widthM, heightM, distance) / patches(widthM, heightM, 1);
    expect(Math.abs(distanceGain(lamp, distance) / exact - 1)).toBeLessThan(1e-3);
    for (const step of [0.5, 0.999, 1, 1.001, 2]) {
      const [near, far] = [distance * step, distance * step * 1.001];
      expect(Math.abs(Math.log2(distanceGain(lamp, near) / distanceGain(lamp, far)))).toBeLessThan(0.003);
    }
  });

  // E = I ÷ d², the law by which intensity is measured, where the lamp is small for the way.
  it('gives the light of its intensity far away', () => {
    const softbox = { widthM: 0.9, heightM: 0.9 };
    expect((luxAt1mOfCandela(1000, softbox) * distanceGain(softbox, 20)) / (1000 / 400)).toBeCloseTo(1, 2);
    expect(luxAt1mOfCandela(1000, softbox)).toBeLessThan(800);
  });

  it('falls steadily, and the distance comes back from the gain', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.1, max: 10, noNaN: true }),
        fc.constantFrom(point, panel, tube120, { widthM: 0.6, heightM: 0.6 }),
        (distance, lamp) => {
          const gain = distanceGain(lamp, distance);
          expect(distanceGain(lamp, distance * 1.05)).toBeLessThan(gain);
          expect(Math.abs(distanceForGainM(lamp, gain)! / distance - 1)).toBeLessThan(1e-6);
        },
      ),
    );
    expect(distanceForGainM(panel, 1e9)).toBeUndefined();
  });
});

describe('light on a face', () => {
  // Lambert's cosine law.
  it('gives 707.1 lx of 1000 at 45°', () => {
    expect(1000 * cosineShare(45)).toBeCloseTo(707.1, 1);
    expect(cosineShare(-45)).toBeCloseTo(cosineShare(315), 12);
    expect(cosineShare(90)).toBe(0);
    expect(cosineShare(150)).toBe(0);
  });

  it('multiplies level, distance, angle and stops lost', () => {
    const lamp = { ...point, luxAt1m: 1000, level: 0.5, distanceM: 2, angleDeg: 60, lostStops: 1 };
    expect(luxOnFace(lamp)).toBeCloseTo(1000 * 0.5 * 0.25 * 0.5 * 0.5, 9);
  });

  it('reads a lamp given at another distance', () => {
    expect(luxAt1m(250, 2, point)).toBeCloseTo(1000, 9);
    expect(luxAt1m(9180, 0.3, panel)).toBeCloseTo(1000, 0);
  });

  // Solid angle of a cone, 2π(1 − cos(beam ÷ 2)): a half space is 2π, the whole sphere 4π.
  it('spreads lumens over the beam', () => {
    expect(candelaFromLumens(1000, 180)).toBeCloseTo(1000 / (2 * Math.PI), 6);
    expect(candelaFromLumens(1000, 360)).toBeCloseTo(1000 / (4 * Math.PI), 6);
    expect(candelaFromLumens(1000, 60)).toBeCloseTo(1188, 0);
  });
});
