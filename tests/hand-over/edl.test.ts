/**
 * Edit decision lists against the published line format of CMX 3600: number, reel, channel, transition with its frames,
 * and four time codes, two of the reel and two of the film. A reader of our own, written from that format and sharing
 * nothing with the writer, reads them back. Nothing on npm or Debian reads them.
 */
import { describe, expect, it, test } from 'vitest';
import { frameToTimecode, timecodeText } from '../../server/calc/timecode.ts';
import { parseRate } from '../../server/calc/rate.ts';
import { handed, sampleHanded } from '../helpers/handed.ts';
import { spec } from '../helpers/workspace.ts';

interface Event {
  readonly number: number;
  readonly reel: string;
  readonly channel: string;
  readonly kind: 'C' | 'D';
  /** Of a dissolve. */
  readonly frames: number;
  readonly source: readonly [number, number];
  readonly record: readonly [number, number];
}

const code = String.raw`(\d\d:\d\d:\d\d[:;]\d\d)`;
const eventLine = new RegExp(
  String.raw`^(\d{3})  (\w{1,8}) +(V|AA|AA/V) +(?:(C)|(D) +(\d{3})) +${code} ${code} ${code} ${code}$`,
);

/** By counting, not by a formula: SMPTE ST 12-1 leaves out the first numbers of each minute but every tenth. */
function frameOf(text: string, fps: number): number {
  const [hours, minutes, seconds, frames] = text.split(/[:;]/).map(Number);
  const drop = text.includes(';');
  let count = 0;
  for (let minute = 0; minute < hours! * 60 + minutes!; minute++)
    count += fps * 60 - (drop && minute % 10 !== 0 ? fps / 15 : 0);
  const skipped = drop && minutes! % 10 !== 0 ? fps / 15 : 0;
  return count + seconds! * fps + frames! - skipped;
}

function eventsOf(text: string, fps = 25): Event[] {
  expect(text).toMatch(/^TITLE: .*\r\nFCM: (NON-)?DROP FRAME\r\n/);
  const rest = text.split('\r\n').slice(2, -1);
  return rest.flatMap((line) => {
    const match = eventLine.exec(line);
    if (!match) expect(line).toMatch(/^(\* .*|M2 {3}\w{1,8} +-?\d{3}\.\d +\d\d:\d\d:\d\d[:;]\d\d)$/);
    if (!match) return [];
    const [, number, reel, channel, , dissolve, frames, ...codes] = match;
    const [from, to, start, end] = codes.map((one) => frameOf(one, fps));
    return [
      {
        number: Number(number),
        reel: reel!,
        channel: channel!,
        kind: dissolve ? 'D' : 'C',
        frames: Number(frames ?? 0),
        source: [from!, to!],
        record: [start!, end!],
      } as const,
    ];
  });
}

const plan = (cut: string, { rate = '25', starts = '' } = {}) =>
  spec(`deliver:
  film: { raster: 1920x1080, rate: ${rate}, codec: h264, bitrate: 16 Mb/s, sound: none }
timeline: { rate: ${rate}${starts === '' ? '' : `, starts: ${starts}`} }
shots:
  box: { record: 30 s, handles: 1 s }
  lid: { record: 30 s, handles: 1 s }
cut:
${cut}`);

describe('frames', () => {
  const three =
    '  - { shot: box, length: 37 frames }\n  - { shot: lid, length: 1 frame }\n  - { shot: box, length: 2000 frames }\n';
  it.each([
    ['23.976', 24, '00:59:58:00'],
    ['25', 25, '09:59:58:00'],
    ['29.97', 30, '00:59:58;00'],
    ['29.97', 30, '00:59:58:00'],
    ['50', 50, '01:00:00:00'],
    ['59.94', 60, '00:59:58;00'],
    ['59.94', 60, '00:59:58:00'],
  ])('at %s the film is cut on whole frames that follow each other, from %s', (rate, fps, starts) => {
    const { text } = handed('edl', {}, plan(three, { rate, starts }));
    const first = frameOf(starts, fps);
    expect(text).toContain(`FCM: ${starts.includes(';') ? 'DROP FRAME' : 'NON-DROP FRAME'}\r\n`);
    expect(eventsOf(text, fps).map(({ record }) => record)).toEqual([
      [first, first + 37],
      [first + 37, first + 38],
      [first + 38, first + 2038],
    ]);
  });

  it.each(['29.97', '59.94'])('every number of an hour that exists at %s is written once, in order', (rate) => {
    const fps = rate === '29.97' ? 30 : 60;
    const r = parseRate(rate)!;
    // Ten minutes hold every case: 17,982 frames at 29.97 (SMPTE ST 12-1), 35,964 at 59.94.
    const tenMinutes = (fps / 30) * 17_982;
    for (let frame = 0; frame <= tenMinutes; frame++)
      if (frameOf(timecodeText(frameToTimecode(frame, r, true)), fps) !== frame) expect.fail(`frame ${frame}`);
    expect(timecodeText(frameToTimecode(tenMinutes, r, true))).toBe('00:10:00;00');
  });
});

test('the sample is read back: takes, black, kept sound, a dissolve that starts before its cut', () => {
  const events = eventsOf(sampleHanded('music-box.shoot.yaml', 'edl').text);
  const ten = 10 * 3600 * 25;
  const pictures = events.filter(({ channel }) => channel.endsWith('V'));
  expect(
    pictures.map(({ number, reel, kind, frames, record: [start, end] }) => [
      number,
      reel,
      kind,
      frames,
      start - ten,
      end - ten,
    ]),
  ).toEqual([
    [1, 'BL', 'C', 0, 0, 0],
    [1, 'C0013', 'D', 10, 0, 210],
    [2, 'C0015', 'C', 0, 210, 355],
    [3, 'C0015', 'C', 0, 355, 355],
    [3, 'C0017', 'D', 10, 355, 450],
    [4, 'C0018', 'C', 0, 450, 540],
    [5, 'BL', 'C', 0, 540, 600],
  ]);
  // The action starts at 2.4 s of its clip after a handle; 2 s later in the take is the piece's first frame.
  expect(events.find(({ reel }) => reel === 'C0013')!.source).toEqual([85, 295]);
  expect(events.filter(({ channel }) => channel === 'AA')).toHaveLength(2);
});

test('speeds stand as M2 in frames a second, backwards with a minus, stills as none', () => {
  const { text } = handed(
    'edl',
    { takes: 'takes:\n  box: C0001.MP4\n' },
    plan(
      '  - { shot: box, length: 2 s, from: 1 s, speed: 50 % }\n  - { shot: box, length: 2 s, from: 3 s, speed: -100 % }\n  - { shot: box, length: 1 s, from: 4 s, speed: 0 % }\n',
    ),
  );
  expect(text.match(/^M2.*$/gm)!.map((line) => line.trim())).toEqual([
    'M2   C0001          012.5                00:00:01:00',
    'M2   C0001          -025.0                00:00:02:24',
    'M2   C0001          000.0                00:00:04:00',
  ]);
  expect(eventsOf(text).map(({ source: [from, to] }) => to - from)).toEqual([25, 50, 1]);
  expect(text).toContain('* FREEZE FRAME');
});

test('a part of a film begins with a plain cut where a dissolve is under way, and fades go to black', () => {
  const { text, notes } = handed(
    'edl',
    {},
    plan(`  - { shot: box, length: 2 s }
  - { shot: lid, length: 2 s, dissolve: 10 frames, fade-out: 5 frames }
  - { shot: box, length: 2 s, fade-in: 6 frames }
`).replace('sound: none }', 'sound: none, section: 2 s to 6 s }'),
  );
  expect(notes).toContain('Piece 2 (`lid`) still dissolves where the film starts: it begins with a plain cut.');
  expect(eventsOf(text).map(({ reel, kind, frames, record }) => [reel, kind, frames, ...record])).toEqual([
    ['AX', 'C', 0, 0, 45],
    ['AX', 'C', 0, 45, 45],
    ['BL', 'D', 5, 45, 50],
    ['BL', 'C', 0, 50, 50],
    ['AX', 'D', 6, 50, 100],
  ]);
});

test('a cut that can’t be made is not handed over', () => {
  const long = plan('  - { shot: box, length: 10 frames, fade-in: 8 frames, fade-out: 8 frames }\n');
  expect(() => handed('edl', {}, long)).toThrow('has 10 frames, and its fades and dissolves take 16 frames');
});

test('what no line has a word for is a note', () => {
  const { text } = sampleHanded('music-box.shoot.yaml', 'edl');
  for (const note of [
    '* ZOOM: 1 TO 1.1',
    '* STRAIGHTEN: 0.8 DEGREES',
    '* FLIP: upright',
    '* MUSIC: tune',
    '* COLOUR: #1c1512',
    'Turns by hand',
  ])
    expect(text).toContain(note);
});

test('clips of one name in two folders are two reels, and no reel is one of those that mean something', () => {
  const takes = 'takes:\n  box: a/BL.MP4\n  lid: b/BL.MP4\n';
  const { text } = handed('edl', { takes }, plan('  - { shot: box, length: 1 s }\n  - { shot: lid, length: 1 s }\n'));
  expect(eventsOf(text).map(({ reel }) => reel)).toEqual(['BL2', 'BL3']);
});

test('words of a spec never become lines', () => {
  const { text } = handed(
    'edl',
    {},
    plan('  - { shot: box, length: 4 s }\n').replace(
      /^title: .*/m,
      String.raw`title: "Box\r\n001  BAD V C 00:00:00:00"`,
    ) +
      String.raw`titles:
  - { text: "One\n002  BAD      V     C        00:00:00:00 00:00:00:00 00:00:00:00 00:00:00:00", at: 1 s, hold: 2 s, letters: 8 % }
`,
  );
  expect(eventsOf(text).map(({ reel }) => reel)).toEqual(['AX']);
});
