/** Each rule about sound and picture has a real clip with that one fault planted, and says that and nothing else. */
import { beforeAll, expect, test } from 'vitest';
import { together } from '../helpers/clips.ts';
import {
  clipHeight,
  drawnClip,
  litBy,
  playedSound,
  remadeClip,
  scene,
  type Sound,
  tune,
} from '../helpers/film-clips.ts';
import { type DecodedDay, decodedFindings } from '../helpers/decoded-day.ts';
import { planOf } from '../helpers/filmed.ts';
import { plantedPage } from '../helpers/planted-table.ts';

const small = { raster: '160x90' };
const plan = planOf(small);
const takes = (clip: string, day: Partial<DecodedDay> = {}): DecodedDay => ({
  clips: { 'C0012.MP4': clip },
  sheet: 'takes:\n  box: { clip: C0012.MP4, judged: best }\n',
  plan,
  ...day,
});
const master = (file: string, more = '', day: Partial<DecodedDay> = {}): DecodedDay => ({
  masters: { 'film.mp4': file },
  sheet: 'masters:\n  film: film.mp4\n',
  plan: planOf(small, more),
  ...day,
});
const deliver = (more: string) =>
  `deliver:\n  film: { raster: 160x90, rate: 25, length: 3 s, codec: h264, bitrate: 4 Mb/s, ${more} }\n`;
const seconds = 3;
const kept = `${deliver('sound: stereo')}cut:\n  - { shot: box, length: 3 s, sound: keep }\n`;
const twoShots = `${deliver('sound: none')}shots:
  box: { record: 4 s, handles: 0 s }
  lid: { record: 4 s, handles: 0 s }
cut:
  - { shot: box, length: 1 s }
  - { shot: lid, length: 2 s }
`;
const twice = 'cut:\n  - { shot: box, length: 1.5 s }\n  - { shot: box, length: 1.5 s, from: 1.5 s }\n';
const claps: Sound = (s) => {
  const since = [0.3, 0.71, 1.02, 1.6, 1.83, 2.37, 2.62].map((at) => s - at).find((one) => one >= 0 && one < 0.15);
  return since === undefined ? 0.0005 : 0.4 * Math.exp(-since * 40) * Math.sin(2 * Math.PI * 900 * since);
};
const loud =
  (gain: number): Sound =>
  (s, channel) =>
    Math.max(-1, Math.min(1, gain * tune(s, channel)));
const quiet = ['-c:a', 'pcm_s24le', '-f', 'mov'];
const flash = (period: number, on: number | readonly [number, number, number]) =>
  drawnClip({
    seconds,
    light: (frame, x, y) => (frame % period < period / 2 ? on : (scene(0, x, y) as number) * 0.05),
  });

const planted: readonly (readonly [rule: string, fault: string, day: () => DecodedDay, message: string])[] = [
  [
    'light-pulses',
    'light that beats five times a second',
    () => takes(drawnClip({ seconds, light: litBy((frame) => 1 + 0.04 * Math.sin((2 * Math.PI * 5 * frame) / 25)) })),
    '`C0012.MP4`: the picture gets brighter and darker by 8',
  ],
  [
    'light-pulses',
    'bands of a shutter that rolls',
    () =>
      takes(
        drawnClip({
          seconds,
          light: litBy((frame, _, y) => 1 + 0.05 * Math.sin(2 * Math.PI * ((7 * frame) / 25 + (1.2 * y) / clipHeight))),
        }),
      ),
    ', 7 times a second.',
  ],
  [
    'picture-clipped',
    'a bright corner',
    () => takes(drawnClip({ seconds, light: (frame, x, y) => (x < 40 && y < 45 ? 1 : scene(frame, x, y)) })),
    '`C0012.MP4`: 12',
  ],
  [
    'frames-repeat',
    'a recording at 20 made 25',
    () =>
      takes(
        remadeClip(drawnClip({ fps: 20, seconds, light: (frame, x, y) => scene(frame * 1.25, x, y) }), ['-r', '25']),
      ),
    'frames repeat the one before while things move, one in 5, the first at ',
  ],
  [
    'frames-repeat',
    'a picture that stands from the second second on',
    () => takes(remadeClip(drawnClip({ seconds: 2 }), ['-vf', 'tpad=stop_mode=clone:stop_duration=1'])),
    '`C0012.MP4`: the picture stands still from 2',
  ],
  [
    'take-sound-spoilt',
    'a level that is too high',
    () => takes(drawnClip({ seconds, sound: loud(12), encode: quiet }), { plan: planOf(small, kept) }),
    '`C0012.MP4`: the sound that the cut keeps clips',
  ],
  [
    'take-sound-spoilt',
    'a plug that was not in',
    () => takes(drawnClip({ seconds, sound: () => 0, encode: quiet }), { plan: planOf(small, kept) }),
    '`C0012.MP4`: the sound that the cut keeps is silent (under -60 dB all through).',
  ],
  [
    'sound-apart-off',
    'a recorder that ran half a second before the camera',
    () => ({
      ...takes(drawnClip({ seconds, sound: claps })),
      clips: {
        'C0012.MP4': drawnClip({ seconds, sound: claps }),
        'S1.WAV': playedSound((s) => claps(s - 0.5, 0), 4, 1),
      },
      sheet: 'takes:\n  box: { clip: C0012.MP4, judged: best, sound: { file: S1.WAV, starts: 0.2 s } }\n',
    }),
    '`S1.WAV` is said to start 0.2 s into `C0012.MP4`; by what both heard it starts at -0.5',
  ],
  [
    'takes-do-not-match',
    'a lamp that gives half as much in the second take',
    () => ({
      plan: planOf(small, twice),
      clips: { 'A.MP4': drawnClip({ seconds }), 'B.MP4': drawnClip({ seconds, light: litBy(() => 0.5) }) },
      sheet:
        'takes:\n  box:\n    - { clip: A.MP4, judged: best, piece: 1 }\n    - { clip: B.MP4, judged: best, piece: 2 }\n',
    }),
    '`B.MP4` is 1 stop darker than `A.MP4`, which it follows in the cut with the same view.',
  ],
  [
    'not-decoded',
    'a clip that breaks off',
    () => takes(broken()),
    '`C0012.MP4`: sound and picture could not be looked at',
  ],
  [
    'master-picture-off',
    'an export at 50',
    () => master(drawnClip({ seconds, fps: 50 })),
    '`film.mp4` has 50 frames a second, where film has 25.',
  ],
  [
    'master-picture-off',
    'an export that runs on',
    () => master(drawnClip({ seconds: 3.4 })),
    '`film.mp4` has 85 frames, where film runs 75 frames: 10 frames too long.',
  ],
  [
    'master-codec-off',
    'ten bits',
    () => master(remadeClip(drawnClip({ seconds }), ['-pix_fmt', 'yuv420p10le', '-movflags', '+faststart'])),
    '`film.mp4` is coded as 10 bits, where film is 8 bits.',
  ],
  [
    'master-codec-off',
    'colours marked HLG',
    () =>
      master(
        drawnClip({
          seconds,
          encode: ['-color_primaries', 'bt2020', '-color_trc', 'arib-std-b67', '-colorspace', 'bt2020nc'],
        }),
      ),
    '`film.mp4` is marked bt2020 and hlg, where film is BT.709',
  ],
  [
    'master-too-large',
    'more than the cap',
    () => master(drawnClip({ seconds }), deliver('sound: none, largest-file: 10 kB')),
    'and film may have 10 kB at most',
  ],
  [
    'master-sound-off',
    'no sound',
    () => master(drawnClip({ seconds }), deliver('sound: stereo')),
    '`film.mp4` has no sound',
  ],
  [
    'master-sound-off',
    'one channel',
    () => master(drawnClip({ seconds, sound: tune, channels: 1 }), deliver('sound: stereo')),
    '`film.mp4` has one channel, where film is stereo.',
  ],
  [
    'master-index-at-end',
    'an index at the end',
    () => master(drawnClip({ seconds, encode: ['-movflags', '-faststart'] }), deliver('sound: none, shown-on: web')),
    '`film.mp4` has its index at the end',
  ],
  [
    'master-loudness-off',
    'a mix that is too loud',
    () => master(drawnClip({ seconds, sound: tune }), deliver('sound: stereo, loudness: -23 LUFS, true-peak: -1 dBTP')),
    'LUFS (range 0 LU, true peak ',
  ],
  [
    'master-loudness-off',
    'peaks over the limit',
    () =>
      master(
        drawnClip({ seconds, sound: loud(7.6), encode: ['-c:a', 'aac', '-b:a', '320k'] }),
        deliver('sound: stereo, loudness: -2 LUFS, true-peak: -1 dBTP'),
      ),
    '`film.mp4` has a true peak of ',
  ],
  [
    'master-flashes',
    'white six times a second and a quarter',
    () => master(flash(4, 0.9)),
    'flashes 7 times in the second from 00:00:00:',
  ],
  [
    'master-flashes',
    'red five times a second',
    () => master(flash(5, [0.5, 0.01, 0.01])),
    'with saturated red 5 times',
  ],
  [
    'master-ends-empty',
    'four black frames at the end',
    () => master(drawnClip({ seconds, light: (frame, x, y) => (frame > 70 ? 0 : scene(frame, x, y)) })),
    '`film.mp4` ends with 4 frames of black, from 00:00:02:21 on',
  ],
  [
    'master-ends-empty',
    'a take that ran out',
    () =>
      master(
        remadeClip(drawnClip({ seconds: 2 }), [
          '-vf',
          'tpad=stop_mode=clone:stop_duration=1',
          '-movflags',
          '+faststart',
        ]),
      ),
    '`film.mp4` stands still for its last 2',
  ],
  [
    'master-has-bars',
    'bars above and below',
    () => master(drawnClip({ seconds, light: (frame, x, y) => (y < 11 || y >= 79 ? 0 : scene(frame, x, y)) })),
    '`film.mp4` has black bars above and below (11 and 11 pixels)',
  ],
  [
    'master-cuts-moved',
    'a cut that comes six frames late',
    () => master(cutAt(31), twoShots),
    '`film.mp4`: the cut to `lid` lies at 00:00:01:06, and 00:00:01:00 is planned: 6 frames too late.',
  ],
];

function cutAt(frame: number): string {
  return drawnClip({
    seconds,
    light: (at, x, y) => (at < frame ? scene(at, x, y) : scene(at, (x + 60) % 160, y * 0.4)),
  });
}

/** Its second half is gone from the middle of the pictures on; the index, in front, is whole. */
function broken(): string {
  return remadeClip(drawnClip({ seconds }), ['-movflags', '+faststart', '-bsf:v', 'noise=amount=-1']);
}

let days: ReadonlyMap<() => DecodedDay, DecodedDay>;
beforeAll(() => {
  const all = [...planted.map(([, , day]) => day), ...clean.map(([, day]) => day)];
  const made = together(all);
  days = new Map(all.map((day, index) => [day, made[index]!]));
});

test.each(planted)('%s: %s', async (rule, _, day, message) => {
  const findings = await decodedFindings(days.get(day)!);
  expect(findings.map((one) => one.rule)).toEqual([rule]);
  expect(findings[0]!.message).toContain(message);
});

test('each stands in the docs with what is said of it', async () => {
  const lead =
    'What sound and picture say once a clip is decoded: each fault is drawn into a clip, with a plan that fits but for it. Made by `npx vitest run tests/footage/planted-decoded.test.ts -u`.';
  const all = planted.map(([rule, fault, , message]) => ({ rule, fault, message, isPart: true }));
  await expect(plantedPage('Faults of sound and picture', lead, all)).toMatchFileSnapshot(
    '../../docs/faults-of-sound-and-picture.md',
  );
});

const clean: readonly (readonly [string, () => DecodedDay])[] = [
  ['a take', () => takes(drawnClip({ seconds, sound: tune, encode: quiet }), { plan: planOf(small, kept) })],
  ['a take of a thing that nothing moves', () => takes(drawnClip({ seconds, light: (_, x, y) => scene(0, x, y) }))],
  [
    'a take with glints',
    () => takes(drawnClip({ seconds, light: (f, x, y) => ((x * 7 + y * 13) % 200 < 1 ? 1 : scene(f, x, y)) })),
  ],
  [
    'a take whose light swings by 1 %',
    () => takes(drawnClip({ seconds, light: litBy((f) => 1 + 0.005 * Math.sin(f)) })),
  ],
  ['a master', () => master(drawnClip({ seconds }))],
  ['a master with a level that is higher than needed', () => master(drawnClip({ seconds, encode: ['-level', '4.2'] }))],
  ['a master that flashes three times a second', () => master(flash(9, 0.9))],
  [
    'a master that flashes in a corner',
    () => master(drawnClip({ seconds, light: (f, x, y) => (x < 70 && y < 45 && f % 4 < 2 ? 0.9 : scene(f, x, y)) })),
  ],
  ['a master whose cut is a frame late', () => master(cutAt(26), twoShots)],
  [
    'a master with a fade',
    () =>
      master(
        drawnClip({ seconds, light: litBy((frame) => Math.max(0, Math.min(1, (frame - 1) / 24))) }),
        `${deliver('sound: none')}cut:\n  - { shot: box, length: 3 s, fade-in: 1 s }\n`,
      ),
  ],
  [
    'a mix that is half a unit off',
    () =>
      master(
        drawnClip({ seconds, sound: loud(0.87) }),
        deliver('sound: stereo, loudness: -21 LUFS, true-peak: -1 dBTP'),
      ),
  ],
];

test.each(clean)('nothing is said of %s', async (_, day) => {
  expect((await decodedFindings(days.get(day)!)).map(({ rule, message }) => `${rule}: ${message}`)).toEqual([]);
});
