import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  cropScale,
  cropWidthPx,
  largestAreaInside,
  largestCrop,
  leastZoom,
  panelSpare,
  pxPerMm,
  straightenZoom,
  uprightCrop,
  zoomHeadroom,
} from '../../server/calc/framing.ts';
import { lookAt } from '../../server/calc/geometry.ts';
import { safeBox, safeMargins } from '../../server/calc/safe-area.ts';

const size = (widthPx: number, heightPx: number) => ({ widthPx, heightPx });
const uhd = size(3840, 2160);

/** Whether all four corners of a turned, shifted rectangle lie in a raster centred on 0. */
function inside(raster: typeof uhd, crop: typeof uhd, degrees: number, shiftPx: number): boolean {
  const a = (degrees * Math.PI) / 180;
  return [-1, 1].every((i) =>
    [-1, 1].every((j) => {
      const [x, y] = [(i * crop.widthPx) / 2 + shiftPx, (j * crop.heightPx) / 2];
      const [px, py] = [x * Math.cos(a) - y * Math.sin(a), x * Math.sin(a) + y * Math.cos(a)];
      return Math.abs(px) <= raster.widthPx / 2 + 1e-6 && Math.abs(py) <= raster.heightPx / 2 + 1e-6;
    }),
  );
}

describe('zoom and straighten', () => {
  it.each([
    [uhd, size(1920, 1080), 2],
    [size(6000, 3375), uhd, 1.5625],
    [uhd, size(2560, 1440), 1.5],
    [uhd, size(1080, 1920), 1.125],
    [uhd, size(1080, 1080), 2],
  ])('headroom (exact)', (raster, delivered, zoom) => {
    expect(zoomHeadroom(raster, delivered)).toBeCloseTo(zoom, 9);
  });

  // Geometry of the turned rectangle: max(cos α + h/w·sin α, cos α + w/h·sin α) with the aspect kept.
  it.each([
    [0.5, 1.01548],
    [1, 1.03087],
    [2, 1.06143],
    [3, 1.09167],
    [5, 1.15114],
    [10, 1.29352],
    [45, 1.96419],
  ])('16:9 straightened by %d°', (angle, zoom) => {
    expect(straightenZoom(16 / 9, angle)).toBeCloseTo(zoom, 5);
    expect(straightenZoom(16 / 9, -angle)).toBeCloseTo(zoom, 5);
  });

  // Largest-area rectangle in a turned one: well-known question-and-answer derivation.
  it.each([
    [1, 3804.04, 2093.93],
    [2, 3771.46, 2029.61],
    [5, 3693.24, 1845.13],
    [10, 3625.21, 1554.1],
    [15, 3637.43, 1261.55],
    [30, 2160, 1247.08],
    [45, 1527.35, 1527.35],
  ])('largest area in 3840 × 2160 at %i°', (angle, width, height) => {
    const found = largestAreaInside(uhd, angle);
    expect(Math.abs(found.widthPx - width)).toBeLessThan(0.1);
    expect(Math.abs(found.heightPx - height)).toBeLessThan(0.1);
  });

  it('fits just inside the raster, whatever shape, angle and shift', () => {
    const aspect = fc.double({ min: 0.4, max: 2.4, noNaN: true });
    const angle = fc.double({ min: -20, max: 20, noNaN: true });
    const shift = fc.double({ min: -0.3, max: 0.3, noNaN: true });
    fc.assert(
      fc.property(aspect, angle, shift, (a, degrees, share) => {
        const crop = largestCrop(uhd, a, degrees, share);
        expect(inside(uhd, crop, degrees, share * crop.widthPx)).toBe(true);
        const larger = size(crop.widthPx * 1.001, crop.heightPx * 1.001);
        expect(inside(uhd, larger, degrees, share * larger.widthPx)).toBe(false);
      }),
    );
  });

  it('leaves 1.7374 of zoom for 1920 after 5° (3840 ÷ 1920 ÷ 1.15114)', () => {
    const use = { raster: uhd, delivered: size(1920, 1080), zoom: 1, straightenDeg: 5 };
    expect(zoomHeadroom(uhd, use.delivered) / leastZoom(use)).toBeCloseTo(1.7374, 4);
  });

  it('enlarges a vertical from 856 pixels after 1.5° and a push to 1.40', () => {
    const story = largestCrop(uhd, 9 / 16, 1.5).widthPx / 1.4;
    expect(story).toBeCloseTo(855.6, 1);
    expect(1080 / story).toBeCloseTo(1.26, 2);
    const web = largestCrop(uhd, 16 / 9, 1.5).widthPx / 1.4 / 1920;
    expect(web).toBeCloseTo(1.37, 2);
  });

  it('counts zoom from the largest upright picture', () => {
    expect(uprightCrop(uhd, 9 / 16).widthPx).toBeCloseTo(1215, 9);
    expect(cropWidthPx({ raster: uhd, delivered: size(1080, 1920), zoom: 1.25 })).toBeCloseTo(972, 9);
    expect(cropScale({ raster: uhd, delivered: size(1080, 1920), zoom: 1.25 })).toBeCloseTo(0.9, 9);
    expect(leastZoom({ raster: uhd, delivered: size(1080, 1920), zoom: 1, shiftShare: 0.5 })).toBe(1);
    expect(leastZoom({ raster: uhd, delivered: size(1920, 1080), zoom: 1, shiftShare: 0.05 })).toBeCloseTo(1.1, 9);
  });

  it('gives delivered pixels for each mm', () => {
    expect(pxPerMm({ raster: uhd, delivered: size(1920, 1080), zoom: 1 }, 192)).toBeCloseTo(10, 9);
    expect(pxPerMm({ raster: uhd, delivered: size(1920, 1080), zoom: 1.5 }, 192)).toBeCloseTo(15, 9);
    expect(pxPerMm({ raster: uhd, delivered: size(1080, 1920), zoom: 1 }, 384)).toBeCloseTo(1080 / 121.5, 9);
  });
});

describe('the edges of a backdrop (ray and plane)', () => {
  const along = { x: 1, y: 0, z: 0 };
  const up = { x: 0, y: 1, z: 0 };
  const backdrop = { middle: { x: 0, y: 0, z: 1500 }, across: along, upright: up, halfWidthMm: 675, halfHeightMm: 900 };
  const phone = { left: -0.6356, right: 0.6356, bottom: -0.3575, top: 0.3575 };

  it('sees past 135 cm of paper 1.5 m behind where the frame is 248 cm wide', () => {
    const pose = lookAt({ x: 0, y: 0, z: -450 }, { x: 0, y: 0, z: 0 });
    const spare = panelSpare(pose, phone, backdrop);
    expect(spare.left).toBeCloseTo(675 - 0.6356 * 1950, 6);
    expect(spare.right).toBeCloseTo(spare.left, 9);
    expect(spare.top).toBeCloseTo(900 - 0.3575 * 1950, 6);
  });

  it('sees lower when it looks down', () => {
    const pose = lookAt({ x: 0, y: 200, z: -400 }, { x: 0, y: 0, z: 0 });
    const spare = panelSpare(pose, phone, backdrop);
    expect(spare.top).toBeGreaterThan(spare.bottom);
    // The axis falls by half the way: it meets the backdrop 200 − 1900 ÷ 2 = −750 mm from its middle.
    const middle = panelSpare(pose, { left: 0, right: 0, bottom: 0, top: 0 }, backdrop);
    expect(middle.bottom).toBeCloseTo(900 - 750, 6);
  });

  it('sees to one side when it stands aside', () => {
    const pose = lookAt({ x: -225, y: 0, z: -390 }, { x: 0, y: 0, z: 0 });
    const spare = panelSpare(pose, phone, backdrop);
    expect(spare.left).toBeGreaterThan(spare.right);
  });

  it('sees endlessly past a backdrop that it does not face', () => {
    const pose = lookAt({ x: 0, y: 500, z: 0 }, { x: 0, y: 0, z: 0 });
    const spare = panelSpare(pose, phone, backdrop);
    expect(spare.bottom).toBe(-Infinity);
    expect(Object.values(spare).every((value) => !Number.isNaN(value))).toBe(true);
  });

  it('meets a panel that stands turned at 45° where the triangle says', () => {
    // The panel runs from front left to back right through z = 1000; a ray with tangent ¼ to the right meets it at
    // x = ¼·z and z = 1000 + x: x = 1000 ÷ 3, which is √2 times that along the panel.
    const half = Math.SQRT1_2;
    const turned = { ...backdrop, middle: { x: 0, y: 0, z: 1000 }, across: { x: half, y: 0, z: half } };
    const pose = lookAt({ x: 0, y: 0, z: 0 }, { x: 0, y: 0, z: 1000 });
    const spare = panelSpare(pose, { left: -0.25, right: 0.25, bottom: 0, top: 0 }, turned);
    expect(spare.right).toBeCloseTo(675 - (1000 / 3) * Math.SQRT2, 6);
    expect(spare.left).toBeCloseTo(675 - 200 * Math.SQRT2, 6);
  });

  it('meets a panel that leans back by 45°', () => {
    const half = Math.SQRT1_2;
    const leaning = { ...backdrop, middle: { x: 0, y: 0, z: 1000 }, upright: { x: 0, y: half, z: half } };
    const pose = lookAt({ x: 0, y: 0, z: 0 }, { x: 0, y: 0, z: 1000 });
    const spare = panelSpare(pose, { left: 0, right: 0, bottom: -0.25, top: 0.25 }, leaning);
    expect(spare.top).toBeCloseTo(900 - (1000 / 3) * Math.SQRT2, 6);
    expect(spare.bottom).toBeCloseTo(900 - 200 * Math.SQRT2, 6);
  });

  it('looks along a table as along a wall', () => {
    const table = {
      middle: { x: 0, y: -35, z: 0 },
      across: along,
      upright: { x: 0, y: 0, z: 1 },
      halfWidthMm: 500,
      halfHeightMm: 300,
    };
    const pose = lookAt({ x: 0, y: 465, z: 0 }, { x: 0, y: -35, z: 0 });
    const spare = panelSpare(pose, { left: -0.5, right: 0.5, bottom: -0.4, top: 0.4 }, table);
    expect(spare.left).toBeCloseTo(250, 6);
    expect(spare.top).toBeCloseTo(100, 6);
    expect(spare.bottom).toBeCloseTo(100, 6);
  });
});

describe('safe areas', () => {
  // SMPTE ST 2046-1:2009 §5.1 to §5.4; EBU R 95 v1.1 fig. 4 and 5 for 1080 and 2160 lines.
  it.each([
    [1920, 1080, [1786, 1004], [1728, 972]],
    [1280, 720, [1190, 670], [1152, 648]],
    [720, 576, [670, 536], [648, 518]],
    [720, 480, [670, 446], [648, 432]],
    [3840, 2160, [3572, 2008], [3456, 1944]],
  ])('%i × %i', (width, height, action, title) => {
    expect(Object.values(safeBox(size(width, height), 'action'))).toEqual(action);
    expect(Object.values(safeBox(size(width, height), 'title'))).toEqual(title);
  });

  it('has margins of 67 and 38, 96 and 54; 134 and 76, 192 and 108 (EBU R 95)', () => {
    expect(safeMargins(size(1920, 1080), 'action')).toEqual({ sidePx: 67, linePx: 38 });
    expect(safeMargins(size(1920, 1080), 'title')).toEqual({ sidePx: 96, linePx: 54 });
    expect(safeMargins(uhd, 'action')).toEqual({ sidePx: 134, linePx: 76 });
    expect(safeMargins(uhd, 'title')).toEqual({ sidePx: 192, linePx: 108 });
  });

  it('is 972 × 1728 of a vertical picture, by analogy only (no standard)', () => {
    expect(safeBox(size(1080, 1920), 'title')).toEqual(size(972, 1728));
  });
});
