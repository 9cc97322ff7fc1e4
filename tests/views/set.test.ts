/** The set to scale: places, angles and lengths in numbers. */
import { describe, expect, test } from 'vitest';
import { sceneOf } from '../../server/views/scene.ts';
import { above, drawAbove } from '../../server/views/set/above.ts';
import { drawSide, sideOf } from '../../server/views/set/side.ts';
import { scaleFor } from '../../server/views/set/scale.ts';
import { checked, corners, drawnFor, elements, lineLength, wordsOf } from '../helpers/drawing.ts';
import type { Picture } from '../../server/views/picture.ts';

/** Page units for each millimetre, read from the scale bar. */
function pxPerMm(picture: Picture): number {
  const bar = elements(picture.body).find((one) => one.name === 'line' && one.attrs['stroke-width'] === 1.4)!;
  const words = wordsOf(picture).find((one) => /^\d+(?:\.\d)? (?:mm|cm|m)$/.test(one) && !/^(?:60|12) cm$/.test(one))!;
  const [value, unit] = words.split(' ') as [string, string];
  return lineLength(bar) / (Number(value) * { mm: 1, cm: 10, m: 1000 }[unit]!);
}

describe('from above', () => {
  test('the camera is its distance away: 60 cm, against the scale bar', () => {
    const { result, film, shot } = checked(
      'camera: { lens: normal, distance: 60 cm, raster: 3840x2160, rate: 25, aperture: f/8 }\n',
    );
    const picture = drawAbove(result, film, shot);
    const tape = drawnFor(picture, shot.camera.distance!).find((one) => one.name === 'line')!;
    expect(lineLength(tape) / pxPerMm(picture)).toBeCloseTo(600, 0);
  });

  test('a lamp at 50° camera left stands left of the camera, 50° round from it', () => {
    const { film, shot } = checked(
      'lamps:\n  key: { use: panel, temperature: 5000 K, distance: 60 cm, angle: 50°, height: 3.5 cm }\n',
    );
    const scene = sceneOf(shot, film);
    const { place } = scaleFor([scene.lamps[0]!.at, scene.middle, { x: 0, y: 0, z: -600 }], above);
    const [lamp, middle] = [place(scene.lamps[0]!.at), place(scene.middle)];
    expect(lamp.x).toBeLessThan(middle.x);
    // Down the page is toward the camera.
    expect((Math.atan2(middle.x - lamp.x, lamp.y - middle.y) * 180) / Math.PI).toBeCloseTo(50, 6);
  });

  test('a lamp stands where it is measured to the product, whatever part is filmed', () => {
    const lampOf = (subject: string) => {
      const { film, shot } = checked(`product: { size: 9 x 6 x 60 cm, parts: { knob: { height: 58 cm } } }
lamps: { key: { use: panel, temperature: 5000 K, distance: 40 cm, angle: 45°, height: 5 cm } }
shots: { box: { record: 12 s, subject: ${subject} } }
`);
      return sceneOf(shot, film).lamps[0];
    };
    // 25 cm under the product's middle: √(40² − 25²) = 31.2 cm across the table.
    expect(Math.hypot(lampOf('knob')!.at.x, lampOf('knob')!.at.z)).toBeCloseTo(312.2, 1);
    expect(lampOf('knob')).toEqual(lampOf('product'));
  });

  test('the picture spreads by the angle of lens and sensor: 36.8° for 17.3 mm behind 25 mm focused at 60 cm', () => {
    const { result, film, shot } = checked();
    const picture = drawAbove(result, film, shot);
    const outline = corners(drawnFor(picture, shot.camera.lensName!).find((one) => one.name === 'path')!);
    const lens = outline.reduce((low, one) => (one.y > low.y ? one : low));
    const far = outline
      .filter((one) => one !== lens)
      .sort((a, b) => a.y - b.y)
      .slice(0, 2);
    const angles = far.map((one) => Math.atan2(one.x - lens.x, lens.y - one.y));
    // Image distance of a thin lens, 25 × 600 ÷ (600 − 25) = 26.087 mm; the camera looks down by 4.3°, so about.
    const wanted = (2 * Math.atan(17.3 / 2 / 26.087) * 180) / Math.PI;
    expect(((Math.max(...angles) - Math.min(...angles)) * 180) / Math.PI).toBeCloseTo(wanted, 0);
  });

  test('a lamp that is moved on the page with its place', () => {
    const lamps = (distance: string) =>
      `lamps:\n  key: { use: panel, temperature: 5000 K, distance: ${distance}, angle: 90°, height: 3.5 cm }\n`;
    const at = (blocks: string) => {
      const { film, shot } = checked(blocks);
      return sceneOf(shot, film).lamps[0]!.at;
    };
    expect(at(lamps('60 cm')).x).toBeCloseTo(-600, 6);
    expect(at(lamps('1.2 m')).x).toBeCloseTo(-1200, 6);
  });
});

describe('from the side', () => {
  test('heights and distances are true along the line of the camera, wherever it stands', () => {
    const { film, shot } = checked(
      'camera: { lens: normal, distance: 60 cm, height: 23.5 cm, angle: 90°, raster: 3840x2160, rate: 25 }\n',
    );
    const side = sideOf(shot);
    const { camera, middle } = sceneOf(shot, film);
    const [lens, product] = [side.flat(camera!.pose.at), side.flat(middle)];
    expect(lens.up - product.up).toBeCloseTo(200, 6);
    expect(Math.hypot(lens.right - product.right, lens.up - product.up)).toBeCloseTo(600, 6);
    expect(lens.right).toBeLessThan(product.right);
  });

  test('the sharp zone lies between its limits', () => {
    const { film, shot } = checked();
    const { camera } = sceneOf(shot, film);
    const { pose, sharp, zone } = camera!;
    const along = sharp!.map(
      (one) =>
        (one.x - pose.at.x) * pose.forward.x +
        (one.y - pose.at.y) * pose.forward.y +
        (one.z - pose.at.z) * pose.forward.z,
    );
    expect(Math.min(...along)).toBeCloseTo(zone!.nearMm, 3);
    expect(Math.max(...along)).toBeCloseTo(zone!.farMm, 3);
  });

  test('what is seen ends on the surface and on the backdrop', () => {
    const { film, shot } = checked();
    const { section, hung } = sceneOf(shot, film).camera
      ? { ...sceneOf(shot, film), section: sceneOf(shot, film).camera!.section }
      : { section: [], hung: undefined };
    for (const point of section) {
      expect(point.y).toBeGreaterThanOrEqual(-750 - 1e-6);
      expect(point.z).toBeLessThanOrEqual(hung!.behindMm + 1e-6);
    }
    expect(section.some((point) => Math.abs(point.y) < 1e-6)).toBe(true);
    expect(section.some((point) => Math.abs(point.z - hung!.behindMm) < 1e-6)).toBe(true);
  });
});

describe('findings', () => {
  test('stand at the thing that they are about, with their number and their characters', () => {
    const { result, film, shot } = checked(
      'lamps:\n  key: { use: panel, temperature: 5000 K, level: 40 %, distance: 90 cm, angle: 178°, height: 6 cm, role: key }\n',
    );
    const seen = result.findings.find((one) => one.rule === 'lamp-in-shot' || one.rule === 'lamp-behind-backdrop')!;
    const picture = drawAbove(result, film, shot);
    const noted = picture.noted.find((one) => one.finding === seen)!;
    const mark = elements(picture.body).find(
      (one) =>
        one.attrs['data-start'] === seen.start &&
        one.attrs['data-end'] === seen.end &&
        one.children.some((child) => typeof child !== 'string' && JSON.stringify(child).includes(`"${noted.number}"`)),
    );
    expect(mark).toBeDefined();
  });

  test('of other shots stay out', () => {
    const blocks = `camera: { lens: normal, support: tripod, distance: 60 cm, height: 8 cm, raster: 3840x2160, rate: 25, bits: 10, colour-space: bt709, shutter: 1/50 s, aperture: f/8, iso: 400, white-balance: 5000 K, focus: locked }
shots:
  one: { record: 12 s }
  two: { record: 12 s, camera: { aperture: f/2 } }
cut:
  - { shot: one, length: 5 s }
  - { shot: two, length: 5 s }
`;
    const { result, film } = checked(blocks);
    const own = (name: string) =>
      drawSide(result, film, film.shots.get(name)!).noted.map(({ finding }) => finding.rule);
    expect(own('two')).toContain('exposure-off');
    expect(own('one')).not.toContain('exposure-off');
  });
});

test('a set without distances, sizes or a kit is drawn as far as it is known', () => {
  const { result, film, shot } = checked(
    'kit: none\ncamera: { iso: 400 }\nlamps: { key: { distance: 60 cm } }\nproduct: { finish: matte }\n',
  );
  for (const picture of [drawAbove(result, film, shot), drawSide(result, film, shot)]) {
    expect(picture.height).toBeGreaterThan(100);
    expect(JSON.stringify(picture.body)).not.toMatch(/NaN|null|Infinity/);
  }
});
