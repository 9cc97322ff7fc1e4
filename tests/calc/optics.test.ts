import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  airyDiscMm,
  apertureHolding,
  blurDiscMm,
  blurInPlaneMm,
  depthOfField,
  distanceForFieldMm,
  effectiveFNumber,
  fieldMm,
  fNumberForAiryMm,
  fromFrontMm,
  focusHoldingMm,
  gapForBlurMm,
  hyperfocalMm,
  imageDistanceMm,
  magnification,
  moirePeriodPx,
  planeDepthMm,
  pixelsPerPitch,
} from '../../server/calc/optics.ts';
import { angleOfViewDeg, circleOfConfusionMm, diagonalMm, usedSensor } from '../../server/calc/sensor.ts';

const phone = usedSensor({ widthMm: 9.8, heightMm: 7.3, aspect: 16 / 9, stabiliserCrop: 1.1 });
const camera = usedSensor({ widthMm: 17.3, heightMm: 13, aspect: 16 / 9 });

describe('where the plane of a lens lies (1/u + 1/v = 1/f, u + v from object to sensor)', () => {
  it('follows from the way to the sensor', () => {
    // 60 mm, 17 cm before the front, the sensor 10.5 cm behind it: u = 186.6 and v = 88.4 mm; 1/186.6 + 1/88.4 = 1/60.
    const depth = planeDepthMm(60, 170, 105, 52.5);
    expect(depth).toBeCloseTo(16.55, 2);
    expect(magnification(60, 170 + depth)).toBeCloseTo(0.474, 3);
    expect(magnification(fromFrontMm(60, 170, depth), 170)).toBeCloseTo(magnification(60, 170 + depth), 9);
  });

  it('lies neither before the front nor behind the middle, and is not known of a lens that gets shorter', () => {
    expect(planeDepthMm(25, 100, 70, 35)).toBe(35);
    expect(planeDepthMm(60, 300, 30, 15)).toBe(0);
    expect(planeDepthMm(60, 115, 100, 50)).toBe(0);
    // Twice life size on a bellows: u = 1.5·f and v = 3·f, the nearer of both places.
    expect(planeDepthMm(65, 97.5, 195, 97.5)).toBeCloseTo(0, 9);
  });

  it('shows less than life size where both ways to the sensor would do', () => {
    // 60 mm, 24.5 cm from object to sensor: u = 140 and v = 105 mm, three quarters of life size, not the other way round.
    expect(magnification(60, 105 + planeDepthMm(60, 105, 140, 70))).toBeCloseTo(0.75, 9);
  });

  it('changes nothing far away', () => {
    expect(fromFrontMm(60, Infinity, 20)).toBe(60);
    expect(fromFrontMm(60, 170, 0)).toBe(60);
  });
});

describe('the used sensor (geometry)', () => {
  it('fits 16:9 into a sensor', () => {
    expect(phone.widthMm).toBeCloseTo(8.909, 3);
    expect(phone.heightMm).toBeCloseTo(5.011, 3);
    expect(camera.heightMm).toBeCloseTo(9.731, 3);
    const full = usedSensor({ widthMm: 36, heightMm: 24, aspect: 16 / 9 });
    expect(full.heightMm).toBeCloseTo(20.25, 9);
    expect(diagonalMm(full)).toBeCloseTo(41.305, 3);
    expect(angleOfViewDeg(full.heightMm, 50)).toBeCloseTo(22.9, 2);
  });

  it('uses the full height for a narrower picture, crops, and turns', () => {
    expect(usedSensor({ widthMm: 17.3, heightMm: 13, aspect: 1 })).toEqual({ widthMm: 13, heightMm: 13 });
    expect(usedSensor({ widthMm: 17.3, heightMm: 13, aspect: 16 / 9, modeCrop: 2 }).widthMm).toBeCloseTo(8.65, 9);
    const upright = usedSensor({ widthMm: 17.3, heightMm: 13, aspect: 16 / 9, onItsSide: true });
    expect(upright.widthMm).toBeCloseTo(9.731, 3);
    expect(upright.heightMm).toBeCloseTo(17.3, 9);
  });

  // Classic rule diagonal ÷ 1500; ÷ 1730 the stricter one.
  it.each([
    [36, 24, 0.0288, 0.025],
    [23.5, 15.6, 0.0188, 0.0163],
    [17.3, 13, 0.0144, 0.0125],
    [13.2, 8.8, 0.0106, 0.0092],
    [9.8, 7.3, 0.0081, 0.0071],
    [6.17, 4.55, 0.0051, 0.0044],
  ])('circle of confusion of %d × %d mm', (widthMm, heightMm, usual, strict) => {
    expect(Math.abs(circleOfConfusionMm({ widthMm, heightMm }) - usual)).toBeLessThan(0.0001);
    expect(Math.abs(circleOfConfusionMm({ widthMm, heightMm }, 1, 1730) - strict)).toBeLessThan(0.0001);
  });

  it('is 1.47 pixels of 1920 on any 16:9 sensor, and shrinks with the zoom', () => {
    for (const used of [phone, camera]) {
      expect((circleOfConfusionMm(used) / used.widthMm) * 1920).toBeCloseTo(1.469, 3);
      expect((circleOfConfusionMm(used, 2) / used.widthMm) * 1920 * 2).toBeCloseTo(1.469, 3);
    }
    expect(circleOfConfusionMm(phone)).toBeCloseTo(0.0068, 4);
    expect(circleOfConfusionMm(camera)).toBeCloseTo(0.0132, 4);
  });
});

describe('field and angle of view', () => {
  // AOV = 2·atan(d ÷ 2f), the standard textbook table for 36 × 24 mm.
  it.each([
    [24, 73.74, 53.13, 84.06],
    [35, 54.43, 37.85, 63.44],
    [50, 39.6, 26.99, 46.79],
    [100, 20.41, 13.69, 24.41],
    [200, 10.29, 6.87, 12.35],
  ])('%i mm', (focal, wide, high, diagonal) => {
    expect(angleOfViewDeg(36, focal)).toBeCloseTo(wide, 2);
    expect(angleOfViewDeg(24, focal)).toBeCloseTo(high, 2);
    expect(angleOfViewDeg(Math.hypot(36, 24), focal)).toBeCloseTo(diagonal, 2);
  });

  it('narrows close up: 50 mm at 300 mm stands 60 mm from its image and sees 33.40°', () => {
    expect(imageDistanceMm(50, 300)).toBeCloseTo(60, 9);
    expect(angleOfViewDeg(36, imageDistanceMm(50, 300))).toBeCloseTo(33.4, 2);
    expect(imageDistanceMm(50, Infinity)).toBe(50);
    expect(imageDistanceMm(50, 40)).toBe(Infinity);
    expect(magnification(50, 50)).toBe(Infinity);
  });

  it('sees as much as similar triangles say', () => {
    expect(fieldMm(phone.widthMm, 6.9, 450)).toBeCloseTo(572, 0);
    expect(fieldMm(phone.heightMm, 6.9, 450)).toBeCloseTo(322, 0);
    expect(fieldMm(phone.widthMm, 6.9, 250)).toBeCloseTo(314, 0);
    expect(fieldMm(camera.widthMm, 45, 450)).toBeCloseTo(155.7, 1);
    expect(fieldMm(camera.heightMm, 45, 450)).toBeCloseTo(87.6, 1);
    // 1.5 m behind: phone 2.48 × 1.39 m, 25 mm lens 1.27 × 0.72 m.
    expect(fieldMm(phone.widthMm, 6.9, 450, 1950) / 1000).toBeCloseTo(2.48, 2);
    expect(fieldMm(phone.heightMm, 6.9, 450, 1950) / 1000).toBeCloseTo(1.39, 2);
    expect(fieldMm(camera.widthMm, 25, 450, 1950) / 1000).toBeCloseTo(1.27, 2);
    expect(fieldMm(camera.heightMm, 25, 450, 1950) / 1000).toBeCloseTo(0.72, 2);
  });

  it('finds distance and focal length back', () => {
    expect(distanceForFieldMm(17.3, 45, fieldMm(17.3, 45, 450))).toBeCloseTo(450, 9);
  });
});

describe('depth of field', () => {
  // Encyclopaedia article "Hyperfocal distance", example: 10 467 mm, near limit half of it.
  it('has the published hyperfocal distance of 50 mm at f/8', () => {
    expect(hyperfocalMm(50, 8, 0.03)).toBeCloseTo(10466.67, 2);
    expect(hyperfocalMm(50, 8, 0.03) - 50).toBeCloseTo(10416.67, 2);
    const zone = depthOfField({ focalMm: 50, fNumber: 8, distanceMm: hyperfocalMm(50, 8, 0.03) }, 0.03);
    expect(zone.farMm).toBe(Infinity);
    expect(zone.nearMm).toBeCloseTo(5233.33, 2);
  });

  // Photographic Lenses FAQ no. 10, h·s ÷ (h ± (s − f)).
  it.each([
    [50, 8, 0.03, 3000, 2337.905, 4185.268, 1847.363],
    [50, 2.8, 0.03, 2000, 1877.018, 2140.228, 263.21],
    [25, 4, 0.015, 400, 386.1, 414.938, 28.837],
    [6.86, 1.78, 0.0082, 300, 274.997, 330.004, 55.007],
  ])('%d mm f/%d', (focalMm, fNumber, circle, distanceMm, near, far, total) => {
    const zone = depthOfField({ focalMm, fNumber, distanceMm }, circle);
    expect(zone.nearMm).toBeCloseTo(near, 2);
    expect(zone.farMm).toBeCloseTo(far, 2);
    expect(zone.totalMm).toBeCloseTo(total, 2);
  });

  // Close-up form 2Nc(1 + m) ÷ (m² − (Nc ÷ f)²), and its textbook approximation without the last term.
  it('is 2.880 mm for 90 mm at half life size', () => {
    const zone = depthOfField({ focalMm: 90, fNumber: 8, distanceMm: 270 }, 0.03);
    expect(magnification(90, 270)).toBeCloseTo(0.5, 12);
    expect(zone.totalMm).toBeCloseTo(2.8801, 4);
    expect((2 * 8 * 0.03 * 1.5) / 0.25).toBeCloseTo(2.88, 9);
  });

  it('agrees with the magnification form everywhere', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 5, max: 100, noNaN: true }),
        fc.double({ min: 1.5, max: 30, noNaN: true }),
        (focalMm, times) => {
          const m = 1 / (times - 1);
          const [fNumber, circle] = [4, 0.01];
          const exact = (2 * fNumber * circle * (1 + m)) / (m * m - ((fNumber * circle) / focalMm) ** 2);
          const zone = depthOfField({ focalMm, fNumber, distanceMm: focalMm * times }, circle);
          if (Number.isFinite(zone.farMm)) expect(Math.abs(zone.totalMm / exact - 1)).toBeLessThan(1e-6);
        },
      ),
    );
  });

  it('puts a blur disc of one circle of confusion at both limits', () => {
    const focus = { focalMm: 25, fNumber: 4, distanceMm: 400 };
    const zone = depthOfField(focus, 0.015);
    expect(blurDiscMm(focus, zone.nearMm)).toBeCloseTo(0.015, 12);
    expect(blurDiscMm(focus, zone.farMm)).toBeCloseTo(0.015, 12);
    expect(blurDiscMm(focus, 400)).toBe(0);
  });

  it('deepens with every stop', () => {
    fc.assert(
      fc.property(fc.double({ min: 1, max: 30, noNaN: true }), (fNumber) => {
        const focus = { focalMm: 45, distanceMm: 450 };
        const open = depthOfField({ ...focus, fNumber }, 0.0132);
        const closed = depthOfField({ ...focus, fNumber: fNumber * 1.1 }, 0.0132);
        expect(closed.nearMm).toBeLessThan(open.nearMm);
        expect(closed.farMm).toBeGreaterThan(open.farMm);
      }),
    );
  });

  it('holds what it was asked to hold, exactly', () => {
    const circle = circleOfConfusionMm(camera);
    const focus = focusHoldingMm(430, 470);
    const fNumber = apertureHolding(45, 430, 470, circle);
    const zone = depthOfField({ focalMm: 45, fNumber, distanceMm: focus }, circle);
    expect(focus).toBeCloseTo(449.1, 1);
    expect(fNumber).toBeCloseTo(16.8, 1);
    expect(zone.nearMm).toBeCloseTo(430, 6);
    expect(zone.farMm).toBeCloseTo(470, 6);
    expect(apertureHolding(25, 430, 470, circle)).toBeCloseTo(5, 0);
    expect(apertureHolding(45, 450, 450, circle)).toBe(0);
  });

  it('holds to infinity from the hyperfocal distance', () => {
    const near = hyperfocalMm(50, 8, 0.03) / 2;
    expect(focusHoldingMm(near, Infinity)).toBeCloseTo(2 * near, 9);
    expect(apertureHolding(50, near, Infinity, 0.03)).toBeCloseTo(8, 9);
  });

  it('holds 9.5 mm at f/4 and 45 mm, and 437 to 463 mm at f/11', () => {
    const circle = circleOfConfusionMm(camera);
    expect(depthOfField({ focalMm: 45, fNumber: 4, distanceMm: 450 }, circle).totalMm).toBeCloseTo(9.5, 1);
    const zone = depthOfField({ focalMm: 45, fNumber: 11, distanceMm: 450 }, circle);
    expect(Math.round(zone.nearMm)).toBe(437);
    expect(Math.round(zone.farMm)).toBe(463);
  });
});

describe('blur behind the focus (thin lens)', () => {
  it('is the opening’s share of the gap in the backdrop’s own plane', () => {
    const focus = { focalMm: 6.9, fNumber: 1.8, distanceMm: 450 };
    expect(blurInPlaneMm(focus, 1950)).toBeCloseTo(12.8, 1);
    expect(blurInPlaneMm({ focalMm: 25, fNumber: 4, distanceMm: 450 }, 1950)).toBeCloseTo(20.8, 1);
    expect(blurInPlaneMm(focus, 480)).toBeCloseTo(0.26, 2);
    expect(gapForBlurMm(focus, blurInPlaneMm(focus, 1950))).toBeCloseTo(1500, 6);
  });

  it('is the same disc as on the sensor, carried out through the lens', () => {
    const focus = { focalMm: 25, fNumber: 4, distanceMm: 450 };
    const onSensor = blurDiscMm(focus, 1950) / camera.widthMm;
    const inPlane = blurInPlaneMm(focus, 1950) / fieldMm(camera.widthMm, 25, 450, 1950);
    expect(onSensor).toBeCloseTo(inPlane, 9);
    expect(blurDiscMm(focus, Infinity)).toBeCloseTo((25 * 25) / (4 * 425), 9);
  });
});

describe('diffraction', () => {
  // 2.44·λ·N at 0.55 µm, from sin θ = 1.22 λ ÷ d (encyclopaedia "Airy disc").
  it.each([
    [1.8, 2.42],
    [2.8, 3.76],
    [4, 5.37],
    [5.6, 7.52],
    [8, 10.74],
    [11, 14.76],
    [16, 21.47],
    [22, 29.52],
  ])('f/%d in µm', (fNumber, um) => {
    expect(Math.abs(airyDiscMm(fNumber) * 1000 - um)).toBeLessThan(0.01);
  });

  it('covers two pixels of 2.44 µm at f/3.64', () => {
    expect(fNumberForAiryMm(2 * 0.00244)).toBeCloseTo(3.64, 2);
  });

  it('counts the f-number that works close up (textbook, from memory: N·(1 + m ÷ P))', () => {
    expect(effectiveFNumber(8, 0.5)).toBeCloseTo(12, 9);
    expect(2 * Math.log2(effectiveFNumber(8, 0.5) / 8)).toBeCloseTo(1.17, 2);
    expect(effectiveFNumber(8, 0.5, 2)).toBeCloseTo(10, 9);
  });

  it('spreads f/16 at 450 mm over 5.3 pixels of 3840 and f/11 over 3.6', () => {
    const pixel = camera.widthMm / 3840;
    const m = magnification(45, 450);
    expect(airyDiscMm(effectiveFNumber(16, m)) / pixel).toBeCloseTo(5.3, 1);
    expect(airyDiscMm(effectiveFNumber(11, m)) / pixel).toBeCloseTo(3.6, 1);
  });
});

describe('screens on the sensor (sampling)', () => {
  it('beats every third pixel when one screen pixel covers 1.5', () => {
    expect(moirePeriodPx(1.5)).toBeCloseTo(3, 9);
    expect(moirePeriodPx(1)).toBe(Infinity);
    expect(pixelsPerPitch(0.24, 614.4, 3840)).toBeCloseTo(1.5, 9);
  });
});
