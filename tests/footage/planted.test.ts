/** Each rule about clips has a real clip with that one fault planted, and says that and nothing else. */
import { truncateSync, writeFileSync, copyFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { madeClip, pictureClip, together } from '../helpers/clips.ts';
import { plantedPage } from '../helpers/planted-table.ts';
import { type Day, findingsOf, planOf } from '../helpers/filmed.ts';

const sheet = 'takes:\n  box: { clip: C0012.MP4, judged: best }\n';
const oneClip = (file: string, plan = planOf()): Day => ({ clips: { 'C0012.MP4': file }, plan, sheet });
const temporary = (name: string) => join(tmpdir(), `planted-${process.pid}-${name}`);

function cutOff(): string {
  const file = temporary('cut.mp4');
  copyFileSync(pictureClip(), file);
  truncateSync(file, 20_000);
  return file;
}

function empty(): string {
  const file = temporary('empty.mp4');
  writeFileSync(file, '');
  return file;
}

const hlg = ['-color_primaries', 'bt2020', '-color_trc', 'arib-std-b67', '-colorspace', 'bt2020nc'];
const withSound = `cut:
  - { shot: box, length: 3 s, sound: keep }
deliver:
  film: { raster: 160x90, rate: 25, length: 3 s, codec: h264, bitrate: 1 Mb/s }
`;
const twoTakes = 'takes:\n  box:\n    - { clip: A.MP4, judged: best }\n    - { clip: B.MP4, judged: good }\n';
const noon = '2026-12-02T12:00:00Z';

const planted: readonly (readonly [rule: string, fault: string, day: () => Day, message: string])[] = [
  [
    'recorded-rate-off',
    '29.97 where 25 is planned',
    () => oneClip(pictureClip({ rate: '30000/1001' })),
    '`C0012.MP4`: recorded at 29.97 frames a second where 25 is planned: in a 25 timeline a frame is left out 5 times a second, and what moves stutters. Set the camera to 25 and take it again while the product is here.',
  ],
  [
    'recorded-rate-off',
    '25 where 50 is planned',
    () => oneClip(pictureClip(), planOf({ rate: '50' })),
    '`C0012.MP4`: recorded at 25 frames a second where 50 is planned. Set the camera to 50 and take it again while the product is here.',
  ],
  [
    'recorded-rate-varies',
    'a phone that loses frames',
    () => oneClip(pictureClip({ rate: '30', ticks: '(N+floor(N/7))*3000', seconds: 4 }), planOf({ rate: '30' })),
    '`C0012.MP4`: recorded at 26.25 frames a second on the average, with steps of 33 to 67 ms, where 30 is planned: in a 25 timeline about one frame in 7 comes too early or too late, and what moves stutters. Set the camera to a fixed rate and take it again while the product is here.',
  ],
  [
    'recorded-too-small',
    '320 by 180 where 640 by 360 is planned',
    () => oneClip(pictureClip(), planOf({ raster: '640x360' })),
    '`C0012.MP4`: 320x180 where 640x360 is planned: `film` can zoom in to 2. Set the camera to 640x360 and take it again while the product is here, or show more of the picture.',
  ],
  [
    'take-too-short',
    'two seconds where the cut takes three',
    () => oneClip(pictureClip({ seconds: 2 })),
    '`C0012.MP4`: 2 s long, and the cut uses `box` up to 3 s, which leaves 1 s without a picture. Record 3 s and take it again while the product is here.',
  ],
  [
    'recorded-codec-off',
    'eight bits where ten are planned',
    () => oneClip(pictureClip(), planOf({ bits: '10' })),
    '`C0012.MP4`: 8 bits a sample where 10 are planned, so smooth backdrops show steps once they are graded. Set the camera to 10 bits and take it again while the product is here.',
  ],
  [
    'recorded-codec-off',
    'H.264 where H.265 is planned',
    () => oneClip(pictureClip(), planOf({ codec: 'h265' })),
    '`C0012.MP4`: recorded as h264 where h265 is planned. Nothing is lost by that alone: see that what edits the film reads it, and that the cards are large enough.',
  ],
  [
    'recorded-colour-off',
    'HLG where BT.709 is planned',
    () => oneClip(pictureClip({ codec: 'libx265', pixels: 'yuv420p10le', more: hlg })),
    '`C0012.MP4`: marked as HLG where BT.709 is planned, so it looks pale and flat beside the other takes and needs a conversion. Set the camera to BT.709 and take it again while the product is here.',
  ],
  [
    'recorded-turned',
    'standing where it should lie',
    () => oneClip(pictureClip({ turned: 90 })),
    '`C0012.MP4`: shown upright, 180x320, where the camera is planned upright. If it was held so, its turning is wrongly marked: turn the clip before it is cut, and lock the orientation; else take it again while the product is here.',
  ],
  [
    'recorded-interlaced',
    'two fields a frame',
    () =>
      oneClip(
        pictureClip({
          codec: 'mpeg2video',
          ending: 'mov',
          more: ['-flags', '+ilme+ildct', '-vf', 'setfield=tff', '-b:v', '2M'],
        }),
      ),
    '`C0012.MP4`: each frame holds two half pictures, taken one after the other: what moves has combs at its edges, and half of the lines go when they are mended. Set the camera to whole frames (marked p, not i) and take it again while the product is here.',
  ],
  [
    'no-sound-recorded',
    'none where the cut keeps it',
    () => oneClip(pictureClip(), planOf({}, withSound)),
    '`C0012.MP4` has no sound, and the cut keeps the sound of `box`. Say with `sound` which file was recorded apart, or take it again while the product is here with the sound on.',
  ],
  [
    'recorded-another-day',
    'five days before',
    () => ({ ...oneClip(pictureClip({ clock: '2026-11-27T10:00:00Z' })), sheet: `day: 2026-12-02\n${sheet}` }),
    '`C0012.MP4`: recorded on 2026-11-27 by the clock in the file, and the sheet says 2026-12-02. Is it a clip of the same name from another day, or was the camera’s clock wrong?',
  ],
  [
    'clip-not-found',
    'another name',
    () => ({ clips: { 'B.MP4': pictureClip({ sound: 1 }) }, plan: planOf(), sheet: twoTakes }),
    '`A.MP4` is not in the footage folder. Look on the card before it is wiped.',
  ],
  [
    'clip-not-whole',
    'broken off',
    () => oneClip(cutOff()),
    '`C0012.MP4` can’t be read: it ends before its index does. Copy it again from the card and compare the sizes, else take it again while the product is here.',
  ],
  [
    'clip-not-whole',
    'empty',
    () => oneClip(empty()),
    '`C0012.MP4` is an empty file: nothing was recorded, or the copy failed. Copy it again from the card, else take it again while the product is here.',
  ],
  [
    'recordings-overlap',
    'one recording under two names',
    () => {
      const file = pictureClip({ clock: noon });
      return { clips: { 'A.MP4': file, 'B.MP4': file }, plan: planOf(), sheet: twoTakes };
    },
    '`B.MP4` and `A.MP4` have the same length, size and time of recording: one recording counts as two takes. Name it once.',
  ],
];

beforeAll(() => void together([...planted.map(([, , day]) => day), ...clean.map(([, day]) => day)]));

describe('a clip with one fault', () => {
  it.each(planted)('%s: %s', async (rule, _, day, message) => {
    const findings = await findingsOf(day());
    expect(findings.map((one) => `${one.rule}: ${one.message}`)).toEqual([`${rule}: ${message}`]);
  });

  it('stands in the docs with what is said of it', async () => {
    const lead =
      'What containers say: each fault is planted in a clip that `ffmpeg` makes, with a plan that fits but for it. Made by `npx vitest run tests/footage/planted.test.ts -u`.';
    const all = planted.map(([rule, fault, , message]) => ({ rule, fault, message }));
    await expect(plantedPage('Faults of clips', lead, all)).toMatchFileSnapshot('../../docs/faults-of-clips.md');
  });

  it('is one finding for all clips that one setting has spoilt', async () => {
    const file = pictureClip({ rate: '30000/1001' });
    const names = ['A.MP4', 'B.MP4', 'C.MP4', 'D.MP4', 'E.MP4'];
    const longer = pictureClip({ rate: '30000/1001', seconds: 5 });
    const clips = Object.fromEntries(names.map((name, index) => [name, index % 2 ? longer : file]));
    const lines = names.map((name) => `    - { clip: ${name}, judged: good }\n`).join('');
    const findings = await findingsOf({ clips, plan: planOf(), sheet: `takes:\n  box:\n${lines}` });
    expect(findings.map(({ message }) => message.slice(0, 44))).toEqual([
      '`A.MP4`, `B.MP4`, `C.MP4` and 2 more: record',
    ]);
    // The line of the plan and the four other clips.
    expect(findings[0]!.related).toHaveLength(5);
  });
});

/** Recordings as cameras and phones of different makers leave them, with a plan that fits. */
const clean: readonly (readonly [what: string, day: () => Day])[] = [
  ['a camera at 25', () => oneClip(pictureClip({ sound: 2 }))],
  ['a camera at 24', () => oneClip(pictureClip({ rate: '24' }), planOf({ rate: '24' }))],
  ['a camera at 23.976', () => oneClip(pictureClip({ rate: '24000/1001' }), planOf({ rate: '23.976' }))],
  ['a camera at 29.97', () => oneClip(pictureClip({ rate: '30000/1001' }), planOf({ rate: '29.97' }))],
  ['a camera at 59.94', () => oneClip(pictureClip({ rate: '60000/1001' }), planOf({ rate: '59.94' }))],
  ['a camera at 50', () => oneClip(pictureClip({ rate: '50' }), planOf({ rate: '50' }))],
  [
    'ten bits 4:2:2 in H.265, with marks',
    () => {
      const marks = ['-color_primaries', 'bt709', '-color_trc', 'bt709', '-colorspace', 'bt709'];
      const recipe = { codec: 'libx265', pixels: 'yuv422p10le', ending: 'mov', more: marks } as const;
      return oneClip(pictureClip(recipe), planOf({ bits: '10', codec: 'h265' }));
    },
  ],
  [
    'ProRes where 8 bits would do',
    () =>
      oneClip(pictureClip({ codec: 'prores_ks', pixels: 'yuv422p10le', ending: 'mov' }), planOf({ codec: 'intra' })),
  ],
  [
    'log, which the file marks as BT.709',
    () => {
      const marks = ['-color_trc', 'bt709', '-color_primaries', 'bt709', '-colorspace', 'bt709'];
      return oneClip(
        pictureClip({ pixels: 'yuv420p10le', more: marks }),
        planOf({ bits: '10', 'colour-space': 'log' }),
      );
    },
  ],
  [
    'HLG as planned',
    () =>
      oneClip(
        pictureClip({ codec: 'libx265', pixels: 'yuv420p10le', more: hlg }),
        planOf({ bits: '10', 'colour-space': 'hlg' }),
      ),
  ],
  [
    'a phone whose clock trembles by 2 ms',
    () => oneClip(pictureClip({ rate: '30', ticks: 'N*3000+mod(N*37\\,360)-180' }), planOf({ rate: '30' })),
  ],
  [
    'a phone that counts six hundred a second',
    () =>
      oneClip(pictureClip({ rate: '30000/1001', more: ['-video_track_timescale', '600'] }), planOf({ rate: '29.97' })),
  ],
  [
    'a phone at 30.01, with one odd step at the start',
    () => oneClip(pictureClip({ rate: '30', ticks: 'N*2999+if(gt(N\\,0)\\,1500\\,0)' }), planOf({ rate: '30' })),
  ],
  [
    'a phone held on its side, as planned',
    () => oneClip(pictureClip({ turned: 90 }), planOf({ 'way-up': 'on-its-side' })),
  ],
  ['a camera on its side, which marks no turning', () => oneClip(pictureClip(), planOf({ 'way-up': 'on-its-side' }))],
  [
    'a track of timecode beside the picture',
    () => oneClip(pictureClip({ ending: 'mov', sound: 2, more: ['-timecode', '10:00:00:00'] })),
  ],
  [
    'one recording that the camera split',
    () => ({
      clips: { 'A.MP4': pictureClip({ seconds: 2 }), 'B.MP4': pictureClip({ seconds: 2, sound: 1 }) },
      plan: planOf(),
      sheet: 'takes:\n  box: { clip: [A.MP4, B.MP4], judged: best }\n',
    }),
  ],
  [
    'an action that the camera slowed itself',
    () => ({
      ...oneClip(pictureClip({ seconds: 12 }), planOf({ rate: '100' })),
      sheet: 'takes:\n  box: { clip: C0012.MP4, judged: best, captured: 100 }\n',
    }),
  ],
  ['MKV, as a recorder writes it', () => oneClip(pictureClip({ ending: 'mkv', sound: 2 }))],
  [
    'WebM at 30',
    () => oneClip(pictureClip({ ending: 'webm', codec: 'libvpx-vp9', rate: '30' }), planOf({ rate: '30' })),
  ],
  [
    'fragments, and the clock of another zone past midnight',
    () => {
      const whole = pictureClip({ clock: '2026-12-03T13:00:00Z' });
      const parts = madeClip('mp4', ['-i', whole, '-c', 'copy', '-movflags', 'frag_keyframe+empty_moov']);
      return { ...oneClip(parts), sheet: `day: 2026-12-02\n${sheet}` };
    },
  ],
  [
    'a clock that nobody has set, and pixels that are not square',
    () => ({
      ...oneClip(pictureClip({ clock: '2000-01-01T00:00:00Z', more: ['-aspect', '4:3'] })),
      sheet: `day: 2026-12-02\n${sheet}`,
    }),
  ],
  [
    'four takes in one clip, one of them bad and short',
    () => ({
      ...oneClip(pictureClip({ seconds: 12 })),
      sheet: `takes:
  box:
    - { clip: C0012.MP4, part: 0 s to 4 s, judged: best }
    - { clip: C0012.MP4, part: 4 s to 5 s, judged: bad }
    - { clip: C0012.MP4, part: 5 s to 8.5 s, judged: good }
    - { clip: C0012.MP4, part: 8.5 s to 12 s, judged: spare }
`,
    }),
  ],
];

describe('a clean clip stays silent', () => {
  it('of at least twenty kinds', () => expect(clean.length).toBeGreaterThanOrEqual(20));

  it.each(clean)('%s', async (_, day) => {
    expect((await findingsOf(day())).map((one) => `${one.rule}: ${one.message}`)).toEqual([]);
  });
});
