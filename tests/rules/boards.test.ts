/** Boards that give light back, windows that stand in a place, and what flags keep light from. */
import { describe, expect, test } from 'vitest';
import { beamShare, bouncedCandela } from '../../server/calc/light.ts';
import { mainsRipple } from '../../server/core/derived/pulses.ts';
import { faceLight, lampPosition, luxToward } from '../../server/core/derived/light.ts';
import { lampFace } from '../../server/core/derived/lamp-face.ts';
import { productPlace } from '../../server/core/derived/optics.ts';
import { backdropLight, lampStand } from '../../server/core/derived/backdrop-light.ts';
import { backdropPlaces } from '../../server/core/derived/backdrop-places.ts';
import { showingsOf } from '../../server/core/derived/showings.ts';
import { hasRoomAt } from '../../server/rules/optics/lamp-clearance.ts';
import { checkSpec, spec } from '../helpers/workspace.ts';
import { lampSize } from '../../server/core/derived/lamp-size.ts';

const lamps = (more: string) => `lamps:
  key: { use: panel, distance: 60 cm, angle: 90° left }
${more}`;
const board = '  board: { bounces: key, size: 50 x 70 cm, reflects: 85 %, distance: 40 cm, angle: 90° right }\n';
const shotOf = (text: string) => [...checkSpec(text).film!.shots.values()][0]!;
const rulesOf = (text: string) => checkSpec(text).findings.map(({ rule }) => rule);

describe('a softbox', () => {
  // A bright disc of the same area: E = I ÷ (d² + r²) (IES Lighting Handbook, from memory); a spot of 4200 cd loses 1.5 stops.
  test.each([
    [0.45, 1485 / (0.45 ** 2 + 0.36 / Math.PI)],
    [0.9, 1485 / (0.9 ** 2 + 0.36 / Math.PI)],
    [3, 1485 / 9],
  ])('is as bright as its bare lamp far away, and weaker near by: %d m', (distanceM, lux) => {
    const key = `{ use: spot, modifier: softbox, distance: ${distanceM * 100} cm, angle: 0° }`;
    const place = shotOf(spec(`lamps:\n  key: ${key}\n`)).lit[0]!;
    expect(Math.log2(luxToward(place)! / lux)).toBeCloseTo(0, 1);
  });
});

describe('a lamp for the backdrop', () => {
  const onWall = (bottom: string) =>
    backdropLight(
      shotOf(
        spec(`backdrop: { material: paper, size: 200 x 200 cm, behind: 70 cm, bottom: ${bottom} }
room: { light: none }
lamps:
  wash: { use: spot, aim: backdrop, distance: 100 cm, angle: 0°, role: backdrop }
`),
      ),
      0,
    )!.totalLux;

  test('counts where the camera looks', () => {
    // Straight before the middle, 1 m off: what the kit says. 1 m under it: twice the square of the way, 45° aslant and off the axis.
    expect(onWall('-102 cm') / 4200).toBeCloseTo(1, 2);
    expect(onWall('0 cm') / (4200 * 0.5 * Math.SQRT1_2 * beamShare(45, 55))).toBeCloseTo(1, 2);
  });
});

describe('the backdrop, place by place', () => {
  const places = (lamp: string, behind: string) => {
    const { film } = checkSpec(
      spec(`product: { size: 9 x 6 x 8 cm, finish: satin }
backdrop: { material: paper, size: 200 x 200 cm, behind: ${behind} }
surface: none
room: { light: none }
lamps:
  key: ${lamp}
camera: { lens: normal, distance: 60 cm, height: 4 cm, raster: 3840x2160, rate: 25, aperture: f/8, iso: 400, shutter: 1/50 s }
`),
    );
    return backdropPlaces(showingsOf([...film!.shots.values()][0]!, film!)[0]!, film!);
  };

  test('loses light with the way and the slant: inverse square and cosine law', () => {
    // 1 m straight before the middle. 17.3 of 25 mm show 90 cm at 130 cm: the side lies 45 cm off, half the way to it 22.5 cm.
    const seen = places('{ use: tube, aim: backdrop, distance: 100 cm, angle: 0° }', '70 cm');
    const [half, side] = [9, 12].map((column) => seen.find(({ x, y }) => x === column / 12 && y === 0.5)!.lux);
    const share = (off: number) => (1 + off ** 2) ** -1.5 * beamShare((Math.atan(off) * 180) / Math.PI, 120);
    expect(side! / half!).toBeCloseTo(share(0.45) / share(0.225), 1);
  });

  test('lies in the shadow of the product where lamp, product and place are in one line: similar triangles', () => {
    // The lamp, seen from above, is 32 cm right and 95 cm before the middle: on a wall 20 cm behind, that is thrown 6.7 cm left.
    const seen = places('{ use: spot, distance: 100 cm, angle: 341.4°, height: 4 cm }', '20 cm');
    const isDark = ({ lux, shadedLux }: { lux: number; shadedLux: number }) => shadedLux < 0.1 * lux;
    const dark = seen.filter(isDark);
    const widthMm = (800 * 17.3) / 25;
    const across = dark.map(({ x }) => (x - 0.5) * widthMm);
    // The camera sees what the product, 6.2 cm of half width at the wall, does not cover, as far as 6.7 + 4.5 x 1.21 + 1 cm.
    expect(dark.length).toBeGreaterThan(0);
    expect(Math.max(...across)).toBeLessThan(0);
    expect(Math.min(...across)).toBeGreaterThan(-130);
    expect(seen.filter(({ x }) => x > 0.5).some(isDark)).toBe(false);
  });
});

describe('where a fix would put a lamp', () => {
  const room = (place: string, distanceMm: number) => {
    const { film } = checkSpec(
      spec(`product: { size: 40 x 4 x 20 cm, finish: satin }
lamps:
  key: { use: panel, temperature: 5000 K, distance: 120 cm, ${place}, role: key }
`),
    );
    return hasRoomAt(film!, [...film!.shots.values()][0]!.lit[0]!, distanceMm);
  };

  // A panel of 40 x 30 cm; the product reaches 20 cm aside, the camera stands 60 cm before it, 8 cm high.
  test.each([
    ['angle: 90°, height: 10 cm', 290, false], // 9 cm from the end of the product
    ['angle: 90°, height: 10 cm', 320, true],
    ['angle: 0°, height: 60 cm', 190, false], // nearer than half its longest side
    ['angle: 0°, height: 25 cm', 600, false], // on the camera
    ['angle: 0°, height: 60 cm', 600, true],
    ['angle: 150°, height: 25 cm', 600, false], // in the picture
    ['angle: 110°, height: 25 cm', 900, true],
  ])('%s, %d mm away: %s', (place, distanceMm, free) => {
    expect(room(place, distanceMm)).toBe(free);
  });
});

describe('a board', () => {
  test('gives back as a matt surface does: luminance ρ·E ÷ π over its area', () => {
    // Lambert: 1 m² that gives back everything at 1000 lx has 1000 ÷ π cd/m² (IES Lighting Handbook, from memory).
    expect(bouncedCandela({ lux: 1000, reflects: 1, areaM2: 1, turnDeg: 0 })).toBeCloseTo(318.31, 2);
    // Turned by 60° between the ways, each is seen at 30°: cos² 30° = 3/4.
    expect(bouncedCandela({ lux: 1000, reflects: 1, areaM2: 1, turnDeg: 60 })).toBeCloseTo(238.73, 2);
    expect(bouncedCandela({ lux: 1000, reflects: 0.85, areaM2: 1, turnDeg: 180 })).toBeCloseTo(0, 9);
  });

  test('fills what its lamp leaves dark, by the square of the ways', () => {
    const small = `lamps:
  key: { use: panel, distance: 60 cm, angle: 45° left }
  board: { bounces: key, size: 10 x 10 cm, reflects: 80 %, distance: 40 cm, angle: 45° right }
`;
    const { lamps: lights } = faceLight(shotOf(spec(small)), 0);
    const [key, fill] = ['key', 'board'].map((name) => lights.find(({ lamp }) => lamp.name === name)!);
    // The two ways to the product stand at right angles, so the board is √(60² + 40²) cm from the key, 33.7° off its axis,
    // and turns the light by 56.3°.
    const face = Math.cos(Math.PI / 4);
    const beam = beamShare(33.69, lampSize(key!.lamp).beamDeg ?? 120);
    const onBoard = (key!.lux / face) * (60 ** 2 / (60 ** 2 + 40 ** 2)) * beam;
    const expected = ((0.8 * onBoard * 0.01 * Math.cos((28.15 * Math.PI) / 180) ** 2) / Math.PI / 0.4 ** 2) * face;
    expect(fill!.lux / expected).toBeCloseTo(1, 1);
  });

  test('is dark without its lamp', () => {
    const other = '  other: { use: panel, distance: 60 cm, angle: 30° left }\n';
    const shots = 'shots:\n  box: { record: 12 s, lit: [other, board] }\n';
    expect(shotOf(spec(lamps(other + board) + shots)).lit.map(({ name }) => name)).toEqual(['other']);
  });

  test('pulses as its lamp does, and draws nothing', () => {
    const place = shotOf(spec(lamps(board))).lit.find(({ name }) => name === 'board')!;
    expect(place.runsOn).toBe('nothing');
    expect(mainsRipple(place)).toEqual(mainsRipple(place.bounces!));
  });

  test('is turned half way between its lamp and the product, wherever its corners count', () => {
    const place =
      '  key: { use: panel, distance: 60 cm, angle: 0° }\n  board: { bounces: key, size: 40 x 20 cm, distance: 60 cm, angle: 90° right }\n';
    const shot = shotOf(spec(`lamps:\n${place}`));
    const lamp = shot.lit.find(({ name }) => name === 'board')!;
    const at = lampPosition(lamp, productPlace(shot), 0)!;
    // From the board the product lies at -x and the lamp half a right angle farther on, at -x -z: half way is 22.5°.
    const [from, to] = lampFace(lamp, at, shot, 0);
    const turned = (Math.atan2(Math.abs(to!.x - from!.x), Math.abs(to!.z - from!.z)) * 180) / Math.PI;
    expect(turned).toBeCloseTo(22.5, 3);
    expect(Math.hypot(to!.x - from!.x, to!.z - from!.z)).toBeCloseTo(400, 6);
  });

  test('needs a size', () => {
    const [finding] = checkSpec(spec(lamps(board.replace(' size: 50 x 70 cm,', '')))).findings;
    expect(finding).toMatchObject({ rule: 'missing-key' });
    expect(finding!.message).toContain('`size`');
  });

  test('must be of a lamp that is there', () => {
    expect(rulesOf(spec(lamps(board.replace('bounces: key', 'bounces: kye'))))).toContain('name-not-defined');
    expect(rulesOf(spec(lamps(board)))).not.toContain('name-not-defined');
  });

  test.each(['bounces: board', 'bounces: second'])(
    'that bounces itself or another board is no light: %s',
    (bounces) => {
      const second = '  second: { bounces: board, size: 50 x 70 cm, distance: 40 cm, angle: 20° right }\n';
      const film = checkSpec(spec(lamps(board.replace('bounces: key', bounces) + second))).film!;
      expect(film.lamps.get('board')!.bounces).toBeUndefined();
    },
  );
});

describe('a flag', () => {
  const backdrop = 'backdrop: { material: paper, size: 135 x 200 cm, behind: 70 cm }\n';
  const lit = (keptOff: string) => {
    const key = `lamps:\n  key: { use: panel, distance: 60 cm, angle: 45° left${keptOff} }\n`;
    return backdropLight(shotOf(spec(key + backdrop)), 0)!.totalLux;
  };

  test('keeps a lamp off the backdrop', () => {
    const room = shotOf(spec('')).room!.light!.value;
    expect(lit('')).toBeGreaterThan(10 * room);
    expect(lit(', kept-off: backdrop')).toBe(room);
    expect(lit(', kept-off: lens')).toBe(lit(''));
  });
});

describe('a lamp for the backdrop', () => {
  test('stands between it and the product where it is said to stand behind the product', () => {
    // 700 cd at 15 %, 28 cm below the middle of the paper and 37.5 cm from it: 25 cm before it, at cos 25/37.5 to its face.
    const glow = `lamps:
  key: { use: spot, aim: backdrop, level: 15 %, distance: 37.5 cm, angle: 180°, height: -15 cm }
backdrop: { material: paper, size: 135 x 100 cm, behind: 80 cm, bottom: -37 cm }
`;
    const shot = shotOf(spec(glow));
    const stand = lampStand(shot.lit[0]!, shot, 0)!;
    expect([stand.y, 800 - stand.z].map(Math.round)).toEqual([-150, 249]);
    const straight = shotOf(spec(glow.replace('180°', '0°')));
    expect(backdropLight(shot, 0)!.totalLux).toBeGreaterThan(0);
    expect(backdropLight(shot, 0)!.totalLux).toBeCloseTo(backdropLight(straight, 0)!.totalLux, 6);
  });

  test('stands behind what lets light through, and nobody knows how much comes through', () => {
    const sheet = `lamps:
  key: { use: spot, aim: backdrop, distance: 60 cm, angle: 180° }
backdrop: { material: tracing paper, size: 70 x 90 cm, behind: 40 cm }
`;
    const shot = shotOf(spec(sheet));
    expect(lampStand(shot.lit[0]!, shot, 0)!.z).toBeCloseTo(1000, 6);
    expect(backdropLight(shot, 0)!.complete).toBe(false);
  });
});

describe('a window in a place', () => {
  const kit = `title: Window
lamps:
  north: { kind: window, output: 800 lx at 1 m, temperature: 6000 K, size: 90 x 120 cm }
`;
  const day = (kept: string) => `kit: [kits/camera.kit.yaml, kits/window.kit.yaml]
lamps:
  north: { distance: 150 cm, angle: 60° left }
${kept}shots:
  box: { record: 12 s, takes: 20, reset: 3 min }
`;
  const drifts = (kept: string) => {
    const text = spec(day(kept));
    const { forSet = [] } = checkSpec(text, { 'kits/window.kit.yaml': kit });
    return forSet.filter(({ rule }) => rule === 'daylight-drifts').map(({ start, end }) => text.slice(start, end));
  };

  test('is daylight that changes while much is filmed', () => expect(drifts('')).toEqual(['north']));

  test('and so is what a board gives back of it', () => {
    expect(drifts('  card: { bounces: north, size: 50 x 70 cm, distance: 40 cm, angle: 60° right }\n')).toEqual([
      'north',
    ]);
  });
});
