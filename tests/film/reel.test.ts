/** The film that the panel plays: what stands at each frame, and that its drawings show what the film would. */
import { describe, expect, test } from 'vitest';
import {
  beatAt,
  beatFrom,
  type HowShown,
  type Layer,
  partOf,
  pieceFrom,
  shownAt,
} from '../../client/panel/play/shown-at.ts';
import { litPiece } from '../../server/core/derived/lit/index.ts';
import { sceneOf } from '../../server/film/reel-of.ts';
import { paintLit } from '../../server/views/lit/paint.ts';
import { reelFor } from '../helpers/film-panel.ts';
import { beatTimes, heardOf } from '../helpers/music.ts';
import { checkerFor, checkSpec, spec } from '../helpers/workspace.ts';

const asCut: HowShown = { flashes: false, stills: false };

const of = (blocks: string, deliverable?: string) => {
  const result = checkSpec(spec(blocks));
  const reel = reelFor(result, deliverable);
  // As it arrives in the panel.
  expect(JSON.parse(JSON.stringify(reel))).toEqual(reel);
  return { result, film: result.film!, reel };
};

/** What is seen of each piece at a frame, in shares. */
const seen = (layers: readonly Layer[]) =>
  layers.map((layer) =>
    layer.kind === 'plain'
      ? [layer.colour, layer.solid]
      : [layer.wanted.piece.name, Math.round(layer.solid * 1e6) / 1e6],
  );

const two = `shots:
  box: { record: 12 s }
  lid: { record: 12 s, turn: { by: 90° } }
`;

describe('what stands at a frame', () => {
  test('each piece from its first frame to its last', () => {
    const { reel } = of(`${two}cut:\n  - { shot: box, length: 4 s }\n  - { shot: lid, length: 6 s }\n`);
    expect(reel.frames).toBe(250);
    expect(seen(shownAt(reel, 99, asCut).layers)).toEqual([['box', 1]]);
    expect(seen(shownAt(reel, 100, asCut).layers)).toEqual([['lid', 1]]);
    expect(shownAt(reel, 250, asCut).layers).toEqual([]);
  });

  test('a dissolve of 10 frames is half of each between its fifth and its sixth', () => {
    const cut = 'cut:\n  - { shot: box, length: 4 s }\n  - { shot: lid, length: 6 s, dissolve: 10 frames }\n';
    const { reel } = of(two + cut);
    expect(seen(shownAt(reel, 94, asCut).layers)).toEqual([['box', 1]]);
    expect(seen(shownAt(reel, 99, asCut).layers)).toEqual([
      ['box', 1],
      ['lid', 0.45],
    ]);
    expect(seen(shownAt(reel, 100, asCut).layers)[1]).toEqual(['lid', 0.55]);
    expect(seen(shownAt(reel, 105, asCut).layers)).toEqual([['lid', 1]]);
  });

  test('a fade comes up from black', () => {
    const { reel } = of('cut:\n  - { shot: box, length: 10 s, fade-in: 1 s }\n');
    expect(seen(shownAt(reel, 0, asCut).layers)).toEqual([
      ['#000000', 1],
      ['box', 0.02],
    ]);
    expect(seen(shownAt(reel, 25, asCut).layers)).toEqual([['box', 1]]);
  });

  test('a take at a quarter of its speed goes on by a quarter of a frame', () => {
    const { reel } = of('cut:\n  - { shot: box, length: 10 s, from: 2 s, speed: 25 % }\n');
    const moment = (frame: number) => {
      const [layer] = shownAt(reel, frame, asCut).layers;
      return layer?.kind === 'drawing' ? layer.wanted.atS : undefined;
    };
    expect(moment(0)).toBe(2);
    expect(moment(100)).toBeCloseTo(2 + (100 * 0.25) / 25, 9);
  });

  test('a title fades in and out, and stands between', () => {
    const { reel } = of('titles:\n  - { text: Hello, at: 2 s, hold: 4 s, fade: 1 s }\n');
    const solid = (frame: number) => shownAt(reel, frame, asCut).titles.map((one) => one.solid);
    expect([solid(49), solid(50), solid(62), solid(80), solid(137), solid(149), solid(150)]).toEqual([
      [],
      [0],
      [0.48],
      [1],
      [0.52],
      [expect.closeTo(0.04, 9)],
      [],
    ]);
  });

  test('a deliverable that shows a section has its frames and its beats', () => {
    const { reel } = of(
      `deliver:
  film: { raster: 1920x1080, rate: 25, length: 10 s, codec: h264, bitrate: 16 Mb/s, sound: none }
  short: { like: film, length: 4 s, section: 2 s to 6 s, raster: 1080x1920 }
music: { track: tune, tempo: 100 bpm }
`,
      'short',
    );
    expect([reel.frames, reel.fromS, reel.raster]).toEqual([100, 2, { width: 1080, height: 1920 }]);
    // 60 s ÷ 100 × 25 frames: 15 frames a beat; 2 s are 50 frames, of which the beat at 60 is the fourth.
    expect(beatAt(reel, 9)).toMatchObject({ number: 3 });
    expect(beatAt(reel, 10)).toMatchObject({ number: 4, gone: expect.closeTo(0, 5) });
    expect([beatFrom(reel, 0, 1), beatFrom(reel, 10, 1), beatFrom(reel, 11, -1), beatFrom(reel, 99, 1)]).toEqual([
      10, 25, 10, 99,
    ]);
  });

  test('beats of music that slows down come where they are played', () => {
    const row = { bpm: 100, firstS: 0.4, seconds: 30, slows: 0.1 };
    const music = heardOf({ 'tune.wav': row });
    const blocks = `music: { track: tune, tempo: 100 bpm, first-beat: 0.4 s }
rights:
  tune: { kind: music, owner: own, file: tune.wav }
`;
    const reel = reelFor(checkerFor({ 'tune.wav': '' }, { music }).checkAs('shoot', spec(blocks)));
    const times = beatTimes(row);
    for (const beat of [0, 5, 12]) {
      const frame = Math.ceil((times[beat]! - 0.4) * 25);
      expect(beatAt(reel, frame)).toMatchObject({ number: beat });
      if (beat > 0) expect(beatFrom(reel, frame - 1, 1)).toBe(frame);
    }
    // Twelve even beats are 7.2 s, frame 180; steps from 0.57 s on are there half a beat sooner.
    expect(beatFrom(reel, 179, -1)).toBe(Math.ceil((times[12]! - 0.4) * 25));
  });

  test('pieces are reached one by one, and the ends stay', () => {
    const { reel } = of(`${two}cut:\n  - { shot: box, length: 4 s }\n  - { shot: lid, length: 6 s }\n`);
    expect([pieceFrom(reel, 0, 1), pieceFrom(reel, 100, 1)]).toEqual([100, 249]);
    expect([pieceFrom(reel, 130, -1), pieceFrom(reel, 100, -1), pieceFrom(reel, 0, -1)]).toEqual([100, 0, 0]);
  });

  test('for people who want no movement each piece is one picture, without dissolves', () => {
    const cut =
      'cut:\n  - { shot: box, length: 4 s, zoom: 1 to 1.4 }\n  - { shot: lid, length: 6 s, dissolve: 10 frames }\n';
    const { reel } = of(two + cut);
    const at = (frame: number) => JSON.stringify(shownAt(reel, frame, { flashes: false, stills: true }));
    expect(new Set([0, 50, 98, 99].map(at)).size).toBe(1);
    expect(new Set([100, 103, 249].map(at)).size).toBe(1);
    expect(at(0)).not.toBe(at(100));
  });
});

describe('what flashes', () => {
  const lamps = (flashes: string) => `lamps:
  key: { use: panel, temperature: 5000 K, level: 40 %, distance: 60 cm, angle: 45°, height: 40 cm, role: key, flashes: ${flashes} }
`;

  test('a lamp is drawn lit, until it may flash: then it is off in half of its frames', () => {
    const { reel } = of(lamps('5 Hz'));
    const layers = (frame: number, flashes: boolean) => shownAt(reel, frame, { flashes, stills: false }).layers;
    expect(reel.flashes).toMatchObject([{ from: 0, to: 250, of: 'light', inOneSecond: 5 }]);
    for (let frame = 0; frame < 250; frame++) expect(layers(frame, false)).toHaveLength(1);
    const off = Array.from({ length: 250 }, (_, frame) => layers(frame, true)[1]?.solid ?? 0);
    // 5 frames are a cycle, of which two or three are dark.
    const dark = off.reduce((sum, one) => sum + one, 0) / 50;
    expect(dark).toBeGreaterThanOrEqual(2 - 1e-6);
    expect(dark).toBeLessThanOrEqual(3 + 1e-6);
    expect(layers(4, true)[1]).toMatchObject({ wanted: { without: reel.flashes[0]!.light } });
  });

  test('without its lamp the drawing is darker', () => {
    const { result, film, reel } = of(lamps('5 Hz'));
    const light = (without?: number) => {
      const { scene } = sceneOf(film, [...film.deliverables.values()][0]!, { piece: 0, atS: 1, without });
      return paintLit(scene!, 64, 36).reduce((sum, one) => sum + one, 0);
    };
    expect(result.film).toBeDefined();
    expect(light(reel.flashes[0]!.light)).toBeLessThan(light() * 0.8);
  });

  test('colours that change too often are held at the first of them; few are shown as they are cut', () => {
    const colours = (length: string) =>
      `cut:\n  - { shot: box, length: 8 s }\n${[
        '#ffffff',
        '#000000',
        '#ffffff',
        '#000000',
        '#ffffff',
        '#000000',
        '#ffffff',
        '#000000',
        '#ffffff',
        '#000000',
      ]
        .map((one) => `  - { colour: "${one}", length: ${length} }\n`)
        .join('')}`;
    const { reel } = of(colours('2 frames'));
    const shown = (frame: number, flashes: boolean) => seen(shownAt(reel, frame, { flashes, stills: false }).layers);
    expect([shown(200, false), shown(202, false)]).toEqual([[['#ffffff', 1]], [['#ffffff', 1]]]);
    expect(shown(202, true)).toEqual([['#000000', 1]]);
    expect(of(colours('1 s')).reel.flashes).toEqual([]);
  });
});

describe('drawings', () => {
  const wide = `deliver:
  film: { raster: 1920x1080, rate: 25, length: 10 s, codec: h264, bitrate: 16 Mb/s, sound: none }
  story: { like: film, raster: 1080x1920 }
cut:
  - { shot: box, length: 10 s, zoom: 1.1 to 1.5, shift: 4 % to -6 % }
`;

  test.each(['film', 'story'])('a part of the one drawing of a push is what the film shows there: %s', (name) => {
    const { film, reel } = of(wide, name);
    const deliverable = film.deliverables.get(name)!;
    const piece = film.cut[0]!;
    const { scene } = sceneOf(film, deliverable, { piece: 0, atS: piece.fromS });
    const { width: w, height: h } = { width: name === 'film' ? 240 : 136, height: name === 'film' ? 135 : 242 };
    const finer = 4;
    const drawing = paintLit(scene!, w * finer, h * finer);
    for (const moment of [0, 0.5, 1]) {
      const zoom = 1.1 + 0.4 * moment;
      const shift = 0.04 - 0.1 * moment;
      const still = { ...piece, zoom: { from: zoom, to: zoom }, shift: { from: shift, to: shift } };
      const shown = paintLit(litPiece(film, still, deliverable, 0)!, w, h);
      const part = partOf(reel.pieces[0]!.around, { zoom, shift });
      /** How far the part is from what is shown, in codes, where it lies off by some pixels. */
      const off = (dx: number, dy: number) => {
        let sum = 0;
        for (let y = 2; y < h - 2; y++) {
          for (let x = 2; x < w - 2; x++) {
            const fromX = Math.floor((part.x + (part.size * (x + dx + 0.5)) / w) * w * finer);
            const fromY = Math.floor((part.y + (part.size * (y + dy + 0.5)) / h) * h * finer);
            sum += Math.abs(drawing[(fromY * w * finer + fromX) * 4 + 1]! - shown[(y * w + x) * 4 + 1]!);
          }
        }
        return sum / w / h;
      };
      expect(off(0, 0), `at ${moment}`).toBeLessThan(2);
      for (const [dx, dy] of [
        [2, 0],
        [-2, 0],
        [0, 2],
        [0, -2],
      ] as const)
        expect(off(dx, dy), `at ${moment}, off by ${dx}, ${dy}`).toBeGreaterThan(off(0, 0));
    }
  });

  test('show all that any frame of the push shows', () => {
    for (const name of ['film', 'story']) {
      const { reel } = of(wide, name);
      for (let frame = 0; frame < reel.frames; frame++) {
        const [layer] = shownAt(reel, frame, asCut).layers;
        const { x, y, size } = (layer as Extract<Layer, { kind: 'drawing' }>).part;
        expect(Math.min(x, y)).toBeGreaterThan(-1e-9);
        expect(Math.max(x, y) + size).toBeLessThan(1 + 1e-9);
      }
    }
  });

  test('a push alone is one drawing, and what turns is many', () => {
    const { film } = of(`${two}cut:\n  - { shot: box, length: 4 s, zoom: 1 to 1.3 }\n  - { shot: lid, length: 6 s }\n`);
    const [deliverable] = film.deliverables.values();
    const moves = (piece: number) => sceneOf(film, deliverable!, { piece, atS: 1, tellsMoves: true }).moves;
    expect([moves(0), moves(1)]).toEqual([false, true]);
  });
});

describe('sound', () => {
  const music = `music: { track: tune, tempo: 100 bpm, trim: 1.5 s }
rights:
  tune: { kind: music, file: rights/tune.wav }
`;
  const stereo = `deliver:
  film: { raster: 1920x1080, rate: 25, length: 10 s, codec: h264, bitrate: 16 Mb/s, sound: stereo }
`;

  test('is where its file is, from the moment that the plan says', () => {
    const result = checkSpec(spec(stereo + music));
    const reel = reelFor(result, undefined, { 'rights/tune.wav': new Uint8Array() });
    expect(reel.sounds).toEqual([
      { file: '/films/rights/tune.wav', name: 'tune', fromS: 1.5, lengthS: 10, atS: 0, gainDb: 0 },
    ]);
  });

  test('that is not there is said, and the film plays without it', () => {
    const reel = reelFor(checkSpec(spec(stereo + music)));
    expect(reel.sounds).toEqual([]);
    expect(reel.notes.join()).toContain('rights/tune.wav');
  });
});

test.each([
  ['no length', 'cut:\n  - { shot: box }\n', 'length'],
  ['an empty cut', 'cut: []\n', 'length|empty'],
])('%s is no film to play, and that is said', (_, blocks, why) => {
  expect(() => of(blocks)).toThrow(new RegExp(why));
});
