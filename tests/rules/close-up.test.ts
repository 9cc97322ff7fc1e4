/** Close-up lenses and extension tubes: where a lens focuses with them. */
import { describe, expect, test } from 'vitest';
import { closeUpFocalMm, focusRange, tubeFocusRange } from '../../server/calc/optics.ts';
import { lensAt, magnificationOf } from '../../server/core/derived/optics.ts';
import { findings, messages, titles } from '../helpers/findings.ts';
import { checkSpec, spec } from '../helpers/workspace.ts';

describe('the range', () => {
  test('of a close-up lens ends at 1 ÷ its dioptres', () => {
    // Thin lenses that touch (any textbook of optics, from memory): 50 mm and 2 dioptres make 1 ÷ (20 + 2) m.
    expect(closeUpFocalMm(50, 2)).toBeCloseTo(45.4545, 3);
    const { nearestMm, farthestMm } = focusRange(50, 1000, 2, 0);
    expect(farthestMm).toBeCloseTo(500, 6);
    // What the lens sees at 1 m is at 1 ÷ (1 + 2) m.
    expect(nearestMm).toBeCloseTo(1000 / 3, 6);
  });

  test('of a tube ends where a lens set to infinity is moved that far from the sensor', () => {
    // m = tube ÷ f at infinity: 25 mm on 50 mm is half of life size, from f × (1 + 1 ÷ m) = 150 mm.
    expect(focusRange(50, 1000, 0, 25).farthestMm).toBeCloseTo(150, 6);
    expect(focusRange(50, 1000, 0, 0)).toEqual({ nearestMm: expect.closeTo(1000, 6), farthestMm: Infinity });
  });

  test('of a tube behind a lens whose sensor is known is counted from its front', () => {
    // 45 mm, 75 mm from front to sensor, nearest 50 cm from the sensor, 26 mm of tube. By u + v = T and 1/u + 1/v = 1/f (any
    // textbook of optics): at infinity v = 71, u = 122.9, and 92.9 of that lie before the front; at its nearest v = 50.1 + 26, u = 110.
    const { nearestMm, farthestMm } = tubeFocusRange(45, 425, 75, 26);
    expect(farthestMm).toBeCloseTo(92.9, 1);
    expect(nearestMm).toBeCloseTo(85.2, 0);
  });
});

const rule = 'nearer-than-lens-focuses';
const files = {
  'kits/close.kit.yaml': `title: What brings a lens nearer
filters:
  plus-2: { kind: close-up, power: 2, loses: 0 stops }
  plus: { kind: close-up, loses: 0 stops }
  ring: { kind: tube, length: 5 mm, loses: 0 stops }
`,
};
const film = (camera: string) =>
  spec(`kit: [kits/camera.kit.yaml, kits/close.kit.yaml]
shots:
  box: { record: 12 s, camera: { ${camera} } }
`);

describe('a lens of 25 mm, from 18 cm on', () => {
  test('focuses from 13.2 to 50 cm with 2 dioptres', () => {
    const [far] = messages(film('filters: plus-2, distance: 60 cm'), rule, files);
    expect(far).toContain('with `plus-2` `normal` focuses from 13.2 cm to 50 cm');
    expect(titles(film('filters: plus-2, distance: 60 cm'), rule, files)).toEqual([
      'Set distance to 50 cm (the farthest that it focuses)',
    ]);
    expect(messages(film('filters: plus-2, distance: 14 cm'), rule, files)).toEqual([]);
    expect(messages(film('filters: plus-2, distance: 12 cm'), rule, files)[0]).toContain('focuses from 13.2 cm');
  });

  test('focuses up to 15 cm with a tube of 5 mm', () => {
    expect(messages(film('filters: ring, distance: 20 cm'), rule, files)[0]).toContain('to 15 cm in front of it');
    expect(messages(film('filters: ring, distance: 12 cm'), rule, files)).toEqual([]);
  });

  test('asks for a power that is not said, where it decides', () => {
    const near = findings(film('filters: plus, distance: 12 cm'), rule, files);
    expect(near.map(({ severity, message }) => [severity, message])).toEqual([
      ['info', expect.stringContaining('Say its `power` in the kit.')],
    ]);
    expect(messages(film('filters: plus, distance: 60 cm'), rule, files)).toEqual([]);
  });

  test('loses no light by a close-up lens, and shows what the shorter one does', () => {
    const shotOf = (camera: string) => checkSpec(film(camera), files).film!.shots.get('box')!;
    const close = shotOf('filters: plus-2, distance: 50 cm');
    expect(magnificationOf(close)).toBeCloseTo(0, 6);
    expect(lensAt(close, 0)!.focalMm).toBeCloseTo(1 / (1 / 25 + 0.002), 6);
    expect(magnificationOf(shotOf('distance: 50 cm'))).toBeCloseTo(25 / 475, 6);
  });
});

describe('a lens whose front stands 15 cm before the sensor', () => {
  test('loses the light of the magnification in which it shows things', () => {
    const macro = {
      'kits/own.kit.yaml':
        'lenses:\n  half-life: { focal: 70 mm, aperture: f/2.8 to f/22, nearest-focus: 15 cm, front-to-sensor: 15 cm }\n',
    };
    const text = spec(`kit: [kits/camera.kit.yaml, kits/own.kit.yaml]
shots:
  box: { record: 12 s, camera: { lens: half-life, distance: 16.5 cm } }
`);
    const shot = checkSpec(text, macro).film!.shots.get('box')!;
    const { focalMm, focusMm } = lensAt(shot, 0)!;
    // From object to sensor it is f × (2 + m + 1/m) (thin lens): 70 mm × 4.5 = 31.5 cm is half life size.
    expect(magnificationOf(shot)).toBeCloseTo(0.5, 6);
    expect(focalMm / (focusMm - focalMm)).toBeCloseTo(0.5, 6);
  });
});
