/** A time-lapse: how long it is in the film, how large its file, and what is not asked of it. */
import { describe, expect, test } from 'vitest';
import { recordedBytes } from '../../server/core/derived/measures.ts';
import { mends, messages } from '../helpers/findings.ts';
import { checkSpec, spec } from '../helpers/workspace.ts';

const film = (shot: string, piece = '') =>
  spec(`shots:
  box: { record: 1 h, ${shot} }
cut:
  - { shot: box, length: 10 s${piece} }
`);
const shotOf = (text: string) => checkSpec(text).film!.shots.get('box')!;

describe('a picture every 5 s', () => {
  test('plays at 125 times real speed in a film of 25', () => {
    const { pieces } = shotOf(film('interval: 5 s'));
    expect(pieces[0]!.speed).toBe(125);
    expect(shotOf(film('interval: 5 s', ', speed: 5000 %')).pieces[0]!.speed).toBe(50);
    expect(shotOf(film('takes: 1')).pieces[0]!.speed).toBe(1);
  });

  test('fills a hundred and twenty-fifth of the file', () => {
    const [lapse, real] = [film('interval: 5 s'), film('takes: 1')].map((text) => recordedBytes(shotOf(text)));
    expect(real! / lapse!).toBeCloseTo(125, 6);
    // 720 pictures are 28.8 s at 25 a second: 540 MB at 150 Mb/s.
    expect(lapse).toBeCloseTo(540e6, 0);
  });

  test('takes 125 s of real life for each second of the film', () => {
    expect(messages(film('interval: 5 s'), 'recording-too-short')).toEqual([]);
    const short = film('interval: 5 s').replace('record: 1 h', 'record: 20 min');
    expect(messages(short, 'recording-too-short')).toHaveLength(1);
  });

  test('is held where it is played slower than its pictures allow', () => {
    const slow = film('interval: 5 s', ', speed: 5000 %');
    expect(messages(slow, 'slow-motion-lacks-frames')).toEqual([
      'box: a picture every 5 s, played at 5000 %, gives 0.4 of a picture for each frame of the 25 film, so pictures are held ' +
        'and it stutters. Take one every 2 s, or play it at 12500 %.',
    ]);
    expect(mends(slow, 'slow-motion-lacks-frames')).toContain('Take one every 2 s');
    // A picture a day would have to be played 2 160 000 times as fast, which is more than can be written.
    const daily = film('interval: 24 h', ', speed: 50000000 %').replace('record: 1 h', 'record: 1000 h');
    expect(messages(daily, 'slow-motion-lacks-frames')[0]).toMatch(/Take one every 20000 s\.$/);
    expect(mends(daily, 'slow-motion-lacks-frames')).toEqual(['Take one every 20000 s']);
  });

  test('needs no half-frame shutter', () => {
    const moving = (more: string) => film(`turn: { use: large, speed: 0.2 rpm }, camera: { shutter: 1/500 s }${more}`);
    expect(messages(moving(''), 'shutter-off-half-frame')).toHaveLength(1);
    expect(messages(moving(', interval: 5 s'), 'shutter-off-half-frame')).toEqual([]);
  });
});
