/** Clips whose frames carry their number become films: each frame of the film shows the one that the plan says. */
import { execFileSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import { assembled, planned, type Said } from '../helpers/assembled.ts';
import { madeClip } from '../helpers/clips.ts';
import { planOf } from '../helpers/filmed.ts';
import { blocksOf, levelsOf, numberedClip, numbersOf } from '../helpers/numbered.ts';

interface Cut {
  readonly cut: string;
  /** Of the film. */
  readonly rate?: string;
  readonly recorded?: string;
  /** More of the deliverable. */
  readonly deliver?: string;
  readonly takes?: string;
  readonly clips?: Readonly<Record<string, string>>;
}

const oneTake = 'takes:\n  box: { clip: C0012.MP4, judged: best }\n';

function filmOf({ rate = '25', recorded = rate, cut, deliver = '', takes = oneTake, clips }: Cut): Said {
  const film = `deliver:\n  film: { raster: 160x90, rate: ${rate}, codec: h264, sound: none${deliver} }\n`;
  const plan = planOf({ rate: recorded }, `${film}shots:\n  box: { record: 4 s, handles: 0 s }\ncut:\n${cut}`);
  return { plan, takes, clips: clips ?? { 'C0012.MP4': numberedClip(200, recorded) } };
}

const numbers = async (said: Cut) => numbersOf(await assembled(filmOf(said)));
/** Numbers from one on, each so much more than the one before, whole frames of it. */
const run = (from: number, frames: number, step = 1) =>
  Array.from({ length: frames }, (_, at) => Math.floor(from + at * step + 1e-6));

it.each(['25', '23.976', '29.97'])('cuts to the frame at %s frames a second', async (rate) => {
  // At 29.97 the frame with the number 30 begins at 1.001 s.
  const cut =
    '  - { shot: box, length: 10 frames, from: 1.002 s }\n  - { shot: box, length: 5 frames, from: 2.003 s }\n';
  const second = Math.round(Number(rate));
  expect(await numbers({ rate, cut })).toEqual([...run(second, 10), ...run(2 * second, 5)]);
});

it('takes frames from a faster recording at the film’s own instants', async () => {
  const cut = '  - { shot: box, length: 8 frames, from: 0.5 s }\n';
  expect(await numbers({ recorded: '100', cut })).toEqual(run(50, 8, 4));
  expect(await numbers({ recorded: '30', cut })).toEqual(run(15, 8, 30 / 25));
});

it('slows, quickens, turns round and holds', async () => {
  const cut = `
  - { shot: box, length: 8 frames, from: 1 s, speed: 50 % }
  - { shot: box, length: 6 frames, from: 1 s, speed: 200 % }
  - { shot: box, length: 6 frames, from: 1.24 s, speed: -100 % }
  - { shot: box, length: 4 frames, from: 1.32 s, speed: -200 % }
  - { shot: box, length: 4 frames, from: 1 s, speed: 0 % }
`;
  expect(await numbers({ cut })).toEqual([
    ...run(25, 8, 0.5),
    ...run(25, 6, 2),
    ...run(25, 6).reverse(),
    ...run(25, 4, 2).reverse(),
    ...run(25, 4, 0),
  ]);
});

it('shows a section of the cut, counted from where it starts', async () => {
  const cut = '  - { shot: box, length: 20 frames, from: 1 s }\n  - { shot: box, length: 20 frames, from: 3 s }\n';
  expect(await numbers({ cut, deliver: ', section: 15 frames to 24 frames' })).toEqual([...run(40, 5), ...run(75, 4)]);
});

it('dissolves evenly, half on each side of the cut, and fades from and to black', async () => {
  const cut = `
  - { shot: box, length: 12 frames, from: 1 s, fade-in: 4 frames }
  - { shot: box, length: 12 frames, from: 2 s, dissolve: 5 frames, fade-out: 4 frames }
`;
  const film = blocksOf(await assembled(filmOf({ cut })));
  const one = (number: number, share = 1) => levelsOf(number).map((level) => level * share);
  const two = (a: number, b: number, share: number) => one(a, 1 - share).map((level, at) => level + one(b, share)[at]!);
  const expected = [
    ...run(25, 4).map((number, at) => one(number, (at + 0.5) / 4)),
    ...run(29, 6).map((number) => one(number)),
    ...run(35, 5).map((number, at) => two(number, number + 13, (at + 0.5) / 5)),
    ...run(53, 5).map((number) => one(number)),
    ...run(58, 4).map((number, at) => one(number, 1 - (at + 0.5) / 4)),
  ];
  const rounded = (levels: number[][]) => levels.map((frame) => frame.map((level) => level.toFixed(1)));
  expect(rounded(film)).toEqual(rounded(expected));
});

it('joins a recording that the camera split, and counts from where the action starts', async () => {
  const clips = { 'A.MP4': numberedClip(50, '25'), 'B.MP4': numberedClip(100, '25') };
  const takes = 'takes:\n  box: { clip: [A.MP4, B.MP4], judged: best, action: 1 s }\n';
  const cut = '  - { shot: box, length: 8 frames, from: 0.8 s }\n';
  expect(await numbers({ takes, clips, cut })).toEqual([...run(45, 5), ...run(0, 3)]);
});

it('shows of a varying rate what stood at the instant', async () => {
  // Frame N of the clip begins with tick 2N, and each fourth stands twice as long as others at 50 ticks a second.
  const starts = (frame: number) => frame + Math.floor(frame / 4);
  const varied = [
    '-vf',
    "scale=out_range=tv,settb=1/50,setpts='N+floor(N/4)'",
    '-fps_mode',
    'passthrough',
    '-enc_time_base',
    '1/50',
  ];
  const clips = { 'C0012.MP4': numberedClip(200, '50', [...varied, '-video_track_timescale', '50']) };
  const stands = (tick: number) =>
    Array.from({ length: 200 }, (_, frame) => frame).findLast((frame) => starts(frame) <= tick);
  expect(await numbers({ clips, recorded: '50', cut: '  - { shot: box, length: 12 frames, from: 0.8 s }\n' })).toEqual(
    run(40, 12, 2).map(stands),
  );
});

it('makes whole pictures of an interlaced recording', async () => {
  // An upright edge that goes 8 pixels in each field: in woven fields every second line stands elsewhere.
  const edge = "nullsrc=s=320x180:r=50:d=1,format=gray,geq=lum='if(lt(X,40+8*N),235,16)',tinterlace=interleave_top";
  const fields = ['-vf', 'setfield=tff', '-c:v', 'mpeg2video', '-q:v', '2', '-flags', '+ildct+ilme', '-top', '1'];
  const clip = madeClip('mov', ['-f', 'lavfi', '-i', edge, '-pix_fmt', 'yuv420p', ...fields]);
  const plan = planOf(
    { rate: '25' },
    'deliver:\n  film: { raster: 320x180, rate: 25, codec: h264, sound: none }\nshots:\n  box: { record: 1 s, handles: 0 s }\ncut:\n  - { shot: box, length: 10 frames, from: 0.2 s }\n',
  );
  const combed = (file: string) => {
    const args = ['-v', 'error', '-i', file, '-ss', '0.2', '-frames:v', '1', '-pix_fmt', 'gray', '-f', 'rawvideo', '-'];
    const lines = execFileSync('ffmpeg', args);
    let differ = 0;
    for (let y = 40; y < 140; y++)
      for (let x = 0; x < 320; x++) if (Math.abs(lines[y * 320 + x]! - lines[(y + 1) * 320 + x]!) > 80) differ++;
    return differ;
  };
  expect(combed(clip)).toBeGreaterThan(400);
  expect(combed(await assembled({ plan, takes: oneTake, clips: { 'C0012.MP4': clip } }))).toBeLessThan(40);
});

it('makes a plain colour of a piece that is one', async () => {
  const film = blocksOf(await assembled(filmOf({ cut: '  - { colour: "#ffffff", length: 3 frames }\n' })));
  expect(film.map((levels) => levels.map((level) => Math.round(level)))).toEqual(Array(3).fill(Array(8).fill(1)));
});

describe('takes', () => {
  const clips = {
    'A.MP4': numberedClip(100, '25'),
    'B.MP4': numberedClip(200, '50'),
    'C.MP4': numberedClip(150, '25'),
  };
  const cut = '  - { shot: box, length: 2 frames, from: 1 s }\n  - { shot: box, length: 2 frames, from: 1 s }\n';
  const which = async (takes: string) => {
    const { assembly } = await planned(filmOf({ takes: `takes:\n  box:\n${takes}`, clips, cut }));
    return assembly!.segments.map(({ picture }) => (picture.kind === 'clip' ? picture.clip.path : picture.kind));
  };

  it('are the best, then good, then not seen, then spare, and never bad', async () => {
    expect(
      await which('    - { clip: A.MP4, judged: good }\n    - { clip: B.MP4, judged: best }\n    - C.MP4\n'),
    ).toEqual(['B.MP4', 'B.MP4']);
    expect(await which('    - { clip: A.MP4, judged: good }\n    - C.MP4\n')).toEqual(['A.MP4', 'A.MP4']);
    expect(await which('    - { clip: A.MP4, judged: spare }\n    - C.MP4\n')).toEqual(['C.MP4', 'C.MP4']);
    expect(await which('    - { clip: A.MP4, judged: bad }\n    - { clip: B.MP4, judged: bad }\n')).toEqual([
      'drawn',
      'drawn',
    ]);
  });

  it('that are kept for a piece serve it alone', async () => {
    expect(await which('    - { clip: A.MP4, judged: best, piece: 2 }\n    - { clip: B.MP4, judged: good }\n')).toEqual(
      ['B.MP4', 'A.MP4'],
    );
  });
});

describe('what stops it', () => {
  const faults = async (said: Cut) => (await planned(filmOf(said))).faults;

  it('frames that the clip does not have', async () => {
    expect(await faults({ cut: '  - { shot: box, length: 20 frames, from: 7.6 s }\n' })).toEqual([
      'Piece 1 (`box`) takes 7.6 s to 8.36 s of `C0012.MP4`, which runs from 0 s to 8 s: 10 frames are missing. Make the piece or its dissolves shorter, or start it elsewhere.',
    ]);
  });

  it('frames beside the part of the clip that is the take', async () => {
    const takes = 'takes:\n  box: { clip: C0012.MP4, part: 1 s to 2 s, judged: best }\n';
    expect(await faults({ cut: '  - { shot: box, length: 30 frames }\n', takes })).toEqual([
      'Piece 1 (`box`) takes 1 s to 2.16 s of `C0012.MP4`, whose take runs from 1 s to 2 s: 5 frames are missing. Make the piece or its dissolves shorter, or start it elsewhere.',
    ]);
  });

  it('a clip that is not there, and a draft draws it', async () => {
    const cut = '  - { shot: box, length: 20 frames }\n';
    const gone = { cut, clips: { 'OTHER.MP4': numberedClip(50, '25') } };
    expect(await faults(gone)).toEqual(['The clip `C0012.MP4` is not in the footage folder.']);
    const { assembly, notes } = await planned({ ...filmOf(gone), isDraft: true });
    expect(assembly!.segments.map(({ picture }) => picture.kind)).toEqual(['drawn']);
    expect(notes[0]).toBe('The clip `C0012.MP4` is not in the footage folder. It is drawn.');
  });

  it('a dissolve that takes frames from before the clip', async () => {
    const cut =
      '  - { shot: box, length: 20 frames, from: 2 s }\n  - { shot: box, length: 20 frames, dissolve: 10 frames }\n';
    expect((await faults({ cut }))[0]).toMatch(/^Piece 2 \(`box`\) takes -0.2 s to .*: 5 frames are missing/);
  });

  it('fades that are longer than their piece', async () => {
    const cut = '  - { shot: box, length: 10 frames, fade-in: 6 frames, fade-out: 6 frames }\n';
    expect(await faults({ cut })).toEqual([
      'Piece 1 (`box`) has 10 frames, and its fades and dissolves take 12 frames. Make them shorter.',
    ]);
  });
});
