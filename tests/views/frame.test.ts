/** The frame: windows in the recorded picture, titles at their true size, what lies past the backdrop. */
import { describe, expect, test } from 'vitest';
import { cutOf, viewAt } from '../../server/core/derived/framing.ts';
import type { Framing } from '../../server/film/assembly.ts';
import { sourcePoint } from '../../server/film/framing.ts';
import { drawFrame } from '../../server/views/frame/index.ts';
import { mapper, recordedEdges } from '../../server/core/derived/sight.ts';
import { windowCorners } from '../../server/views/frame/recorded.ts';
import { titleDrawn } from '../../server/views/frame/titles.ts';
import { checked, corners, drawnFor, elements, wordsOf } from '../helpers/drawing.ts';

const raster = { width: 3840, height: 2160 };
const frame = { x: 100, y: 50, width: 384, height: 216 };

function windowOf(piece: string) {
  const { film } = checked(`cut:\n  - { shot: box, length: 10 s, ${piece} }\n`);
  const view = viewAt(film.cut[0]!, film.deliverables.get('film')!, 0)!;
  return windowCorners(view, raster, frame, film.cut[0]!);
}

describe('windows', () => {
  test('zoom 1 is the whole picture, zoom 2 the middle half of it', () => {
    expect(windowOf('zoom: 1')[0]).toEqual({ x: 100, y: 50 });
    const [topLeft, , bottomRight] = windowOf('zoom: 2');
    expect([topLeft, bottomRight]).toEqual([
      { x: 196, y: 104 },
      { x: 388, y: 212 },
    ]);
  });

  test('a picture that is moved right by 10 % shows a window that lies a tenth of its width further left', () => {
    const [still, shifted] = [windowOf('zoom: 2'), windowOf('zoom: 2, shift: 10 %')];
    expect(still[0]!.x - shifted[0]!.x).toBeCloseTo(19.2, 6);
    expect(shifted[0]!.y).toBeCloseTo(still[0]!.y, 6);
  });

  test('a picture that is turned clockwise by 2° shows a window that is turned the other way', () => {
    const [left, right] = windowOf('zoom: 1.2, straighten: 2°') as [{ x: number; y: number }, { x: number; y: number }];
    expect((Math.atan2(right.y - left.y, right.x - left.x) * 180) / Math.PI).toBeCloseTo(-2, 6);
  });

  test('a push-in has a solid window and a dashed one, narrower by the zoom', () => {
    const { result, film, shot } = checked('cut:\n  - { shot: box, length: 10 s, zoom: 1.0 to 1.25 }\n');
    const picture = drawFrame(result, film, shot);
    const [solid, dashed] = drawnFor(picture, film.cut[0]!.zoomAt!).filter((one) => one.name === 'path');
    const width = (one: typeof solid) => {
      const all = corners(one!).map(({ x }) => x);
      return Math.max(...all) - Math.min(...all);
    };
    expect(dashed!.attrs['stroke-dasharray']).toBeDefined();
    expect(width(solid) / width(dashed)).toBeCloseTo(1.25, 3);
  });
});

describe('the finished picture', () => {
  const edges = { left: -0.2, right: 0.2, bottom: -0.1, top: 0.1 };

  const room = { x: 0, y: 0, width: 400, height: 200 };
  const plain = { edges, straightenDeg: 0, shift: 0 };

  test('edges lie on the frame, up is up', () => {
    const flat = mapper({ ...plain, way: 'as-is' }, room);
    expect(flat({ x: -0.2, y: 0.1 })).toEqual({ x: 0, y: 0 });
    expect(flat({ x: 0.1, y: -0.1 })).toEqual({ x: 300, y: 200 });
  });

  test('what hangs upside down is on its head until the cut turns it', () => {
    const flat = mapper({ ...plain, way: 'turned' }, room);
    expect(flat({ x: -0.2, y: 0.1 })).toEqual({ x: 400, y: 200 });
    expect(mapper({ ...plain, way: 'mirrored' }, room)({ x: -0.2, y: 0.1 })).toEqual({ x: 400, y: 0 });
  });

  test('straightening turns it clockwise', () => {
    const flat = mapper({ ...plain, way: 'as-is', straightenDeg: 5 }, room);
    const [a, b] = [flat({ x: 0, y: 0 }), flat({ x: 0.1, y: 0 })];
    expect((Math.atan2(b.y - a.y, b.x - a.x) * 180) / Math.PI).toBeCloseTo(5, 6);
  });

  test.each([
    'zoom: 1.5, shift: 10 %',
    'zoom: 1.5, shift: 10 %, flip: mirror',
    'zoom: 1.5, shift: -10 %, flip: upright',
    'zoom: 1.5, shift: 10 %, straighten: 4°',
    'zoom: 1.5, shift: 10 %, straighten: 4°, flip: mirror',
  ])('stands where the film that is put together has it: %s', (edit) => {
    const { film, shot } = checked(`cut:\n  - { shot: box, length: 10 s, ${edit} }\n`);
    const [piece, deliverable] = [film.cut[0]!, film.deliverables.get('film')!];
    const view = viewAt(piece, deliverable, 0)!;
    const flat = mapper(cutOf(shot, piece, view)!, { x: 0, y: 0, width: 1, height: 9 / 16 });
    const sized = { widthPx: raster.width, heightPx: raster.height };
    const framing = { raster: sized, straightenDeg: piece.straightenDeg };
    const window = windowCorners(view, raster, { x: 0, y: 0, ...raster }, piece);
    const whole = recordedEdges(view.lens!, shot);
    for (const [index, [x, y]] of [
      [-0.5, -0.5],
      [0.5, -0.5],
      [0.5, 0.5],
      [-0.5, 0.5],
    ].entries()) {
      const upright = sourcePoint(framing as Framing, view, 16 / 9, { x: x!, y: y! });
      const flip = piece.flip?.value;
      const recorded = {
        x: flip ? raster.width - upright.x : upright.x,
        y: flip === 'upright' ? raster.height - upright.y : upright.y,
      };
      expect(window[index]!.x).toBeCloseTo(recorded.x, 6);
      expect(window[index]!.y).toBeCloseTo(recorded.y, 6);
      const shown = flat({
        x: whole.left + (recorded.x / raster.width) * (whole.right - whole.left),
        y: whole.top - (recorded.y / raster.height) * (whole.top - whole.bottom),
      });
      expect(shown.x).toBeCloseTo(0.5 + x!, 3);
      expect(shown.y).toBeCloseTo((0.5 + y!) * (9 / 16), 3);
    }
  });

  // 9 cm wide, its front 57 cm from a lens of 25 mm whose 17.3 mm see 17.3 × 57 ÷ 2.6087 = 378 mm there: 23.8 % of the width.
  test('the product is as large in it as the lens makes it', () => {
    const { result, film, shot } = checked(
      'camera: { lens: normal, distance: 60 cm, raster: 3840x2160, rate: 25, aperture: f/8 }\n',
    );
    const picture = drawFrame(result, film, shot);
    const outline = drawnFor(picture, film.product.size!).find((one) => one.attrs['stroke-width'] === 1.7)!;
    const xs = corners(outline).map(({ x }) => x);
    const wide = elements(picture.body).filter((one) => one.attrs['stroke-width'] === 2 && one.name === 'path')[0]!;
    const frameXs = corners(wide).map(({ x }) => x);
    const share = (Math.max(...xs) - Math.min(...xs)) / (Math.max(...frameXs) - Math.min(...frameXs));
    expect(share).toBeCloseTo(0.238, 3);
  });

  // Capitals of a plain sans are 0.716 of its size (Adobe's metrics of Helvetica: 718; from memory).
  test('letters of 10 % are a tenth of the shorter side high, inside what is title-safe', () => {
    const { film } = checked('titles:\n  - { text: Tinnabel, at: 2 s, hold: 4 s, letters: 10 %, place: bottom }\n');
    const [drawn] = titleDrawn(
      film.titles[0]!,
      film.deliverables.get('film')!,
      { width: 1920, height: 1080 },
      { x: 0, y: 0, width: 192, height: 108 },
    );
    const words = elements([drawn!]).find((one) => one.name === 'text')!;
    expect(Number(words.attrs['font-size']) * 0.716).toBeCloseTo(10.8, 6);
    expect(words.attrs['y']).toBeCloseTo(108 * 0.95, 6);
    expect(words.attrs['x']).toBeCloseTo(96, 6);
  });

  test('a title stands in the pieces that it runs over, and in no others', () => {
    const { result, film } = checked(`shots: { one: { record: 12 s }, two: { record: 12 s } }
cut: [{ shot: one, length: 5 s }, { shot: two, length: 5 s }]
titles: [{ text: Tinnabel, at: 6 s, hold: 3 s }]
`);
    const words = (name: string) => wordsOf(drawFrame(result, film, film.shots.get(name)!));
    expect(words('two')).toContain('Tinnabel');
    expect(words('one')).not.toContain('Tinnabel');
  });
});

test('one deliverable or one piece can be asked for', () => {
  const { result, film, shot } = checked(`deliver:
  film: { raster: 1920x1080, rate: 25, length: 10 s, codec: h264, bitrate: 16 Mb/s, sound: none }
  story: { like: film, raster: 1080x1920 }
cut: [{ shot: box, length: 4 s }, { shot: box, length: 6 s, from: 5 s, zoom: 1.5 }]
`);
  const heads = (choice: Parameters<typeof drawFrame>[3]) => wordsOf(drawFrame(result, film, shot, choice));
  expect(heads({ deliverable: 'story' })).toContain('story');
  expect(heads({ deliverable: 'story' })).not.toContain('film');
  expect(heads({ piece: 1 })).toContain('Piece 2, as recorded');
  expect(heads({ piece: 1 })).not.toContain('Piece 1, as recorded');
  expect(wordsOf(drawFrame(result, film, { ...shot, pieces: [] }))).toContain('Not in the cut yet, as recorded');
});
