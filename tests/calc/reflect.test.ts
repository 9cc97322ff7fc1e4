import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  cameraMirrorClearDeg,
  doubledOffsetMm,
  faceLuminanceCdM2,
  fresnel,
  glareLeft,
  lampLuminanceCdM2,
  mirroredShare,
  mirrorReachMm,
  mirrorSpotMm,
  tableMirrorsMm,
} from '../../server/calc/reflect.ts';

/** A place round a face's middle, as a place before the face: the angle counts from the face's normal. */
function beforeFace(distanceMm: number, fromNormalDeg: number) {
  const rad = (fromNormalDeg * Math.PI) / 180;
  return { alongMm: distanceMm * Math.sin(rad), outMm: distanceMm * Math.cos(rad) };
}

describe('the camera in a flat face (law of reflection)', () => {
  it('is clear from the turn that the formula says', () => {
    const clear = cameraMirrorClearDeg(450, 130, 160)!;
    expect(clear).toBeCloseTo(13.5, 1);
    expect(cameraMirrorClearDeg(100, 300, 160)).toBeUndefined();
  });

  it('touches exactly when a ray from the rig’s edge meets the face’s edge and the lens', () => {
    // Face along x with its edge at 65 from the middle; lens at (a, b); rig's edge half its width toward the face.
    const [distance, turned] = [450, cameraMirrorClearDeg(450, 130, 160)!];
    const rad = (turned * Math.PI) / 180;
    const [lensX, lensY] = [distance * Math.sin(rad), distance * Math.cos(rad)];
    // Mirror the rig's edge (80 mm from the lens, in the face's direction) and join it to the lens: meets the face at
    // half the way, 40 mm from the lens's foot.
    const meets = lensX - 80 * (lensY / (2 * lensY));
    expect(meets).toBeCloseTo(65, 6);
  });

  it('hides on white gloss and shows on black', () => {
    const dark = { reflects: 0.05, lux: 100 };
    expect(mirroredShare(0.04, dark, { reflects: 0.8, lux: 100 })).toBeCloseTo(0.0025, 9);
    expect(mirroredShare(0.04, dark, { reflects: 0.02, lux: 100 })).toBeCloseTo(0.1, 9);
    expect(mirroredShare(0.04, dark, { reflects: 0, lux: 100 })).toBe(Infinity);
  });
});

describe('a lamp in a flat face (law of reflection)', () => {
  it('lies where angle in is angle out', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -80, max: 80, noNaN: true }),
        fc.double({ min: -80, max: 80, noNaN: true }),
        (one, other) => {
          const [camera, lamp] = [beforeFace(450, one), beforeFace(600, other)];
          const spot = mirrorSpotMm(camera, lamp)!;
          const slope = (place: typeof camera) => (place.alongMm - spot) / place.outMm;
          expect(slope(camera)).toBeCloseTo(-slope(lamp), 6);
        },
      ),
    );
  });

  it('lies dead centre when the face is turned half the lamp’s angle', () => {
    // Face turned 20°: the camera stands 20° one side of its normal, a lamp at 40° 20° the other.
    expect(mirrorSpotMm(beforeFace(450, -20), beforeFace(600, 20))).toBeCloseTo(0, 9);
    expect(mirrorSpotMm(beforeFace(450, 20), beforeFace(600, 100))).toBeUndefined();
  });

  it('lies well out when the face looks at the camera', () => {
    const [camera, lamp] = [beforeFace(450, 0), beforeFace(600, 40)];
    expect(mirrorSpotMm(camera, lamp)).toBeCloseTo((600 * Math.sin((40 * Math.PI) / 180) * 450) / (450 + 459.63), 1);
    expect(mirrorReachMm(camera, lamp, 90, 40)).toBeCloseTo(45 + 20 * (450 / 909.63), 3);
  });

  it('outshines a mid-grey face: 930 of 172 cd/m²', () => {
    const bare = lampLuminanceCdM2(1400, 0.06);
    expect(bare).toBeCloseTo(23333, 0);
    expect(bare * 0.04).toBeCloseTo(933, 0);
    expect(faceLuminanceCdM2(3000, 0.18)).toBeCloseTo(171.9, 1);
  });
});

describe('shiny tables', () => {
  it('mirrors 72 cm up a backdrop 1.95 m away from 15 cm above, 24° down', () => {
    const camera = { heightMm: 150, tiltDeg: 15, halfFieldDeg: 9 };
    expect(tableMirrorsMm(camera, 1950, 0)).toBeCloseTo(718, 0);
    // A table that starts 60 cm before the lens cannot be met steeper than atan(15 ÷ 60).
    expect(tableMirrorsMm(camera, 1950, 600)).toBeCloseTo((1950 * 150) / 600 - 150, 6);
    expect(tableMirrorsMm({ ...camera, tiltDeg: 85 }, 1950, 0)).toBe(Infinity);
  });

  // Snell's law.
  it('doubles edges by 2.8 mm in 5 mm of acrylic from 20° above', () => {
    expect(doubledOffsetMm(5, 70, 1.49)).toBeCloseTo(2.8, 1);
    expect(doubledOffsetMm(5, 0, 1.49)).toBe(0);
  });
});

describe('glare and polarisers', () => {
  it.each([
    [34, 0],
    [20, 13],
    [15, 21],
    [10, 31],
    [60, 30],
    [25, 6],
  ])('from %i° above acrylic %i % stays', (above, percent) => {
    expect(Math.abs(100 * glareLeft(90 - above, 1.49) - percent)).toBeLessThan(1);
  });

  it('is 4 % of the light straight on, none along the plane at Brewster’s angle of 56.1° and all of it at a graze', () => {
    expect(fresnel(0, 1.5).s).toBeCloseTo(0.04, 9);
    expect(fresnel(56.13, 1.49).p).toBeLessThan(1e-6);
    expect(fresnel(90, 1.5).s).toBeCloseTo(1, 9);
    expect(glareLeft(0, 1.49)).toBeCloseTo(0.5, 9);
    expect(glareLeft(56.13, 1.49)).toBeLessThan(1e-4);
  });
});
