/** Captions are read back by the W3C's own parser of WebVTT, which is strict, and by ffprobe. */
import { execFileSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { WebVTTParser } from 'webvtt-parser';
import { expect, it, test } from 'vitest';
import { aFolder } from '../helpers/assembled.ts';
import { handed, sampleHanded } from '../helpers/handed.ts';
import { spec } from '../helpers/workspace.ts';

function cuesOf(text: string): [number, number, string][] {
  const { cues, errors } = new WebVTTParser().parse(text, 'metadata');
  expect(errors).toEqual([]);
  return cues.map(({ startTime, endTime, text }) => [startTime, endTime, text]);
}

const film = (blocks: string, rate = '25') =>
  spec(`deliver:
  film: { raster: 1920x1080, rate: ${rate}, codec: h264, bitrate: 16 Mb/s }
shots:
  box: { record: 30 s }
cut:
  - { shot: box, length: 10 s }
${blocks}`);

test('titles and what a voice says, in the order of the film', () => {
  const { text } = handed(
    'webvtt',
    {},
    film(`titles:
  - { text: Turns by hand, at: 4 s, hold: 3 s, letters: 8 % }
sounds:
  - { track: voice, at: 1 s, length: 2.4 s, words: It plays one tune. }
`),
  );
  expect(cuesOf(text)).toEqual([
    [1, 3.4, 'It plays one tune.'],
    [4, 7, 'Turns by hand'],
  ]);
});

it.each([
  ['23.976', 24000 / 1001],
  ['29.97', 30000 / 1001],
  ['50', 50],
  ['59.94', 60000 / 1001],
])('at %s a caption starts with its frame, to the nearest millisecond', (rate, fps) => {
  const { text } = handed(
    'webvtt',
    {},
    film('titles:\n  - { text: Turns, at: 2.34 s, hold: 3 s, letters: 8 % }\n', rate),
  );
  const [[start = 0] = []] = cuesOf(text);
  expect(Math.abs(start - Math.round(2.34 * fps) / fps)).toBeLessThanOrEqual(0.0005 + 1e-9);
});

test('a part of the film has the captions of that part, in its own time', () => {
  // 14 to 30 beats of the cut at 100 a minute: the first title stands from 14 beats, 4 beats long.
  expect(cuesOf(sampleHanded('music-box.shoot.yaml', 'webvtt', { deliverable: 'teaser' }).text)).toEqual([
    [0, 2.4, 'Turns by hand'],
  ]);
});

test('words of a spec are words: no tag, no arrow, no empty line that ends a cue', () => {
  const { text } = handed(
    'webvtt',
    {},
    film(String.raw`titles:
  - { text: "<b>&\n\n00:00:00.000 --> 00:00:09.000\nNOTE\u2028x\u202e", at: 4 s, hold: 3 s, letters: 8 % }
`),
  );
  const [cue, ...others] = cuesOf(text);
  expect(others).toEqual([]);
  expect(cue![2]).toBe('&lt;b&gt;&amp;\n00:00:00.000 --&gt; 00:00:09.000\nNOTE\\u{2028}x\\u{202e}');
});

test('a voice without a length is said, and ends where the next begins', () => {
  const { text, notes } = handed(
    'webvtt',
    {},
    film(
      'sounds:\n  - { track: voice, at: 1 s, words: One tune. }\n  - { track: voice, at: 4 s, length: 2 s, words: By hand. }\n',
    ),
  );
  expect(cuesOf(text).map(([start, end]) => [start, end])).toEqual([
    [1, 4],
    [4, 6],
  ]);
  expect(notes).toEqual([
    'How long `One tune.` is spoken is not said: its caption stands until 4 s. Give the sound a `length`.',
  ]);
});

test('ffprobe reads the captions of the sample', () => {
  const file = join(aFolder(), 'film.vtt');
  writeFileSync(file, sampleHanded('music-box.shoot.yaml', 'webvtt').text);
  const args = ['-v', 'error', '-show_entries', 'packet=pts_time,duration_time', '-of', 'compact=p=0:nk=1', file];
  const packets = execFileSync('ffprobe', args, { encoding: 'utf8' }).trim().split('\n');
  // What follows says where on the screen.
  expect(packets.map((line) => line.split('|').slice(0, 2).map(Number))).toEqual([
    [8.4, 2.4],
    [21.6, 2.4],
  ]);
});
