/** The picture as lit against what optics, exposure and colour science say, each with its source. */
import Color from 'colorjs.io';
import { RGBColorSpace, sRGB_Linear, to, XYZ_D65 } from 'colorjs.io/fn';
import { describe, expect, test } from 'vitest';
import { linearFromSrgb } from '../../server/calc/colour.ts';
import { blurDiscMm, imageDistanceMm } from '../../server/calc/optics.ts';
import { whiteXy } from '../../server/calc/temperature.ts';
import { tintOf } from '../../server/calc/white-balance.ts';
import { litPiece, type LitScene } from '../../server/core/derived/lit/index.ts';
import { wantedLux } from '../../server/core/derived/light.ts';
import { lensAt } from '../../server/core/derived/optics.ts';
import { paintLit } from '../../server/views/lit/paint.ts';
import { checked } from '../helpers/drawing.ts';

/** What `film` shows at the start of its first piece. */
function sceneOf(blocks: string): LitScene {
  const { film } = checked(blocks);
  return litPiece(film, film.cut[0]!, film.deliverables.get('film')!, 0)!;
}

type Three = [number, number, number];

/** Linear sRGB of a light where what a camera is balanced for counts as white, by another library. */
function asColorJs(light: Three, balanced: Three): Three {
  const same: [Three, Three, Three] = [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ];
  const id = `camera-${balanced.join()}`;
  const space = new RGBColorSpace({ id, name: id, base: XYZ_D65, white: balanced, toXYZ_M: same, fromXYZ_M: same });
  return to({ space, coords: light, alpha: 1 }, sRGB_Linear).coords as Three;
}

/** The mean colour of a small square, x and y as shares of the picture. */
function codeAt(scene: LitScene, x: number, y: number, width = 480): [number, number, number] {
  const height = Math.round(width / scene.aspect);
  const pixels = paintLit(scene, width, height);
  const sum = [0, 0, 0];
  for (let dy = -4; dy <= 4; dy++)
    for (let dx = -4; dx <= 4; dx++)
      for (let channel = 0; channel < 3; channel++)
        sum[channel]! += pixels[((Math.round(y * height) + dy) * width + Math.round(x * width) + dx) * 4 + channel]!;
  return sum.map((one) => one / 81) as [number, number, number];
}

const linear = (code: number) => linearFromSrgb({ r: code / 255, g: 0, b: 0 }).r;

/** A matt card that fills the middle of the picture; `#767676` gives back 18 %. */
const card = 'product: { size: 30 x 1 x 20 cm, finish: matte, colour: "#767676" }\n';
/** No lamp but the room's light. */
const evenly = (lux: number, kelvin = 5000) =>
  `${card}lamps: {}\nroom: { light: ${lux.toFixed(2)} lx, source: window, temperature: ${kelvin} K }\n`;

/** Light on the card for which the settings of the base spec are right. */
const right = wantedLux(checked(card).shot)!;

test('what hangs is drawn where it hangs, and darkens nothing that it would stand on', () => {
  const middle = (blocks: string) => {
    const { areas, aspect } = sceneOf(blocks);
    const ys = areas.find(({ kind }) => kind === 'product')!.outline.filter((_, index) => index % 3 === 1);
    return ((Math.min(...ys) + Math.max(...ys)) / 2) * aspect;
  };
  const bell = (hangs: string) => `product: { size: 8 x 8 x 10 cm, finish: matte${hangs} }\nlamps: {}\n`;
  const camera = (height: string) =>
    `camera: { lens: normal, distance: 60 cm, height: ${height}, raster: 3840x2160, rate: 25, shutter: 1/50 s, aperture: f/8, iso: 400, focus: locked }\n`;
  expect(middle(bell('') + camera('5 cm'))).toBeCloseTo(0.5, 2);
  expect(middle(bell(', hangs: 40 cm') + camera('45 cm'))).toBeCloseTo(0.5, 2);
  const dark = (blocks: string) => sceneOf(blocks).areas.filter(({ kind }) => kind === 'shadow').length;
  expect(dark(bell('') + camera('25 cm'))).toBeGreaterThan(0);
  expect(dark(bell(', hangs: 10 cm') + camera('35 cm'))).toBe(0);
});

describe('exposure', () => {
  // ISO 12232: what is exposed as the speed means it is 118 of 255 in sRGB, the code of 18 %.
  test('a grey card at the metered exposure comes out middle grey', () => {
    for (const code of codeAt(sceneOf(evenly(right)), 0.5, 0.5)) expect(code).toBeCloseTo(118, -0.5);
  });

  // A stop is a factor of two in light (ISO 2720).
  test.each([-2, -1, 1])('%i stop is that in light', (stops) => {
    const [middle] = codeAt(sceneOf(evenly(right)), 0.5, 0.5);
    const [other] = codeAt(sceneOf(evenly(right * 2 ** stops)), 0.5, 0.5);
    expect(Math.log2(linear(other) / linear(middle))).toBeCloseTo(stops, 1);
  });
});

describe('white balance', () => {
  const xyz = (kelvin: number): Three => {
    const { x, y } = whiteXy(kelvin);
    return [x / y, 1, (1 - x - y) / y];
  };
  const xy = (linear: Three) => {
    const [x, y, z] = new Color('srgb-linear', linear).to('xyz-d65').coords as Three;
    return [x / (x + y + z), y / (x + y + z)] as const;
  };

  // Bradford's adaptation as colorjs.io has it; the lights are those of CIE 15 (daylight) and Kang et al. 2002 (Planck).
  test.each([
    [3200, 5600],
    [4300, 5000],
    [6500, 4300],
  ])('%i K under a balance of %i K has the tint that colour science gives', (light, balanced) => {
    const { r, g, b } = tintOf(whiteXy(light), whiteXy(balanced));
    const [own, theirs] = [xy([r, g, b]), xy(asColorJs(xyz(light), xyz(balanced)))];
    expect(Math.abs(own[0] - theirs[0])).toBeLessThan(0.001);
    expect(Math.abs(own[1] - theirs[1])).toBeLessThan(0.001);
  });

  test('and that is what the picture shows', () => {
    const scene = sceneOf(evenly(right / 2, 3200));
    const { r, g, b } = tintOf(whiteXy(3200), whiteXy(5000));
    const [own, theirs] = [xy(codeAt(scene, 0.5, 0.5).map(linear) as Three), xy([r, g, b])];
    expect(Math.abs(own[0] - theirs[0])).toBeLessThan(0.005);
    expect(Math.abs(own[1] - theirs[1])).toBeLessThan(0.005);
  });
});

describe('focus', () => {
  // The disc of a thin lens, f² ÷ N × |z − s| ÷ (z·(s − f)) (Photographic Lenses FAQ, no. 10), in pixels of the picture.
  test.each([
    [2, '60 cm'],
    [4, '50 cm'],
    [2, '160 cm'],
  ])('a card before or behind the focus has the blur disc of its lens at its edge (f/%d, %s)', (fNumber, focus) => {
    const blocks = `${card}lamps: {}
room: { light: ${30 * fNumber ** 2} lx, source: window, temperature: 5000 K }
backdrop: { material: paper, colour: "#050505", size: 400 x 400 cm, behind: 70 cm }
shots:
  box: { record: 12 s, camera: { distance: 90 cm, height: 10 cm, aperture: f/${fNumber}, focus: ${focus} } }
`;
    const { film, shot } = checked(blocks);
    const scene = litPiece(film, film.cut[0]!, film.deliverables.get('film')!, 0)!;
    const width = 1920;
    const lens = lensAt(shot, 0)!;
    const set = { focalMm: lens.focalMm, fNumber: lens.fNumber!, distanceMm: lens.focusMm };
    // The front of the card stands 5 mm before its middle.
    const disc = (blurDiscMm(set, 895) / lens.sensor.widthMm) * width;
    expect(disc).toBeGreaterThan(10);
    expect(Math.abs(edgeWidth(scene, width) - disc)).toBeLessThan(1);
  });

  /** From where an edge begins to give way to where it is gone, along the middle row. */
  function edgeWidth(scene: LitScene, width: number): number {
    const height = Math.round(width / scene.aspect);
    const pixels = paintLit(scene, width, height);
    const start = Math.floor(height / 2) * width;
    const row = Array.from({ length: width / 2 }, (_, x) => linear(pixels[(start + x) * 4]!));
    const [least, most] = [Math.min(...row), row.at(-1)!];
    const shares = row.map((one) => (one - least) / (most - least));
    // A disc is half way at its middle, and 9.9 % of it lie beyond 0.7 of its radius: asked of the disc's own edge law.
    const at = (share: number) => {
      const next = shares.findIndex((one) => one >= share);
      return next - (shares[next]! - share) / (shares[next]! - shares[next - 1]!);
    };
    return (at(beyond(0.7)) - at(beyond(-0.7))) / 0.7;
  }

  /** Share of a disc of radius 1 on one side of a line at a distance from its middle. Geometry. */
  const beyond = (t: number) => 0.5 + (Math.asin(t) + t * Math.sqrt(1 - t * t)) / Math.PI;
});

describe('what clips', () => {
  // The rule calls a screen burnt from 2.5 stops over middle grey (ISO 2720); 18 % becomes 100 % at 2.47.
  test('a screen is marked from where the rule calls it burnt', () => {
    const levels = [40, 55, 60, 63, 80, 100];
    const shown = levels.map((percent) => {
      const { result, film } = checked(`backdrop: { use: monitor, behind: 40 cm, brightness: ${percent} % }
lamps: {}
room: { light: 1 lx, source: window, temperature: 5000 K }
shots:
  box: { record: 12 s, camera: { aperture: f/4, white-balance: 6500 K } }
`);
      const scene = litPiece(film, film.cut[0]!, film.deliverables.get('film')!, 0)!;
      return { isMarked: isMarked(scene), isBurnt: result.findings.some(isAboutBurning) };
    });
    expect(shown.map((one) => one.isMarked)).toEqual(shown.map((one) => one.isBurnt));
    expect(new Set(shown.map((one) => one.isMarked)).size).toBe(2);
  });

  const isAboutBurning = ({ rule, message }: { rule: string; message: string }) =>
    rule === 'screen-tone-off' && message.includes('burns out');

  function isMarked(scene: LitScene): boolean {
    const [plain, marked] = [false, true].map((on) => paintLit(scene, 480, 270, { marked: on }));
    return plain!.some((code, index) => code !== marked![index]);
  }
});

describe('fall-off', () => {
  // Inverse square law and Lambert's cosine; off its axis a beam has cosⁿ left, half at half its angle (common practice).
  test('across the backdrop is that of the lamp', () => {
    const { film, shot } = checked(`product: { size: 1 x 1 x 1 cm, finish: matte }
backdrop: { material: paper, colour: "#808080", size: 600 x 400 cm, behind: 100 cm }
room: { light: 0 lx, source: window, temperature: 5000 K }
lamps:
  side: { use: spot, temperature: 5600 K, level: 40 %, distance: 100 cm, angle: 300°, aim: backdrop }
`);
    const scene = litPiece(film, film.cut[0]!, film.deliverables.get('film')!, 0)!;
    const { focalMm, focusMm, sensor } = lensAt(shot, 0)!;
    const field = sensor.widthMm / imageDistanceMm(focalMm, focusMm);
    const lightAt = (share: number) => {
      // The lens stands 60 cm before the product and the backdrop 100 cm behind it.
      const aside = (share - 0.5) * field * 1600;
      const lamp = { aside: 1000 * Math.sin(Math.PI / 3), before: 1000 * Math.cos(Math.PI / 3) };
      const far = Math.hypot(lamp.aside - aside, lamp.before);
      const offAxis = (lamp.aside * (lamp.aside - aside) + lamp.before ** 2) / far / 1000;
      const power = Math.log(0.5) / Math.log(Math.cos((27.5 * Math.PI) / 180));
      return (lamp.before / far / far ** 2) * offAxis ** power;
    };
    const seenAt = (share: number) => linear(codeAt(scene, share, 0.2, 960)[1]);
    for (const share of [0.2, 0.35, 0.65, 0.8])
      expect(seenAt(share) / seenAt(0.5) / (lightAt(share) / lightAt(0.5))).toBeCloseTo(1, 1);
  });
});
