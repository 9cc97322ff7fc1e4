import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  cropScale,
  cropWidthPx,
  largestCrop,
  leastZoom,
  uprightCrop,
  zoomHeadroom,
} from '../../server/calc/framing.ts';
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
