import { describe, expect, test } from 'vitest';
import fc from 'fast-check';
import * as u from '../../server/core/units.ts';

describe('quantities', () => {
  test.each([
    ['45 cm', u.lengthMm, 450],
    ['2.5 m', u.lengthMm, 2500],
    // One inch is 25.4 mm and one foot 304.8 mm by definition (international yard and pound agreement, 1959).
    ['3 in', u.lengthMm, 76.2],
    ['2 ft', u.lengthMm, 609.6],
    ['14 ms', u.realTimeS, 0.014],
    ['50 min', u.realTimeS, 3000],
    ['5600 K', u.kelvin, 5600],
    ['-131 mired', u.mired, -131],
    ['1 stop', u.stops, 1],
    ['+1.5 stops', u.stops, 1.5],
    ['20 kHz', u.hertz, 20_000],
    ['60 %', u.share, 0.6],
    ['15 cm/s', u.speedMmS, 150],
    ['20 Mb/s', u.bitRate, 20e6],
    ['60 MB/s', u.byteRate, 60e6],
    // Powers of 1000 and of 1024: SI and IEC 80000-13.
    ['128 GB', u.bytes, 128e9],
    ['80 MiB', u.bytes, 80 * 1024 * 1024],
    ['-23 LKFS', u.loudnessLufs, -23],
    ['1.6 kg', u.weightG, 1600],
    ['2 lb', u.weightG, 907.18474],
    ['f/1.6', u.aperture, 1.6],
    ['180°', u.angleDeg, 180],
    ['50° left', u.angleDeg, 50],
    ['50° right', u.angleDeg, 310],
    ['09:30', u.minutesOfDay, 570],
    ['30 mA', u.amps, 0.03],
  ] as const)('%s', (text, read, value) => {
    expect(read(text)).toBeCloseTo(value, 6);
  });

  test.each([
    ['45cm', u.lengthMm],
    ['45', u.lengthMm],
    ['45 kg', u.lengthMm],
    ['1,5 m', u.lengthMm],
    ['1e3 mm', u.lengthMm],
    [' 45 cm', u.lengthMm],
    ['45  cm', u.lengthMm],
    ['1/0 s', u.shutter],
    ['f8', u.aperture],
    ['0x0', u.raster],
    ['1920 x 1080', u.raster],
    ['2026-02-30', u.dateDays],
    ['24:00', u.minutesOfDay],
    ['#fff', u.colour],
    ['', u.region],
    ['de', u.region],
  ] as const)('%s is none', (text, read) => {
    expect(read(text)).toBeUndefined();
  });

  test('a shutter keeps the form it was written in', () => {
    expect(u.shutter('1/50 s')).toEqual({ kind: 'time', s: 0.02 });
    expect(u.shutter('180°')).toEqual({ kind: 'angle', deg: 180 });
  });

  test('a size is wide x deep x high, or wide x high', () => {
    expect(u.sizeMm('9 x 6 x 7 cm')).toEqual({ widthMm: 90, depthMm: 60, heightMm: 70 });
    expect(u.sizeMm('60 x 34 cm')).toEqual({ widthMm: 600, heightMm: 340 });
  });

  test('film time counts beats, seconds, frames or a timecode', () => {
    expect(u.filmTime('8 beats')).toEqual({ kind: 'beats', beats: 8 });
    expect(u.filmTime('40 frames')).toEqual({ kind: 'frames', frames: 40 });
    expect(u.filmTime('00:01:00;02')).toMatchObject({ kind: 'timecode', m: 1, f: 2, drop: true });
  });

  test('light is lux at a distance, candela or lumens', () => {
    expect(u.lightOutput('2600 lx at 1 m')).toEqual({ kind: 'lux', lux: 2600, atMm: 1000 });
    expect(u.lightOutput('1200 cd')).toEqual({ kind: 'candela', cd: 1200 });
    expect(u.lightOutput('2600 lx')).toBeUndefined();
  });

  test('a region is a country, volts, hertz, or several of them', () => {
    expect(u.region('JP 60 Hz')).toEqual({ country: 'JP', mainsHz: 60 });
    expect(u.region('BR 220 V 60 Hz')).toEqual({ country: 'BR', volts: 220, mainsHz: 60 });
    expect(u.region('50 Hz')).toEqual({ mainsHz: 50 });
  });

  test('`A to B` has two ends, and a single value has them equal', () => {
    expect(u.ends(u.angleDeg)('330° to 280°')).toEqual({ from: 330, to: 280 });
    expect(u.ends(u.number)('1.2')).toEqual({ from: 1.2, to: 1.2 });
    expect(u.ends(u.number)('1.2 to')).toBeUndefined();
  });

  test('no text makes a reader throw, and every number read is finite', () => {
    const readers = Object.values(u).filter(
      (one) => typeof one === 'function' && one !== u.ends,
    ) as u.Reader<unknown>[];
    fc.assert(
      fc.property(
        fc.oneof(fc.string(), fc.stringMatching(/^[-+]?\d{0,400}(\.\d{0,5})?[ /°x:]?[a-zA-Z%µ°/]{0,5}$/)),
        (text) => {
          for (const read of readers) {
            const value = read(text);
            if (typeof value === 'number' && text.length < 300) expect(Number.isFinite(value)).toBe(true);
          }
        },
      ),
    );
  });
});
