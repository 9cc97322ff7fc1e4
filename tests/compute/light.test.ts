import { describe, expect, test } from 'vitest';
import { answer, problem, result, results } from '../helpers/compute.ts';

describe('exposure', () => {
  // ISO 2720 relation, EV = log2(N² ÷ t).
  test.each([
    ['aperture=f/1 shutter=1s', 0],
    ['aperture=f/8 shutter=1/125s', 12.966],
    ['aperture=f/16 shutter=1/125 s', 14.966],
    ['aperture=f/5.6 shutter=1/50s', 10.615],
    ['aperture=f/2.8 shutter=20ms', 8.615],
    ['aperture=f/4 shutter=0.01s', 10.644],
  ])('%s', (words, ev) => {
    expect(Math.abs(result('exposure', words, 'ev') - ev)).toBeLessThan(0.001);
  });

  // ISO 2720 with C = 250: E = C·N² ÷ (t·ISO).
  test.each([
    ['aperture=f/5.6 shutter=1/50s iso=400', 980],
    ['aperture=f/2.8 shutter=1/50s iso=100', 980],
    ['aperture=f/8 shutter=1/50s iso=800', 1000],
    ['aperture=f/4 shutter=1/50s iso=800', 250],
  ])('%s', (words, lux) => {
    expect(result('exposure', words, 'lux_needed')).toBeCloseTo(lux, 6);
    expect(result('exposure', `${words} lux=${2 * lux} lx`, 'stops_over')).toBeCloseTo(1, 9);
    expect(results('exposure', words)['stops_over']).toBeNull();
  });

  // Encyclopaedia, "Exposure value", Table 3: lux at ISO 100 is 2.5·2^EV.
  test('the light of an exposure value at ISO 100', () => {
    const found = results('exposure', 'aperture=f/5.6 shutter=1/50s iso=400');
    expect(found['lux_needed']).toBeCloseTo(2.5 * 2 ** (found['ev100'] as number), 6);
    const usual = answer('exposure', 'aperture=f/1 shutter=1s');
    expect(usual.results).toMatchObject({ ev: 0, ev100: 0, lux_needed: 2.5 });
    expect([usual.inputs['iso'], usual.assumed]).toEqual(['100', ['iso']]);
  });

  test('an angle is no time', () => {
    expect(problem('exposure', 'aperture=f/4', 'shutter=180°')).toContain('is written like `shutter=1/50 s`');
  });
});

describe('shutter', () => {
  // t = angle ÷ 360 ÷ rate; rates as fractions of 1001: ITU-R BT.709-6. 172.8° is the published angle of 24 under 50 Hz.
  test.each([
    ['23.976', 172.627, 143.856, 71.928],
    ['24', 172.8, 144, 72],
    ['25', 180, 150, 75],
    ['29.97', 215.784, 179.82, 89.91],
    ['30', 216, 180, 90],
    ['50', 360, 300, 150],
  ])('at %s', (rate, fiftieth, sixtieth, hundredTwentieth) => {
    expect(result('shutter', `rate=${rate} time=1/50s`, 'angle_deg')).toBeCloseTo(fiftieth, 3);
    expect(result('shutter', `rate=${rate} time=1/60s`, 'angle_deg')).toBeCloseTo(sixtieth, 3);
    expect(result('shutter', `rate=${rate} time=1/120s`, 'angle_deg')).toBeCloseTo(hundredTwentieth, 3);
  });

  test('180° of 24000/1001 is 1001/48000 s', () => {
    expect(results('shutter', 'rate=23.976 angle=180°')).toEqual({ angle_deg: 180, time_s: 1001 / 48000 });
  });

  test.each([
    ['59.94', '431.57°'],
    ['60', '432°'],
  ])('1/50 s at %s is impossible', (rate, angle) => {
    expect(problem('shutter', `rate=${rate}`, 'time=1/50s')).toContain(`that would be ${angle}`);
  });
});

describe('flicker', () => {
  // |sin(πfT) ÷ (πfT)|: mean of a sinusoid over a rectangular pulse; lamps on mains ripple at twice its frequency.
  test.each([
    ['mains=50Hz time=1/48s', 3.95],
    ['mains=50Hz time=1/60s', 16.54],
    ['mains=50Hz time=1/125s', 23.39],
    ['light=100Hz time=1/200s', 63.66],
    ['mains=60Hz time=1/50s', 12.61],
    ['mains=60Hz time=1/240s', 63.66],
    ['light=120Hz time=1/59.94s', 0.1],
    ['mains=50Hz time=1/50s', 0],
  ])('%s', (words, percent) => {
    expect(Math.abs(100 * result('flicker', words, 'residual') - percent)).toBeLessThan(0.01);
  });

  // Aliasing, |f − round(f ÷ fps)·fps|.
  test.each([
    ['mains=50Hz rate=24', 4],
    ['mains=50Hz rate=30', 10],
    ['mains=50Hz rate=23.976', 4.096],
    ['mains=60Hz rate=25', 5],
    ['mains=60Hz rate=23.976', 0.1199],
    ['mains=60Hz rate=59.94', 0.1199],
    ['mains=60Hz rate=24', 0],
  ])('%s', (words, beat) => {
    expect(Math.abs(result('flicker', `${words} time=1/120s`, 'beat_hz') - beat)).toBeLessThan(0.001);
  });

  // n/100 s and n/120 s: common practice, no source.
  test('clean times are no longer than a frame', () => {
    expect(results('flicker', 'mains=50Hz time=1/60s')['safe_times_s']).toEqual([0.01, 0.02, 0.03, 0.04]);
    expect(results('flicker', 'mains=60Hz time=1/60s rate=30')['safe_times_s']).toEqual([
      1 / 120,
      1 / 60,
      1 / 40,
      1 / 30,
    ]);
    expect(results('flicker', 'mains=50Hz time=1/200s rate=120')['safe_times_s']).toEqual([]);
  });

  test('without rate and readout nothing is said of beat and bands', () => {
    const found = results('flicker', 'mains=50Hz time=1/60s');
    expect([found['beat_hz'], found['bands']]).toEqual([null, null]);
    expect(result('flicker', 'mains=50Hz time=1/60s readout=20ms', 'bands')).toBeCloseTo(2, 9);
    expect(answer('flicker', 'mains=60Hz time=1/60s rate=23.976').notes).toEqual(['The beat rolls once in 8.34 s.']);
  });
});

describe('mired', () => {
  // Definition, 10⁶ ÷ T; 5500 K is 182 and 3200 → 5500 is −131 in published mired tables, 3400 → 5500 is −112.
  test.each([
    ['from=2700K', 370.37],
    ['from=5500K', 181.82],
    ['from=10000K', 100],
  ])('%s', (words, mired) => {
    expect(result('mired', words, 'mired')).toBeCloseTo(mired, 2);
    expect(results('mired', words)['shift']).toBeNull();
  });

  test.each([
    [3200, 5500, -130.68],
    [3400, 5500, -112.3],
    [3000, 4000, -83.33],
    [6000, 7000, -23.81],
    [5600, 6500, -24.73],
  ])('%d K to %d K', (from, to, shift) => {
    expect(result('mired', `from=${from}K to=${to}K`, 'shift')).toBeCloseTo(shift, 2);
  });
});

describe('falloff', () => {
  // Inverse square law, E = I ÷ d².
  test.each([
    ['2m', 250, -2],
    ['3m', 111.1, -3.17],
    ['50cm', 4000, 2],
    ['1.5m', 444.4, -1.17],
  ])('1000 lx at 1 m, at %s', (distance, lux, stops) => {
    const found = results('falloff', `lux=1000 lx at=1m distance=${distance}`);
    expect(found['lux']).toBeCloseTo(lux, 1);
    expect(found['stops']).toBeCloseTo(stops, 2);
    expect(results('falloff', `candela=1000 distance=${distance}`)).toEqual(found);
  });

  // Lambert's cosine law.
  test('a face turned away', () => {
    const turned = results('falloff', 'lux=1000 at=1m distance=1m angle=45°');
    expect(turned['lux']).toBeCloseTo(707.1, 1);
    expect(turned['stops']).toBeCloseTo(-0.5, 9);
    expect(results('falloff', 'lux=1000 at=1m distance=1m angle=90°')).toEqual({ lux: 0, stops: null });
  });

  // Solid angle of a cone, 2π(1 − cos(beam ÷ 2)): 4π for a whole sphere.
  test('lumens fill the beam', () => {
    expect(result('falloff', 'lumens=1256.637 beam=360° distance=1m', 'lux')).toBeCloseTo(100, 3);
  });

  test('measured elsewhere', () => {
    expect(results('falloff', 'lux=250 at=2m distance=1m')).toEqual({ lux: 1000, stops: 2 });
  });
});
