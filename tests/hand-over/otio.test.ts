/**
 * OpenTimelineIO against its published list of serialized classes and fields (docs/tutorials/otio-serialized-schema-only-fields
 * of that project). Neither npm nor Debian has a reader, so that the shape is what is held against.
 */
import { expect, it, test } from 'vitest';
import type { ClipState } from '../../server/core/footage.ts';
import { handed, sampleHanded } from '../helpers/handed.ts';
import { spec } from '../helpers/workspace.ts';

const item = ['effects', 'enabled', 'markers', 'metadata', 'name', 'source_range'];
const reference = ['available_image_bounds', 'available_range', 'metadata', 'name'];
/** As published, and `children`, which the list leaves out and every published sample has. */
const published: Readonly<Record<string, readonly string[]>> = {
  'Timeline.1': ['global_start_time', 'metadata', 'name', 'tracks'],
  'Stack.1': [...item, 'children'],
  'Track.1': [...item, 'kind', 'children'],
  'Clip.2': [...item, 'active_media_reference_key', 'media_references'],
  'Gap.1': item,
  'Transition.1': ['in_offset', 'metadata', 'name', 'out_offset', 'transition_type'],
  'Marker.2': ['color', 'comment', 'marked_range', 'metadata', 'name'],
  'RationalTime.1': ['rate', 'value'],
  'TimeRange.1': ['duration', 'start_time'],
  'ExternalReference.1': [...reference, 'target_url'],
  'MissingReference.1': reference,
  'GeneratorReference.1': [...reference, 'generator_kind', 'parameters'],
  'LinearTimeWarp.1': ['effect_name', 'metadata', 'name', 'time_scalar'],
  'FreezeFrame.1': ['effect_name', 'metadata', 'name', 'time_scalar'],
};

interface Time {
  readonly rate: number;
  readonly value: number;
}
interface Range {
  readonly start_time: Time;
  readonly duration: Time;
}
interface Item {
  readonly OTIO_SCHEMA: string;
  readonly name: string;
  readonly source_range: Range;
  readonly children: readonly Item[];
  readonly kind: string;
  readonly markers: readonly { readonly name: string; readonly marked_range: Range }[];
  readonly effects: readonly { readonly OTIO_SCHEMA: string; readonly time_scalar: number }[];
  readonly media_references: { readonly DEFAULT_MEDIA: { readonly OTIO_SCHEMA: string; readonly target_url: string } };
  readonly in_offset: Time;
  readonly out_offset: Time;
}

function read(text: string): { global_start_time: Time; tracks: Item } {
  const timeline = JSON.parse(text) as never;
  check(timeline);
  return timeline;
}

function check(value: unknown): void {
  if (Array.isArray(value)) value.forEach(check);
  else if (value !== null && typeof value === 'object') {
    const { OTIO_SCHEMA, ...fields } = value as Record<string, unknown>;
    if (typeof OTIO_SCHEMA === 'string')
      expect([OTIO_SCHEMA, Object.keys(fields).sort()]).toEqual([OTIO_SCHEMA, [...published[OTIO_SCHEMA]!].sort()]);
    Object.values(fields).forEach(check);
  }
}

const frames = (range: Range) => [range.start_time.value, range.duration.value];

test('the sample: takes, a dissolve over both sides of its cut, a fade, kept sound, music, titles and beats', () => {
  const { tracks, global_start_time } = read(sampleHanded('music-box.shoot.yaml', 'otio').text);
  expect(global_start_time).toEqual({ OTIO_SCHEMA: 'RationalTime.1', rate: 25, value: 10 * 3600 * 25 });
  const [picture, kept, music, click] = tracks.children;
  expect(picture!.children.map(({ OTIO_SCHEMA, name }) => `${OTIO_SCHEMA} ${name}`.trim())).toEqual([
    'Transition.1',
    'Clip.2 opening',
    'Clip.2 hand-turns',
    'Transition.1',
    'Clip.2 teeth',
    'Clip.2 from-above',
    'Clip.2 #1c1512',
  ]);
  const [fadeIn, , , dissolve] = picture!.children;
  expect([fadeIn!.in_offset.value, fadeIn!.out_offset.value]).toEqual([0, 10]);
  expect([dissolve!.in_offset.value, dissolve!.out_offset.value]).toEqual([5, 5]);
  const clips = picture!.children.filter(({ OTIO_SCHEMA }) => OTIO_SCHEMA === 'Clip.2');
  expect(clips.map(({ source_range }) => source_range.duration.value)).toEqual([210, 150, 90, 90, 60]);
  expect(clips[0]!.media_references.DEFAULT_MEDIA.target_url).toBe('footage/music-box/day-1/C0013.MP4');
  expect(kept!.children.map(({ OTIO_SCHEMA }) => OTIO_SCHEMA)).toEqual(['Gap.1', 'Clip.2', 'Gap.1', 'Gap.1', 'Gap.1']);
  // 100 a minute at 25: every 15 frames, 40 of them.
  const beats = music!.children[0]!.markers.map(({ marked_range }) => marked_range.start_time.value);
  expect(beats.slice(1).map((beat, index) => beat - beats[index]!)).toEqual(Array(beats.length - 1).fill(15));
  expect(beats).toHaveLength(40);
  expect(click!.children[0]!.source_range.duration.value).toBe(120);
  expect(tracks.markers.map(({ name, marked_range }) => [name, ...frames(marked_range)])).toEqual([
    ['Turns by hand', 210, 60],
    ['Tinnabel', 540, 60],
  ]);
});

it.each(['23.976', '25', '29.97', '50', '59.94'])(
  'at %s all tracks are as long as the film, in whole frames',
  (rate) => {
    const text = spec(`deliver:
  film: { raster: 1920x1080, rate: ${rate}, codec: h264, bitrate: 16 Mb/s }
shots:
  box: { record: 30 s }
music: { track: tune, tempo: 97 bpm, first-beat: 0.2 s, length: 60 s }
cut:
  - { shot: box, length: 5 beats }
  - { shot: box, length: 3 beats, dissolve: 7 frames }
  - { shot: box, length: 8.5 beats }
`);
    const { tracks } = read(handed('otio', {}, text).text);
    const lengths = tracks.children.map(({ children }) =>
      children.reduce(
        (sum, one) => sum + (one.OTIO_SCHEMA === 'Transition.1' ? 0 : one.source_range.duration.value),
        0,
      ),
    );
    const [num, den] = { '23.976': [24000, 1001], '29.97': [30000, 1001], '59.94': [60000, 1001] }[rate] ?? [
      Number(rate),
      1,
    ];
    // 16.5 beats of 60/97 s, to the nearest frame.
    const film = Math.round((16.5 * 60 * num!) / (97 * den!));
    expect(lengths).toEqual([film, film]);
    expect(tracks.children[0]!.children[0]!.source_range.duration.rate).toBeCloseTo(num! / den!, 12);
  },
);

/** A clip as its container describes it. */
function clip(fps: number, frameCount: number): ClipState {
  const video = {
    codec: 'h264',
    raster: { width: 3840, height: 2160 },
    rotationDeg: 0,
    frames: frameCount,
    rate: fps,
    smallestStepS: 1 / fps,
    largestStepS: 1 / fps,
    usualStepS: 1 / fps,
    unevenFrames: 0,
    colour: {},
  } as const;
  return {
    kind: 'facts',
    facts: { bytes: 1e6, container: 'mp4', durationS: frameCount / fps, indexAt: 'start', video, audio: [] },
  };
}

const cut = (pieces: string) => spec(`shots:\n  box: { record: 30 s, handles: 0 s }\ncut:\n${pieces}`);

test('a recording keeps its own rate, and a slowed one says how fast it plays', () => {
  const pieces =
    '  - { shot: box, length: 2 s, from: 1 s }\n  - { shot: box, length: 2 s, from: 2 s, speed: 50 % }\n  - { shot: box, length: 1 s, from: 3 s, speed: 0 % }\n  - { shot: box, length: 2 s, from: 6 s, speed: -100 % }\n';
  const takes = 'takes:\n  box: { clip: C0001.MP4, judged: best }\n';
  const { tracks } = read(handed('otio', { takes, clips: { 'C0001.MP4': clip(50, 1500) } }, cut(pieces)).text);
  const made = tracks.children[0]!.children;
  expect(
    made.map(({ source_range }) => [
      source_range.start_time.rate,
      source_range.start_time.value,
      source_range.duration.value,
    ]),
  ).toEqual([
    [50, 50, 50],
    [50, 100, 50],
    [50, 150, 25],
    // Backwards it ends with what a piece forwards begins with.
    [50, 200, 50],
  ]);
  expect(made.map(({ effects: [effect] }) => effect && [effect.OTIO_SCHEMA, effect.time_scalar])).toEqual([
    undefined,
    ['LinearTimeWarp.1', 0.5],
    ['FreezeFrame.1', 0],
    ['LinearTimeWarp.1', -1],
  ]);
});

test('a recording that the camera split is two clips, without a frame lost', () => {
  const takes = 'takes:\n  box: { clip: [C0001.MP4, C0002.MP4], judged: best }\n';
  const clips = { 'C0001.MP4': clip(25, 60), 'C0002.MP4': clip(25, 500) };
  const { tracks } = read(handed('otio', { takes, clips }, cut('  - { shot: box, length: 4 s, from: 1 s }\n')).text);
  expect(tracks.children[0]!.children.map(({ source_range }) => frames(source_range))).toEqual([
    [25, 35],
    [0, 65],
  ]);
});

test('what is not recorded yet keeps its place, and a take that is too short says so', () => {
  const bare = handed('otio', {}, cut('  - { shot: box, length: 4 s }\n'));
  const [blank] = read(bare.text).tracks.children[0]!.children;
  expect(blank!.media_references.DEFAULT_MEDIA.OTIO_SCHEMA).toBe('MissingReference.1');
  expect(bare.notes).toEqual(['`box` has no take yet: its place is kept.']);
  const takes = 'takes:\n  box: { clip: C0001.MP4, judged: best }\n';
  const short = handed(
    'otio',
    { takes, clips: { 'C0001.MP4': clip(25, 50) } },
    cut('  - { shot: box, length: 4 s }\n'),
  );
  expect(short.notes.join()).toContain('50 frames are missing');
  expect(read(short.text).tracks.children[0]!.children.map(({ source_range }) => frames(source_range))).toEqual([
    [0, 100],
  ]);
});

test('a fade inside the film is a marker, as there is no black to mix with', () => {
  const { tracks } = read(
    handed('otio', {}, cut('  - { shot: box, length: 4 s, fade-out: 10 frames }\n  - { shot: box, length: 4 s }\n'))
      .text,
  );
  expect(
    tracks.children[0]!.children[0]!.markers.map(({ name, marked_range }) => [name, ...frames(marked_range)]),
  ).toEqual([['fades out to black', 90, 10]]);
});
