/** Fine cloth against the pixels. */
import { describe, expect, test } from 'vitest';
import { diffractionContrast } from '../../server/calc/optics.ts';
import { findings, mends, messages } from '../helpers/findings.ts';
import { spec } from '../helpers/workspace.ts';

const rule = 'weave-moire';
const film = ({ weave = '0.2 mm', camera = '', more = '' }) =>
  spec(`product: { size: 9 x 6 x 7 cm, finish: satin, weave: ${weave} }
shots:
  box: { record: 12 s, camera: { ${camera} } }
${more}`);

test('diffraction leaves 39 % at half of the finest pattern, and nothing from there on', () => {
  // Transfer function of a circular opening at half its cut-off: 0.391 (Goodman, Introduction to Fourier Optics, from memory).
  expect(diffractionContrast(2 * 0.00055 * 8, 8)).toBeCloseTo(0.391, 3);
  expect(diffractionContrast(0.00055 * 8, 8)).toBe(0);
  expect(diffractionContrast(1, 8)).toBeGreaterThan(0.99);
});

describe('a weave', () => {
  test('beats between one and two and a half recorded pixels', () => {
    // 25 mm at 60 cm on 17.3 mm: 398 mm across 3840 pixels, 9.65 for each mm (thin lens).
    const [finding] = messages(film({}), rule);
    expect(finding).toContain('one thread of the product (0.2 mm) covers 1.9 recorded pixels');
    expect(mends(film({ camera: 'distance: 60 cm' }), rule)).toEqual([
      'Set distance to 46 cm (2.6 pixels for each thread)',
      'Set distance to 114 cm (1 pixel for each thread)',
    ]);
  });

  test.each(['0.05 mm', '0.1 mm', '0.27 mm', '2 mm'])('of %s does not', (weave) =>
    expect(findings(film({ weave }), rule).filter((one) => one.severity === 'warning')).toEqual([]),
  );

  test('is blurred away by a small opening', () => {
    expect(messages(film({ camera: 'aperture: f/22' }), rule)).toEqual([]);
  });

  test('of a part is its own, else that of the product', () => {
    const part = (weave: string) =>
      film({}).replace('weave: 0.2 mm }', `weave: 0.2 mm, parts: { cord: { size: 3 x 1 cm${weave} } } }`);
    const cord = (weave: string) => part(weave).replace('box: { record', 'box: { subject: cord, record');
    expect(messages(cord(''), rule)[0]).toContain('`cord`');
    expect(messages(cord(', weave: 1 mm'), rule)).toEqual([]);
  });

  test('that moves and is too fine for the film is a note', () => {
    // 0.3 mm are 2.9 recorded pixels, and 1.45 of a film half as large.
    const turning = film({ weave: '0.3 mm' }).replace(
      'record: 12 s,',
      'record: 12 s, turn: { use: large, speed: 1 rpm },',
    );
    expect(findings(turning, rule).map(({ severity, message }) => [severity, message])).toEqual([
      ['info', expect.stringContaining('covers 1.4 pixels in `film`')],
    ]);
    expect(messages(film({ weave: '0.3 mm' }), rule)).toEqual([]);
  });
});
