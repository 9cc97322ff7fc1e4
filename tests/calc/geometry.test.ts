import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  angleBetweenDeg,
  directionOf,
  dot,
  fromCamera,
  lengthOf,
  lookAt,
  meetsBox,
  lookDownDeg,
  placeAt,
} from '../../server/calc/geometry.ts';

const centre = { x: 0, y: 0, z: 0 };

describe('places around the product', () => {
  it('counts clockwise from above: 90° is camera left, 180° behind', () => {
    expect(placeAt(0, 100, 0, centre).z).toBeCloseTo(-100, 9);
    expect(placeAt(90, 100, 0, centre).x).toBeCloseTo(-100, 9);
    expect(placeAt(180, 100, 0, centre).z).toBeCloseTo(100, 9);
    expect(placeAt(270, 100, 0, centre).x).toBeCloseTo(100, 9);
  });

  it('keeps the straight distance whatever the height', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 720 }), fc.integer({ min: -600, max: 600 }), (angle, rise) => {
        expect(lengthOf(placeAt(angle, 450, rise, centre))).toBeCloseTo(450, 9);
      }),
    );
    expect(placeAt(30, 450, 900, centre).y).toBe(450);
    expect(lookDownDeg(500, 250)).toBeCloseTo(30, 9);
    expect(lookDownDeg(500, 900)).toBe(90);
    expect(lookDownDeg(0, 0)).toBe(0);
  });

  it('measures angles between directions', () => {
    expect(angleBetweenDeg(directionOf(0), directionOf(50))).toBeCloseTo(50, 9);
    expect(angleBetweenDeg(directionOf(10), directionOf(350))).toBeCloseTo(20, 9);
    expect(angleBetweenDeg(directionOf(0), centre)).toBe(0);
  });
});

describe('a camera’s axes', () => {
  it('are square to each other and upright from anywhere', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 360 }), fc.integer({ min: -450, max: 450 }), (angle, rise) => {
        const pose = lookAt(placeAt(angle, 450, rise, centre), centre);
        for (const axis of [pose.forward, pose.right, pose.up]) expect(lengthOf(axis)).toBeCloseTo(1, 9);
        expect(dot(pose.forward, pose.right)).toBeCloseTo(0, 9);
        expect(dot(pose.forward, pose.up)).toBeCloseTo(0, 9);
        expect(dot(pose.right, pose.up)).toBeCloseTo(0, 9);
        expect(pose.up.y).toBeGreaterThanOrEqual(-1e-9);
        const seen = fromCamera(pose, centre);
        expect(seen.along).toBeCloseTo(450, 6);
        expect(Math.hypot(seen.right, seen.up)).toBeCloseTo(0, 6);
      }),
    );
  });

  it('meets a box or passes it, from outside and from within', () => {
    const half = { x: 30, y: 20, z: 10 };
    const from = { x: 0, y: 0, z: -100 };
    const toEdge = (x: number, y: number) => meetsBox(from, { x, y, z: 90 }, half);
    expect([toEdge(29, 0), toEdge(31, 0), toEdge(0, 19), toEdge(0, 21)]).toEqual([true, false, true, false]);
    expect(meetsBox(from, { x: 0, y: 0, z: -1 }, half)).toBe(false);
    expect(meetsBox({ x: 0, y: 0, z: 0 }, { x: 0, y: 0, z: -1 }, half)).toBe(true);
    expect(meetsBox({ x: 40, y: 0, z: -100 }, { x: 0, y: 0, z: 1 }, half)).toBe(false);
  });

  it('has camera right on the right, and the far side on top straight down', () => {
    const front = lookAt({ x: 0, y: 0, z: -450 }, centre);
    expect(fromCamera(front, { x: 10, y: 5, z: 0 })).toMatchObject({ right: 10, up: 5 });
    const above = lookAt({ x: 0, y: 450, z: 0 }, centre);
    expect(fromCamera(above, { x: 10, y: 0, z: 20 })).toMatchObject({ right: 10, up: 20 });
    expect(lookAt(centre, centre).forward).toEqual({ x: 0, y: 0, z: 1 });
  });
});
