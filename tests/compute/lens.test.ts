import { describe, expect, test } from 'vitest';
import { problem, result, results } from '../helpers/compute.ts';

describe('depth-of-field', () => {
  // Encyclopaedia, "Hyperfocal distance", Example: 50 mm, f/8, 0.03 mm is 10 467 mm focused on, sharp from 5 233 mm.
  test('the hyperfocal distance is the one to focus on', () => {
    const words = 'focal=50 mm aperture=f/8 coc=0.03 mm';
    expect(result('depth-of-field', `${words} distance=3 m`, 'hyperfocal_mm')).toBeCloseTo(10466.67, 2);
    const there = results('depth-of-field', `${words} distance=${50 + 2500 / 0.24} mm`);
    expect(there['near_mm']).toBeCloseTo(5233.33, 2);
    expect(there['far_mm']).toBeNull();
    expect(there['total_mm']).toBeNull();
  });

  // Near and far: Photographic Lenses FAQ, no. 10.
  test.each([
    ['focal=50mm aperture=f/8 coc=0.03mm distance=3000mm', 2337.905, 4185.268, 1847.363],
    ['focal=50mm aperture=f/2.8 coc=0.03mm distance=2m', 1877.018, 2140.228, 263.21],
    ['focal=25mm aperture=f/4 coc=0.015mm distance=40cm', 386.1, 414.938, 28.837],
    ['focal=6.86mm aperture=f/1.78 coc=0.0082mm distance=30cm', 274.997, 330.004, 55.007],
  ])('%s', (words, near, far, total) => {
    const found = results('depth-of-field', words);
    expect(Math.abs((found['near_mm'] as number) - near)).toBeLessThan(0.01);
    expect(Math.abs((found['far_mm'] as number) - far)).toBeLessThan(0.01);
    expect(Math.abs((found['total_mm'] as number) - total)).toBeLessThan(0.01);
  });

  // Exact total in magnification form, 2Nc(1 + m) ÷ (m² − (Nc ÷ f)²): P. van Walree, derivation of depth of field.
  test('close up', () => {
    const words = 'focal=90mm aperture=f/8 coc=0.03mm distance=270mm';
    expect(result('depth-of-field', words, 'total_mm')).toBeCloseTo(2.8801, 4);
  });

  // Encyclopaedia, "Circle of confusion", limits by d ÷ 1500: 0.029 mm for 36 x 24 mm, 0.011 mm for 13.2 x 8.8 mm
  // (values from memory).
  test.each([
    ['36 x 24 mm', 0.029],
    ['36x24mm', 0.029],
    ['13.2x8.8 mm', 0.011],
  ])('a sensor of %s says the circle of confusion', (size, circle) => {
    const words = 'focal=50mm aperture=f/8 distance=3m';
    const found = results('depth-of-field', `${words} sensor=${size}`);
    expect(Math.abs((found['coc_mm'] as number) - circle)).toBeLessThan(0.0005);
    const same = results('depth-of-field', `${words} coc=${(found['coc_mm'] as number).toFixed(9)} mm`);
    expect(found['near_mm']).toBeCloseTo(same['near_mm'] as number, 3);
  });

  test.each([
    [['coc=0.03mm', 'sensor=36x24mm'], '`coc` and `sensor` do not go together'],
    [[], 'depth-of-field wants `coc` or `sensor`.'],
    [['sensor=36mm'], '`sensor` is written like `sensor=36 x 24 mm`'],
    [['sensor=36x24x2mm'], '`sensor` is written like'],
    [['sensor=0x24mm'], 'must be above 0'],
  ])('%j', (args, said) => {
    expect(problem('depth-of-field', 'focal=50mm', 'aperture=f/8', 'distance=3m', ...args)).toContain(said);
  });

  test('nearer than the focal length there is no picture', () => {
    const said = problem('depth-of-field', 'focal=50mm', 'aperture=f/8', 'coc=0.03mm', 'distance=50mm');
    expect(said).toBe('A 50 mm lens makes no picture of what is 50 mm away: give a distance beyond the focal length.');
  });
});

describe('field-of-view', () => {
  // Geometry, 2·atan(d ÷ 2f); the standard textbook table of angles of view for 36 × 24 mm.
  test.each([
    [24, 73.74, 53.13, 84.06],
    [35, 54.43, 37.85, 63.44],
    [50, 39.6, 26.99, 46.79],
    [100, 20.41, 13.69, 24.41],
    [200, 10.29, 6.87, 12.35],
  ])('%d mm at infinity', (focal, across, upright, diagonal) => {
    const found = results('field-of-view', `focal=${focal}mm width=36mm height=24mm`);
    expect(found['horizontal_deg']).toBeCloseTo(across, 2);
    expect(found['vertical_deg']).toBeCloseTo(upright, 2);
    expect(found['diagonal_deg']).toBeCloseTo(diagonal, 2);
    expect(found['width_mm']).toBeNull();
    expect(found['height_mm']).toBeNull();
  });

  // Thin lens: at 300 mm v = sf ÷ (s − f) = 60 mm; the field is then five times the sensor.
  test('at a distance the image distance counts', () => {
    const found = results('field-of-view', 'focal=50mm width=36mm height=24mm distance=30cm');
    expect(found['horizontal_deg']).toBeCloseTo(33.4, 2);
    expect(found['width_mm']).toBeCloseTo(180, 9);
    expect(found['height_mm']).toBeCloseTo(120, 9);
  });
});
