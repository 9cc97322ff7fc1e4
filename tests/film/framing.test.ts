/** Marks in the corners of clips: where they are in the film tells how it was turned, straightened, zoomed and shifted. */
import { describe, expect, it } from 'vitest';
import { madeClip } from '../helpers/clips.ts';
import { assembled, planned } from '../helpers/assembled.ts';
import { discClip, greysIn, middleOf, middlesIn } from '../helpers/corners.ts';
import { planOf } from '../helpers/filmed.ts';

const takes = 'takes:\n  box: { clip: A.MP4, judged: best }\n';
const upperLeft = { right: false, low: false };

interface Seen {
  readonly clip: string;
  readonly piece: string | readonly string[];
  readonly raster?: readonly [number, number];
  readonly deliver?: string;
  readonly camera?: Readonly<Record<string, string>>;
}

function said({ clip, piece, raster = [640, 360], deliver = '', camera = {} }: Seen) {
  const film = `deliver:\n  film: { raster: ${raster.join('x')}, rate: 25, codec: h264, sound: none${deliver} }\n`;
  const pieces = [piece].flat().map((one) => `  - { shot: box, ${one} }\n`);
  const cut = `shots:\n  box: { record: 2 s, handles: 0 s }\ncut:\n${pieces.join('')}`;
  return { plan: planOf({ raster: '640x360', ...camera }, film + cut), takes, clips: { 'A.MP4': clip } };
}

async function seen(what: Seen, quarter = upperLeft) {
  return middlesIn(await assembled(said(what)), what.raster ?? [640, 360], quarter);
}

const at = (place: { x: number; y: number } | undefined, x: number, y: number, within = 0.5, edit = '') => {
  expect(place, `the mark${edit}`).toBeDefined();
  expect(Math.abs(place!.x - x), edit).toBeLessThan(within);
  expect(Math.abs(place!.y - y), edit).toBeLessThan(within);
};

describe('a mark a quarter in and a quarter down', () => {
  const clip = discClip([[0.25, 0.25]]);

  it('stays, goes out with the zoom, right with the shift, changes sides in a mirror, and is turned', async () => {
    const edits = [
      ['', [160, 90], upperLeft],
      [', zoom: 1.5', [80, 45], upperLeft],
      [', zoom: 1.25, shift: 5 %', [320 - 200 + 32, 67.5], upperLeft],
      [', flip: mirror', [480, 90], { right: true, low: false }],
      [', flip: upright', [480, 270], { right: true, low: true }],
    ] as const;
    const piece = edits.map(([edit]) => `length: 2 frames${edit}`);
    const frames = greysIn(await assembled(said({ clip, piece })), [640, 360]);
    for (const [index, [edit, [x, y], quarter]] of edits.entries())
      at(middleOf(frames[2 * index]!, [640, 360], quarter), x, y, 0.5, edit);
  });

  it.each([['8'], ['10']])('goes clockwise where it is straightened, in %s bits', async (bits) => {
    const [frame] = await seen({
      clip,
      piece: 'length: 2 frames, straighten: 3°, zoom: 1.2',
      deliver: `, bits: ${bits}`,
    });
    const turn = (3 * Math.PI) / 180;
    const [x, y] = [-160 * 1.2, -90 * 1.2];
    at(frame, 320 + x * Math.cos(turn) - y * Math.sin(turn), 180 + x * Math.sin(turn) + y * Math.cos(turn));
  });

  it('is where the shape of the film leaves it', async () => {
    const tall = discClip([[0.4, 0.25]]);
    const [frame] = await seen({ clip: tall, piece: 'length: 2 frames', raster: [180, 320] });
    // Of 640 by 360 the middle 202.5 columns are seen.
    at(frame, 90 - 64 * (180 / 202.5), 80);
  });
});

describe('a clip with a mark of its turn', () => {
  const turned = (deg: number) =>
    madeClip('mp4', ['-i', discClip([[0.25, 0.25]]), '-c', 'copy', '-metadata:s:v', `rotate=${deg}`]);

  it('is turned once, whether or not the cut says so too', async () => {
    const clip = turned(180);
    const piece = ['length: 2 frames', 'length: 2 frames, flip: upright'];
    const frames = await seen({ clip, piece }, { right: true, low: true });
    for (const frame of [frames[0], frames[2]]) at(frame, 480, 270);
  });

  it('that stands on its side fills a tall film, as players show it', async () => {
    const clip = turned(90);
    const raster = [180, 320] as const;
    // What turns it by itself is the reference.
    const [shown] = middlesIn(clip, [360, 640], { right: false, low: true });
    at(shown, 90, 480);
    const what = { clip, piece: 'length: 2 frames', raster, camera: { 'way-up': 'on-its-side' } };
    at((await seen(what, { right: false, low: true }))[0], 45, 240);
  });
});

it.each([
  ['8', 30],
  ['10', 12],
])('pushes in evenly, without a step of a tenth of a pixel, in %s bits', async (bits, count) => {
  const clip = discClip([[0.3, 0.3]]);
  const frames = (
    await seen({ clip, piece: `length: ${count} frames, zoom: 1 to 1.05`, deliver: `, bits: ${bits}` })
  ).map((one) => one!);
  const expected = (frame: number) => 320 - 128 * (1 + (0.05 * frame) / (count - 1));
  expect(frames).toHaveLength(count);
  frames.forEach(({ x }, frame) => expect(Math.abs(x - expected(frame)), `frame ${frame}`).toBeLessThan(0.1));
  const jumps = frames.slice(1).map(({ x }, frame) => x - frames[frame]!.x);
  for (const jump of jumps) expect(Math.abs(jump + (128 * 0.05) / (count - 1))).toBeLessThan(0.1);
});

it('shows nothing from beyond the recording', async () => {
  const what = { clip: discClip([[0.25, 0.25]]), piece: 'length: 2 frames, straighten: 3°' };
  expect((await planned(said(what))).faults).toEqual([
    'Piece 1 (`box`) shows what lies beyond the recorded picture: it needs a zoom of at least 1.1.',
  ]);
  const draft = await planned({ ...said(what), isDraft: true });
  expect(draft.notes).toContain(
    'Piece 1 (`box`) shows what lies beyond the recorded picture: it needs a zoom of at least 1.1. The draft is zoomed in so far.',
  );
});
