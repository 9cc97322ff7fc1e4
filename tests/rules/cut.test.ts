/** The cut: beats, lengths, takes, fades, the brief and titles. Numbers with the source they are checked against. */
import { describe, expect, test } from 'vitest';
import { findings, fixed, marked, mends, messages, severities, titles } from '../helpers/findings.ts';
import { checkSpec, spec } from '../helpers/workspace.ts';

const deliver = (more = '') =>
  `deliver:\n  film: { raster: 1920x1080, rate: 25, codec: h264, bitrate: 16 Mb/s, sound: none${more} }\n`;
const shots = 'shots:\n  box: { record: 60 s }\n  lid: { record: 60 s, camera: { angle: 60° } }\n';

describe('cut-off-beat', () => {
  const rule = 'cut-off-beat';
  const film = (cut: string, tempo = '128 bpm') => spec(`${deliver()}${shots}music: { tempo: ${tempo} }\ncut:\n${cut}`);

  test('says how early the cut is and which frame is nearest', () => {
    // 128 bpm at 25 frames/s is 11.71875 frames a beat (beat table, values computed from fps × 60 ÷ tempo); beat 9 is 105.47.
    const text = film('  - { shot: box, length: 100 frames }\n  - { shot: lid, length: 11 beats }\n');
    expect(messages(text, rule)).toEqual([
      'box (piece 1) ends at frame 100, the beat is at 105.47: 5.47 frames (219 ms) early. Frame 105 is the nearest.',
    ]);
    expect(mends(text, rule)).toHaveLength(2);
  });

  // 100 bpm at 25 is 15 frames a beat, exactly: 112 is 7 after one and 8 before the next.
  test.each([
    [103, 'warning'],
    [104, undefined],
    [106, undefined],
    [107, 'warning'],
    [110, 'warning'],
    [112, 'info'],
  ])('a frame either side passes, just between two beats it is a note: %i is %s', (frames, severity) => {
    const text = film(`  - { shot: box, length: ${frames} frames }\n  - { shot: lid, length: 8 beats }\n`, '100 bpm');
    expect(severities(text, rule)).toEqual(severity ? [severity] : []);
  });

  test('lengths in beats never drift, whatever the rate, and half beats that are written are meant', () => {
    const even = '  - { shot: box, length: 1 beat }\n  - { shot: lid, length: 1 beat }\n'.repeat(8);
    const halves = '  - { shot: box, length: 3.5 beats }\n  - { shot: lid, length: 4.5 beats }\n';
    expect([film(even, '131.7 bpm'), film(halves, '100 bpm')].flatMap((text) => messages(text, rule))).toEqual([]);
  });

  test('a beat of 12.5 frames taken for 13 drifts, and is told once', () => {
    // 16 beats of 13 frames are 8 frames late: count × (13 − 12.5).
    const pieces = '  - { shot: box, length: 13 frames }\n  - { shot: lid, length: 13 frames }\n'.repeat(3);
    const text = film(`${pieces}  - { shot: box, length: 4 beats }\n`, '120 bpm');
    expect(messages(text, rule)).toEqual([
      'With box (piece 3) the cuts are 1.5 frames (60 ms) late: each is a little off, and it adds up. Count every cut from the first beat, 12.5 frames a beat.',
    ]);
  });

  test('what follows a slip by whole beats is not reported again', () => {
    const cut =
      '  - { shot: box, length: 110 frames }\n' +
      '  - { shot: lid, length: 2 beats }\n  - { shot: box, length: 2 beats }\n'.repeat(2);
    expect(marked(film(cut, '100 bpm'), rule)).toEqual(['110 frames']);
  });

  test('a film that is not cut to its music is left alone; one slip of whole seconds is a note', () => {
    const cutTo = (lengths: string[]) =>
      film(lengths.map((length) => `  - { shot: box, length: ${length} }\n`).join(''), '120 bpm');
    expect(messages(cutTo(['3.3 s', '2.9 s', '4.1 s', '1.9 s', '3 s']), rule)).toEqual([]);
    expect(messages(cutTo(['3 s', '2.8 s', '4.1 s']), rule)).toEqual([]);
    const slip = cutTo(['3 s', '2 s', '4.2 s', '1.8 s', '3 s', '2 s']);
    expect([marked(slip, rule), severities(slip, rule)]).toEqual([['4.2 s'], ['info']]);
    // 13 frames for each beat of 12.5, and nothing else.
    const drift = cutTo(Array.from({ length: 8 }, () => '13 frames'));
    expect(severities(drift, rule)).toEqual(['warning']);
  });

  test('the beat grid starts where the music is trimmed', () => {
    // First beat 0.4 s into the file, nothing trimmed: beat 0 is at frame 10, beat 4 at frame 70.
    const found = (frames: number) =>
      messages(
        film(
          `  - { shot: box, length: ${frames} frames }\n  - { shot: lid, length: 8 beats }\n`,
          '100 bpm, first-beat: 0.4 s, trim: 0 s',
        ),
        rule,
      ).length;
    expect([found(60), found(70)]).toEqual([1, 0]);
  });

  test('silent without music, over a dissolve, and where the shot is off the beat on purpose', () => {
    const cut = '  - { shot: box, length: 110 frames }\n  - { shot: lid, length: 8 beats }\n';
    expect(messages(spec(`${deliver()}${shots}cut:\n${cut}`), rule)).toEqual([]);
    expect(messages(film(cut.replace('8 beats', '8 beats, dissolve: 0.4 s'), '100 bpm'), rule)).toEqual([]);
    const own = film(cut, '100 bpm').replace('box: { record: 60 s }', 'box: { record: 60 s, on-purpose: off-beat }');
    expect(messages(own, rule)).toEqual([]);
    expect(checkSpec(own).silenced.map((one) => one.finding.rule)).toEqual([rule]);
  });
});

describe('length-off', () => {
  const rule = 'length-off';

  test('says both in seconds and frames, and which take has time to spare', () => {
    // 19.16 s at 25 is 479 frames, 20 s is 500.
    const text = spec(
      `${deliver(', length: 20 s')}shots:\n  box: { record: 12 s }\n  lid: { record: 16 s }\ncut:\n  - { shot: box, length: 9.16 s }\n  - { shot: lid, length: 10 s }\n`,
    );
    expect(messages(text, rule)).toEqual([
      'film: the cut runs 19.16 s (479 frames), and 20 s (500 frames) are promised: 21 frames short. Hold `lid` (piece 2) longer: its recording has 100 frames to spare.',
    ]);
    expect(mends(text, rule)).toEqual([
      'Hold `lid` (piece 2) to 10.84 s',
      'Promise 19.16 s instead (ask the client first)',
    ]);
  });

  test('one frame counts, less than half does not', () => {
    const found = (promised: string, rate: string, length: string) =>
      messages(
        spec(
          `deliver:\n  film: { raster: 1920x1080, rate: ${rate}, length: ${promised}, sound: none }\ncut:\n  - { shot: box, length: ${length} }\n`,
        ),
        rule,
      ).length;
    expect(['249 frames', '250 frames', '10.015 s', '251 frames'].map((one) => found('10 s', '25', one))).toEqual([
      1, 0, 0, 1,
    ]);
    // 29.97 is exact: 20 × 30000 ÷ 1001 = 599.4.
    expect(['599 frames', '600 frames'].map((one) => found('20 s', '29.97', one))).toEqual([0, 1]);
  });

  test('too long is trimmed; a cap has no promise to keep', () => {
    const text = spec(`${deliver(', length: 8 s, longest: 9 s')}`);
    expect(messages(text, rule)).toEqual([
      'film: the cut runs 10 s (250 frames), and 8 s (200 frames) are promised: 50 frames too long.',
    ]);
    expect(mends(spec(deliver(', length: 8 s')), rule)).toHaveLength(2);
    expect(messages(spec(deliver(', longest: 9 s')), rule)).toEqual([
      'film: the cut runs 10 s (250 frames), and 9 s is the longest that it may be: 25 frames too long. Shorten it, or show a `section` of it.',
    ]);
  });

  test('a section is measured, not the whole cut; one past the end is empty there', () => {
    const both = `deliver:
  film: { raster: 1920x1080, rate: 25, length: 10 s, sound: none }
  story: { like: film, raster: 1080x1920, length: 4 s, section: 2 s to 6 s }
`;
    expect(messages(spec(both), rule)).toEqual([]);
    expect(messages(spec(both.replace('2 s to 6 s', '2 s to 5 s')), rule)).toEqual([
      'story: the cut runs 3 s (75 frames), and 4 s (100 frames) are promised: 25 frames short.',
    ]);
    mends(spec(both.replace('2 s to 6 s', '2 s to 5 s')), rule);
    expect(messages(spec(both.replace('2 s to 6 s', '8 s to 12 s')), rule)).toEqual([
      'story: the section runs to 12 s of the cut, which ends at 10 s: 50 frames of it are empty. Let it end earlier.',
    ]);
    expect(messages(spec(both.replace('2 s to 6 s', '6 s to 2 s')), rule)).toEqual([
      'story: the section `6 s to 2 s` ends before it starts. Exchange its ends.',
    ]);
  });

  test('a length that several deliverables take over is one finding', () => {
    const text = spec(
      'deliver:\n  film: { raster: 1920x1080, rate: 25, length: 12 s, sound: none }\n  story: { like: film, raster: 1080x1920 }\n',
    );
    expect(messages(text, rule)).toEqual([expect.stringMatching(/^film and story: the cut runs 10 s/)]);
  });

  test("the film's end is made exact, by the last piece, so that no cut moves", () => {
    // 3 x 7.34 s are 22.02 s, 550.5 frames at 25; 22 s are 550.
    const text = spec(`${deliver(', length: 22.04 s')}shots:
  box: { record: 30 s }
  lid: { record: 12 s }
cut:
  - { shot: box, length: 7.34 s }
  - { shot: box, length: 7.33 s, from: 10 s }
  - { shot: lid, length: 7.33 s }
`);
    expect(mends(text, rule)[0]).toBe('Hold `lid` (piece 3) to 7.36 s');
  });

  test('where music counts the time and the last piece has nothing to give, another changes by whole beats or not at all', () => {
    const cut = (length: string) =>
      spec(`${deliver(`, length: ${length}`)}music: { track: tune, tempo: 120 bpm, length: 60 s }
shots:
  box: { record: 30 s }
  lid: { record: 5 s, handles: 0 s }
cut:
  - { shot: box, length: 10 beats }
  - { shot: lid, length: 10 beats }
`);
    expect(titles(cut('11 s'), rule)[0]).toBe('Hold `box` (piece 1) to 12 beats');
    expect(titles(cut('11.2 s'), rule)[0]).toMatch(/^Promise/);
  });

  test('silent without a promise and without a cut', () => {
    expect(messages(spec(deliver()), rule)).toEqual([]);
    expect(messages(spec(`${deliver(', length: 30 s')}cut: []\n`), rule)).toEqual([]);
  });
});

describe('recording-too-short', () => {
  const rule = 'recording-too-short';
  const film = (record: string, piece: string, more = '') =>
    spec(`${deliver()}shots:\n  box: { record: ${record}${more} }\ncut:\n  - { shot: box, ${piece} }\n`);

  test('a take that the cut outruns is an error, one without its handle a warning', () => {
    const long = film('8 s', 'length: 9.6 s', ', takes: 4');
    expect(findings(long, rule)).toMatchObject([
      {
        severity: 'error',
        message: 'box: the cut uses its take up to 10.6 s, and 8 s are recorded. Record 12 s, 1 s to spare included.',
      },
    ]);
    // 150 Mb/s ÷ 8 × 4 s × 4 takes = 300 MB, and 2 % for the container: 306 MB.
    expect(mends(long, rule)).toEqual(['Record 12 s (306 MB more over 4 takes)']);
    expect(findings(film('11 s', 'length: 9.6 s'), rule)).toMatchObject([
      {
        severity: 'warning',
        message:
          'box: the cut uses its take up to 10.6 s; 11 s are recorded, which leaves 0.4 s where 1 s should be spare. Record 12 s.',
      },
    ]);
  });

  test.each([
    ['11.6 s', 'length: 9.6 s', ''],
    ['12 s', 'length: 10 s, speed: -100 %', ''],
    ['3 s', 'length: 10 s, speed: 0 %', ''],
    ['12 s', 'length: 5 s, from: 6 s', ''],
    ['6.8 s', 'length: 10 s, speed: 50 %', ''],
    ['8 s', 'length: 5 s', ', action: { lasts: 8 s }'],
    ['10 s', 'length: 5 s', ', handles: 1 s, action: { lasts: 8 s }'],
    ['9.6 s', 'length: 9.6 s', ', handles: 0 s'],
  ])('%s are enough for %s%s', (record, piece, more) => {
    expect(messages(film(record, piece, more), rule)).toEqual([]);
  });

  test.each([
    ['6.7 s', 'length: 10 s, speed: 50 %', '', /up to 6 s/],
    ['12 s', 'length: 10 s, speed: 200 %', '', /up to 21 s/],
    ['11 s', 'length: 10 s, speed: -100 %', '', /up to 11 s/],
    ['12 s', 'length: 5 s, from: 7.5 s', '', /up to 12.5 s/],
    ['12 s', 'length: 9.6 s', ', handles: 1.5 s', /up to 11.1 s/],
    [
      '9 s',
      'length: 5 s',
      ', handles: 1 s, action: { lasts: 8 s }',
      /^box: what happens lasts 8 s, and with 1 s spare at both ends that is 10 s; 9 s are recorded\. Record 10 s\.$/,
    ],
  ])('%s are not for %s%s', (record, piece, more, words) => {
    expect(messages(film(record, piece, more), rule)).toEqual([expect.stringMatching(words)]);
  });

  test('a dissolve may use the handle up, and no more', () => {
    const cut = (dissolve: string) =>
      spec(
        `${deliver()}shots:\n  box: { record: 7 s }\n  lid: { record: 9 s }\ncut:\n  - { shot: box, length: 5 s }\n  - { shot: lid, length: 5 s, dissolve: ${dissolve} }\n`,
      );
    expect(messages(cut('2 s'), rule)).toEqual([]);
    expect(messages(cut('3 s'), rule)).toEqual([
      'box: the cut uses its take up to 7.5 s (1.5 s of it for the dissolve), and 7 s are recorded. Record 8 s.',
      'lid: the dissolve into it needs 1.5 s before the piece, but the piece starts 1 s into the take. Start it later, or shorten the dissolve.',
    ]);
  });

  test('a longer take slows what fills it, and the fix says so', () => {
    expect(titles(film('8 s', 'length: 9.6 s', ', turn: { by: 90° }'), rule)[0]).toBe(
      'Record 12 s (76.5 MB more over the take); what moves gets slower with it',
    );
  });
});

describe('fade-overruns-shot', () => {
  const rule = 'fade-overruns-shot';
  const last = (fields: string) =>
    spec(`${deliver()}${shots}cut:\n  - { shot: box, length: 7.6 s }\n  - { shot: lid, length: 2.4 s${fields} }\n`);

  test('1.5 s in and 1.5 s out do not fit into 2.4 s', () => {
    const text = last(', fade-in: 1.5 s, fade-out: 1.5 s');
    expect(messages(text, rule)).toEqual([
      'lid: 1.5 s in and 1.5 s out do not fit into the 2.4 s of this piece. 0.6 s each leaves half of it clear.',
    ]);
    mends(text, rule);
    expect(messages(last(', fade-in: 1.2 s, fade-out: 1.2 s'), rule)).toEqual([]);
    expect(messages(last(', fade-out: 3 s'), rule)).toEqual([
      'lid: 3 s out do not fit into the 2.4 s of this piece. 1.2 s leaves half of it clear.',
    ]);
    mends(last(', fade-out: 3 s'), rule);
  });

  test('half of a dissolve lies in each piece', () => {
    expect(messages(last(', dissolve: 4.8 s'), rule)).toEqual([]);
    expect(messages(last(', dissolve: 4.8 s, fade-out: 0.2 s'), rule)).toHaveLength(1);
    mends(last(', dissolve: 4.8 s, fade-out: 0.2 s'), rule);
  });

  test('nothing stands before the first piece to dissolve from', () => {
    const text = spec(`${deliver()}cut:\n  - { shot: box, length: 10 s, dissolve: 1 s }\n`);
    expect(marked(text, rule)).toEqual(['1 s']);
    expect(Object.values(fixed(text, rule))[0]).toContain('{ shot: box, length: 10 s, fade-in: 1 s }');
  });

  test('a section through a dissolve is found from either side, on its edge it is clear', () => {
    const text = (section: string) =>
      spec(
        `deliver:\n  film: { raster: 1920x1080, rate: 25, sound: none }\n  story: { like: film, section: ${section} }\n${shots}cut:\n  - { shot: box, length: 5 s }\n  - { shot: lid, length: 5 s, dissolve: 1 s }\n`,
      );
    expect(messages(text('0 s to 5.2 s'), rule)).toEqual([
      'story: the section ends at 5.2 s in the middle of a dissolve (4.5 s to 5.5 s): it would begin or end half mixed. Let it begin and end clear of the dissolve.',
    ]);
    expect(messages(text('5 s to 9 s'), rule)).toHaveLength(1);
    const clear = ['0 s to 4.5 s', '5.5 s to 9 s', '0 s to 8 s'];
    expect(clear.flatMap((section) => messages(text(section), rule))).toEqual([]);
    mends(text('0 s to 5.2 s'), rule);
    mends(text('5 s to 9 s'), rule);
  });
});

describe('a part that must be shown, in shots that look at another', () => {
  const rule = 'must-show-missing';
  // At 60 cm before 25 mm on 17.3 x 9.73 mm the picture is 9.731 × 575 ÷ 25 = 223.8 mm high, round the foot's 100 mm.
  const film = (handle: string, more = '') =>
    spec(`brief: { must-show: handle }
product: { size: 30 x 20 x 90 cm, parts: { foot: { size: 20 x 10 cm, height: 10 cm }, handle: { ${handle} } } }
camera: { use: cam, lens: normal, support: stand, distance: 60 cm, height: 10 cm, raster: 3840x2160, rate: 25, shutter: 1/50 s, aperture: f/8, iso: 400, white-balance: 5000 K, focus: locked }
shots: { foot: { record: 12 s, subject: foot, shows: handle${more} } }
cut: [{ shot: foot, length: 10 s }]
`);

  test('is said to lie outside the picture, in numbers', () => {
    // On the front, 10 cm nearer, it is 223.8 × 500 ÷ 600 = 186.5 mm: 6.7 to 193.3 mm.
    expect(messages(film('size: 4 x 4 cm, height: 20 cm, faces: front'), rule)).toEqual([
      'film: `handle` must be shown, and `foot` shows it, but at most 33 % of its height lies in the picture: it reaches from 18 cm to 22 cm, and `foot` sees 6.7 mm to 19.3 cm there. Aim at it, go farther back, or show it in another shot.',
    ]);
  });

  test.each([
    ['half of it', 'size: 4 x 4 cm, height: 19.2 cm, faces: front', '', 0],
    ['a place that is not said: on the back the picture reaches to 23 cm', 'size: 4 x 4 cm, height: 20 cm', '', 0],
    ['on the back', 'size: 4 x 4 cm, height: 20 cm, faces: back', '', 0],
    ['no height', 'size: 4 x 4 cm', '', 0],
    ['one that lies', 'size: 4 x 4 cm, height: 80 cm, faces: up', '', 0],
    ['one that is deeper than high', 'size: 4 x 4 x 1 cm, height: 80 cm', '', 0],
    ['a touch of the camera', 'size: 4 x 0.8 cm, height: 19.6 cm, faces: front', '', 0],
    [
      'farther back at the end',
      'size: 4 x 4 cm, height: 20 cm, faces: front',
      ', camera: { distance: 60 cm to 90 cm }',
      0,
    ],
    ['the front is turned away', 'size: 4 x 4 cm, height: 20 cm, faces: front', ', turn: { starts: 180° }', 0],
    ['the back is turned to it', 'size: 4 x 4 cm, height: 20 cm, faces: back', ', turn: { starts: 180° }', 1],
  ])('%s', (_, handle, more, count) => {
    const ofHeight = messages(film(handle, more), rule).filter((one) => one.includes('of its height'));
    expect(ofHeight).toHaveLength(count);
  });

  test('is said to face away, in degrees', () => {
    // The camera stands 600 mm before the middle and 150 mm beside the right side: 90° + atan(150 ÷ 600) = 104°.
    const plate = 'size: 4 x 1 cm, height: 10 cm, faces: right';
    expect(messages(film(plate), rule)).toEqual([
      'film: `handle` must be shown and faces the right, and `foot` shows it, but its face is at best 104° from straight on, in foot: 90° is edge on. Turn the product, move the camera round, or show it in another shot.',
    ]);
    // Turned by 40° that side stands at 310°: 115 mm aside and 96 mm nearer, so 50° + atan(115 ÷ 504) = 62.9°.
    expect(messages(film(plate, ', turn: { starts: 40° }'), rule)).toEqual([]);
    expect(messages(film('size: 4 x 3 x 3 cm, height: 10 cm, faces: right'), rule)).toEqual([]);
  });

  test('is left to the shot that looks at it, and to a film that need not show it', () => {
    const text = film('size: 4 x 4 cm, height: 20 cm, faces: front');
    const own = text.replace('shots: {', 'shots: { own: { record: 12 s, subject: handle },');
    expect(messages(own.replace('cut: [', 'cut: [{ shot: own, length: 3 s }, '), rule)).toEqual([]);
    expect(messages(text.replace('length: 10 s,', 'length: 10 s, need-not-show: handle,'), rule)).toEqual([]);
  });
});

describe('must-show-missing and must-not-show-seen', () => {
  const rule = 'must-show-missing';
  const film = (cut: string, brief = 'must-show: [product, crank]') =>
    spec(`brief: { ${brief} }
deliver:
  film: { raster: 1920x1080, rate: 25, sound: none }
  story: { like: film, raster: 1080x1920, section: 0 s to 6 s }
shots:
  box: { record: 20 s }
  hand: { record: 20 s, shows: crank }
cut:
${cut}`);

  test('a deliverable whose section leaves it out is named', () => {
    expect(messages(film('  - { shot: box, length: 6 s }\n  - { shot: hand, length: 4 s }\n'), rule)).toEqual([
      'story: `crank` must be shown, but nothing in its cut shows it. Its section leaves out `hand`: if it need not show it, say so.',
    ]);
    expect(messages(film('  - { shot: hand, length: 4 s }\n  - { shot: box, length: 6 s }\n'), rule)).toEqual([]);
  });

  test('what no shot shows can be shown in those that are seen longest', () => {
    const text = film('  - { shot: box, length: 6 s }\n  - { shot: hand, length: 4 s }\n', 'must-show: [product, lid]');
    const fixes = fixed(text, rule);
    expect(Object.keys(fixes)).toEqual(['Show `lid` in `box`', 'Show `lid` in `hand`']);
    expect(fixes['Show `lid` in `hand`']).toContain('hand: { record: 20 s, shows: [crank, lid] }');
    expect(messages(fixes['Show `lid` in `box`']!, rule)).toEqual([]);
  });

  test('under a second is a warning, from a second on it counts', () => {
    const text = film('  - { shot: box, length: 5.2 s }\n  - { shot: hand, length: 4 s }\n');
    expect(findings(text, rule).map((one) => [one.severity, one.message])).toEqual([
      ['warning', 'story: `crank` is seen for 0.8 s in all; under 1 s a feature goes unnoticed. Hold it longer.'],
    ]);
    expect(messages(film('  - { shot: box, length: 5 s }\n  - { shot: hand, length: 4 s }\n'), rule)).toEqual([]);
    // The times of two pieces are added.
    const hand = '  - { shot: hand, length: 0.6 s }\n';
    expect(messages(film(`${hand}  - { shot: box, length: 2 s }\n${hand}`), rule)).toEqual([]);
  });

  test('what no shot shows is one finding for all deliverables, with the slip that is likely', () => {
    const cut = '  - { shot: box, length: 6 s }\n';
    expect(messages(film(cut, 'must-show: lid'), rule)).toEqual([
      '`lid` must be shown, but no shot shows it. Name it under `shows` in the shot that does, or plan one that does.',
    ]);
    const near = film(cut, 'must-show: krank');
    expect(messages(near, rule)).toEqual([
      '`krank` must be shown, but no shot shows it. Shots show `crank`: is that the same thing?',
    ]);
    expect(titles(near, rule)).toEqual(['Write `crank`']);
  });

  test('missing in both, both are named in one finding', () => {
    expect(messages(film('  - { shot: box, length: 6 s }\n'), rule)).toEqual([
      'film and story: `crank` must be shown, but nothing in its cut shows it. Put a second of `hand` into the cut.',
    ]);
  });

  test('what may not be shown is found in shots of the cut only', () => {
    const brief = 'must-not-show: crank';
    expect(messages(film('  - { shot: box, length: 6 s }\n', brief), 'must-not-show-seen')).toEqual([]);
    expect(messages(film('  - { shot: hand, length: 6 s }\n', brief), 'must-not-show-seen')).toEqual([
      'hand: `crank` is seen, and the brief says that it may not be. Keep it out of the picture, or leave the shot out.',
    ]);
  });
});

const titled = (fields: string, more = '') =>
  spec(`${deliver()}titles:\n  - { text: "Turns by hand, plays for a minute", at: 2 s, hold: 5 s${fields} }\n${more}`);

describe('title-too-brief', () => {
  const rule = 'title-too-brief';

  test('a start that is rounded does not run into the fade before the cut', () => {
    // 129 frames of 1/25 s are 5.16 s, 242 are 9.68 s: 12 words want 4.5 s, and 5.1 s would be before the cut.
    const text = spec(`deliver:
  film: { raster: 1920x1080, rate: 25, codec: h264, bitrate: 16 Mb/s, sound: none }
shots:
  box: { record: 12 s }
  lid: { record: 12 s, camera: { angle: 40° } }
cut:
  - { shot: box, length: 129 frames, fade-out: 0.4 s }
  - { shot: lid, length: 113 frames }
titles:
  - { text: "Turned by hand until comb, spring and cylinder have played their melody.", at: 6 s, hold: 2 s }
`);
    const [[title, mended]] = Object.entries(fixed(text, rule)) as [[string, string]];
    expect(title).toBe('Start it at 5.16 s and hold it for 4.5 s');
    expect(checkSpec(mended).findings.map((one) => one.rule)).not.toContain('title-time-clash');
  });
  const held = (hold: string) => titled('').replace('hold: 5 s', `hold: ${hold}`);

  test('7 words take 2.625 s at 160 words a minute', () => {
    // BBC subtitle guidelines: 160 to 180 words a minute; seven words 2.33 to 2.63 s.
    expect(messages(held('2 s'), rule)).toEqual([
      '`Turns by hand, plays for a minute` (7 words) is up for 2 s; reading takes 2.63 s. Hold it for 2.7 s, or cut it to 6 words.',
    ]);
    // At 180 words a minute 2.33 s, of which nobody sees a frame.
    expect(['2.63 s', '2.3 s', '2.28 s'].map((hold) => messages(held(hold), rule).length)).toEqual([0, 0, 1]);
    mends(held('2 s'), rule);
  });

  test('a name that the film ends with takes a second more; in a loop it comes again', () => {
    const ending = (hold: number, loop = '') =>
      held(`${hold} s`)
        .replace('Turns by hand, plays for a minute', 'Sallow Box')
        .replace('at: 2 s', `at: ${(10 - hold).toFixed(2)} s`)
        .replace('sound: none', `sound: none${loop}`);
    // Two words at 180 a minute and a second are 1.67 s.
    expect([1.6, 1.64].map((hold) => messages(ending(hold), rule).length)).toEqual([1, 0]);
    expect(messages(ending(1.2, ', loop: seamless'), rule)).toEqual([]);
  });

  test('near the end of the film it starts earlier and is held longer, which leaves nothing to say', () => {
    const text = (at: string, hold: string) => held(hold).replace('at: 2 s', `at: ${at}`);
    const [late, mended] = [text('8 s', '2 s'), text('7.3 s', '2.7 s')];
    expect(messages(late, rule)).toEqual([
      '`Turns by hand, plays for a minute` (7 words) is up for 2 s; reading takes 2.63 s. Hold it for 2.7 s, from 7.3 s on at the latest, or cut it to 6 words.',
    ]);
    expect(fixed(late, rule)).toEqual({ 'Start it at 7.3 s and hold it for 2.7 s': mended });
    expect([rule, 'title-time-clash'].flatMap((one) => messages(mended, one))).toEqual([]);
    // What is held for longer without starting earlier can still be put right.
    expect(fixed(text('8 s', '2.7 s'), 'title-time-clash')).toEqual({ 'Start it at 7.3 s (hold unchanged)': mended });
    expect(fixed(text('8.5 s', '2 s'), 'title-time-clash')).toEqual({
      'Start it at 7.3 s and hold it for 2.7 s': mended,
    });
  });

  test('it goes before the next title comes in its place', () => {
    const text = `${held('2 s')}  - { text: Made in Kamori, at: 4.5 s, hold: 3 s }\n`;
    expect(mends(text, rule)).toEqual(['Start it at 1.8 s and hold it for 2.7 s']);
  });

  test('a film that is too short for it has no room', () => {
    const words =
      'Turns by hand and plays for a minute, then stops and waits until somebody winds its spring with the key again';
    const text = held('2 s').replace('Turns by hand, plays for a minute', words);
    const short = `${text}cut:\n  - { shot: box, length: 5 s }\n`.replace(
      'cut:\n  - { shot: box, length: 10 s }\n',
      '',
    );
    expect(messages(text, rule)[0]).toContain('Hold it for 7.9 s');
    expect(messages(short, rule)[0]).toContain(
      'reading takes 7.88 s, for which the last piece of the cut has no room. Use fewer words, or give that piece more time.',
    );
    expect(fixed(short, rule)).toEqual({});
  });

  test('a name is held longer and not cut shorter', () => {
    const name = (hold: string) => held(hold).replace('Turns by hand, plays for a minute', 'Marra Quillow Works');
    expect(messages(name('1 s'), rule)).toEqual([
      '`Marra Quillow Works` (3 words) is up for 1 s; reading takes 1.13 s. Hold it for 1.2 s.',
    ]);
  });

  test('many letters in few words count by letters: 42 characters are 2.5 s', () => {
    const long = 'Uhrmacherwerkstattjubiläumsausgabezifferx1';
    expect(long).toHaveLength(42);
    const text = titled('').replace('Turns by hand, plays for a minute', long).replace('hold: 5 s', 'hold: 2.4 s');
    expect(messages(text, rule)[0]).toMatch(/reading takes 2.47 s/);
  });

  test('of fades half counts, beats stay beats', () => {
    const faded = (fade: string) => held(`3 s, fade: ${fade}`);
    expect(['0.7 s', '0.8 s'].map((fade) => messages(faded(fade), rule).length)).toEqual([0, 1]);
    const music = `${held('3 beats')}music: { tempo: 100 bpm }\n`;
    // 2.625 s are 4.4 beats of 0.6 s: 4.5.
    expect(titles(music, rule)).toEqual(['Hold it for 4.5 beats']);
  });
});

describe('title-low-contrast', () => {
  const rule = 'title-low-contrast';

  // WCAG 1.4.3, ratios computed from its definition: #777777 on white 4.4781, #767676 4.5422; #949494 3.0335, #959595 2.9953.
  test.each([
    ['#777777', '3.5 %', 1],
    ['#767676', '3.5 %', 0],
    ['#949494', '6 %', 0],
    ['#959595', '6 %', 1],
  ])('%s on white with letters of %s: %i finding', (colour, letters, count) => {
    expect(messages(titled(`, colour: "${colour}", over: "#ffffff", letters: ${letters}`), rule)).toHaveLength(count);
  });

  describe('on what lies behind the words, in the light there', () => {
    const onPaper = (lux: number, more: string, letters = '#333333', room = 'light: none') =>
      messages(
        spec(`backdrop: { material: paper, colour: "#bcbcbc", size: 200 x 200 cm, behind: 90 cm }
room: { ${room} }
lamps:
  key: { use: panel, distance: 60 cm, angle: 45°, height: 40 cm, role: key, kept-off: backdrop }
  wash: { use: panel, measured: ${lux} lx, aim: backdrop, distance: 80 cm, angle: 40°, role: backdrop }
titles:
  - { text: Made in Kamori, at: 4 s, hold: 3 s, place: top, colour: "${letters}"${more} }
`),
        rule,
      );

    // f/8, 1/50 s and ISO 400 want 250 x 64 x 50 / 400 = 2000 lx (ISO 2720), 2180 so near by. #bcbcbc gives back .503 (IEC 61966-2-1):
    // in 500 lx that is .115, or #5f5f5f; #333333 is .033, so that (.115 + .05) / (.033 + .05) = 1.99.
    test('paper that little light reaches is darker than it is', () => {
      expect(onPaper(500, ', over: "#bcbcbc"')).toEqual([
        expect.stringMatching(
          /the backdrop lies .* Of its #bcbcbc .* about #(5[ef]|60){3}: #333333 on that is (1.9\d|2.0\d):1/,
        ),
      ]);
      expect(onPaper(500, '')).toHaveLength(1);
    });

    test.each([
      ['all the light that is wanted', onPaper(2180, ', over: "#bcbcbc"')],
      ['letters that are clear on it either way', onPaper(500, '', '#ffffff')],
      ['something else that `over` says lies there', onPaper(500, ', over: "#f4e3bd"')],
      ['a panel', onPaper(500, ', panel: "#f4e3bd"')],
      ['a room whose light is not said', onPaper(500, '', '#333333', 'source: window')],
    ])('%s: nothing is said', (_, said) => {
      expect(said).toEqual([]);
    });
  });

  test('the number found is not rounded up to the number wanted', () => {
    expect(messages(titled(', colour: "#959595", over: "#ffffff"'), rule)).toEqual([
      '`Turns by hand, plays for a minute`: #959595 on #ffffff is 2.99:1, and 3:1 is wanted for letters of 6 %. Change their colour, or put a panel behind them.',
    ]);
  });

  test('a panel is what counts, the usual white is named as usual, each fix clears', () => {
    expect(messages(titled(', over: "#ffffff", panel: "#202020"'), rule)).toEqual([]);
    const white = titled(', over: "#e8e4dc"');
    expect(messages(white, rule)[0]).toMatch(/#ffffff \(nothing else is said\) on #e8e4dc is 1\.2/);
    expect(mends(white, rule)).toHaveLength(2);
  });

  test('nothing known behind them: silent', () => {
    expect(messages(titled(', colour: "#777777"'), rule)).toEqual([]);
  });
});

describe('title-too-small', () => {
  const rule = 'title-too-small';
  const on = (viewed: string, letters: string, raster = '1920x1080') =>
    titled(`, letters: ${letters}`)
      .replace('sound: none', `sound: none, viewed-on: ${viewed}`)
      .replace('1920x1080', raster);

  test('38 px of a wide film on an upright phone are 13′; 46 px the least, 63 comfortable', () => {
    // h = 2π·D·MA/21600 (NUREG-0700 1.3.1-4) with D = 350 mm and 1920 px on 68 mm.
    expect(messages(on('phone-upright', '3.5 %'), rule)).toEqual([
      '`Turns by hand, plays for a minute`: in film (1920x1080) capitals of 38 pixels are 13′ of arc on an upright phone (68 mm wide, 35 cm away); 46 pixels are the least, 64 comfortable.',
    ]);
    mends(on('phone-upright', '3.5 %'), rule);
  });

  test('from three picture heights 1080 lines want 15.1 px (16′)', () => {
    // 1.39 % is 15.0 px, 1.41 % is 15.2 px of 1080.
    expect(severities(on('television', '1.39 %'), rule)).toEqual(['warning']);
    expect(severities(on('television', '1.41 %'), rule)).toEqual([]);
  });

  test('a tall film and the cinema are silent, and titles of other deliverables do not count', () => {
    expect(messages(on('phone-upright', '3.5 %', '1080x1920'), rule)).toEqual([]);
    expect(messages(on('cinema', '1 %'), rule)).toEqual([]);
    const two = spec(`deliver:
  film: { raster: 1920x1080, rate: 25, sound: none }
  story: { like: film, viewed-on: phone-upright }
titles:
  - { text: Turns by hand, at: 2 s, hold: 5 s, letters: 4 %, only-in: film }
`);
    expect(messages(two, rule)).toEqual([]);
    expect(messages(two.replace(', only-in: film', ''), rule)[0]).toMatch(/in story/);
  });
});

describe('title-outside-safe-area', () => {
  const rule = 'title-outside-safe-area';

  test('it is broken behind a colon, where that fits, and else in the middle', () => {
    const text = (words: string) => titled(', letters: 6 %').replace('Turns by hand, plays for a minute', words);
    const first = (words: string) => titles(text(words), rule)[0];
    expect(first('Sorrel Yard: turned by hand from one block of boxwood')).toMatch(
      /^Break it after `Sorrel Yard:`, before/,
    );
    expect(first('Sorrel Yard: turned by hand from one single block of boxwood')).toMatch(
      /^Break it after `Sorrel Yard: turned by hand`/,
    );
  });
  // 0.6 × 64.8 px (6 % of 1080) is 38.88 px a letter: 44 letters are 1711 px, 45 are 1750 px, 50 are 1944 px.
  const letters = (count: number, more = '') =>
    spec(
      `deliver:\n  film: { raster: 1920x1080, rate: 25, sound: none${more} }\ntitles:\n  - { text: "${'wind it up '.repeat(9).slice(0, count - 1)}x", at: 1 s, hold: 8 s }\n`,
    );

  test('1728 px of 1920 are title-safe (SMPTE ST 2046-1): a warning in broadcast, a hint on the web', () => {
    // The width is a guess: what is over by less than 3 % is not told.
    expect(messages(letters(45, ', shown-on: broadcast'), rule)).toEqual([]);
    expect(messages(letters(46, ', shown-on: broadcast'), rule)[0]).toMatch(
      /about 1788 pixels wide in film \(1920x1080\), where 1728 pixels are title-safe/,
    );
    expect(findings(letters(46, ', shown-on: broadcast'), rule)[0]!.severity).toBe('warning');
    expect(findings(letters(46), rule)[0]!.severity).toBe('hint');
    expect(findings(letters(52), rule)[0]!.severity).toBe('warning');
  });

  test('what the player covers is lost on the web as well', () => {
    expect(findings(letters(44, ', keep-clear: { left: 8 %, right: 8 % }'), rule)[0]!.severity).toBe('warning');
  });

  test('two lines or smaller letters fit', () => {
    expect(mends(letters(50, ', shown-on: broadcast'), rule)).toHaveLength(2);
  });
});

describe('title-time-clash', () => {
  const rule = 'title-time-clash';
  const film = (rows: string) => spec(`${deliver()}titles:\n${rows}`);
  const twice = 'cut:\n  - { shot: box, length: 5 s }\n  - { shot: box, length: 5 s, zoom: 1.5 }\n';

  test('a title may end with the film and not after it', () => {
    expect(messages(film('  - { text: Turns by hand, at: 7 s, hold: 3 s }\n'), rule)).toEqual([]);
    const late = film('  - { text: Turns by hand, at: 8 s, hold: 2.6 s }\n');
    expect(messages(late, rule)).toEqual([
      '`Turns by hand` runs to 10.6 s, and the film ends at 10 s: 0.6 s of it are lost. Start it earlier, or hold it shorter.',
    ]);
    mends(late, rule);
    expect(messages(film('  - { text: Turns by hand, at: 11 s, hold: 2 s }\n'), rule)).toEqual([
      '`Turns by hand` starts at 11 s, and the film ends at 10 s: it is never seen. Start it earlier.',
    ]);
  });

  test('what is too brief because it is lost is said once; a slip at a cut does not hide that there is no time to read', () => {
    const both = (text: string) => [rule, 'title-too-brief'].map((one) => messages(text, one).length);
    expect(both(film('  - { text: Turns by hand and plays, at: 9.5 s, hold: 1 s }\n'))).toEqual([1, 0]);
    const slip = '  - { text: Turns by hand and plays a tune, at: 4.8 s, hold: 1.5 s }\n';
    expect(both(film(`${slip}${twice}`))).toEqual([1, 1]);
  });

  test('two in one place clash, one after the other does not', () => {
    const two = (at: string) =>
      film(`  - { text: Turns by hand, at: 1 s, hold: 3 s }\n  - { text: Made in Kamori, at: ${at}, hold: 4 s }\n`);
    expect(messages(two('3 s'), rule)).toEqual([
      '`Made in Kamori` stands on `Turns by hand`, which is in the same place until 4 s. Start it then, or put it elsewhere.',
    ]);
    expect(messages(two('4 s'), rule)).toEqual([]);
    mends(two('3 s'), rule);
  });

  test('two in different places need the time of both, rows of one card are silent', () => {
    const two = (at: string, hold: string) =>
      film(
        `  - { text: Turns by hand, at: 1 s, hold: 2.5 s, place: top }\n  - { text: Made in Kamori since the year of the flood, at: ${at}, hold: ${hold} }\n`,
      );
    expect(messages(two('2 s', '2 s'), rule)[0]).toMatch(/have 3 s between them; reading both takes/);
    expect(messages(two('2 s', '6 s'), rule)).toEqual([]);
    expect(messages(two('1 s', '2.5 s'), rule)).toEqual([]);
    // The second row comes half a second after the first, and goes with it.
    expect(messages(two('1.5 s', '2 s'), rule)).toEqual([]);
  });

  test('a title over a cut by a blink is a hint; on the cut it is right', () => {
    const text = (at: string, hold: string) => film(`  - { text: Turns by hand, at: ${at}, hold: ${hold} }\n${twice}`);
    expect(messages(text('4.8 s', '3 s'), rule)).toEqual([
      '`Turns by hand` crosses the cut at 5 s by 0.2 s: it looks like a slip. Let it start on the cut.',
    ]);
    expect(messages(text('2 s', '3.2 s'), rule)[0]).toMatch(/Let it end on the cut/);
    expect(messages(text('5 s', '3 s'), rule)).toEqual([]);
    expect(messages(text('4.6 s', '3 s'), rule)).toEqual([]);
    mends(text('4.8 s', '3 s'), rule);
    mends(text('2 s', '3.2 s'), rule);
  });

  test('a section that leaves too little of a title is named', () => {
    // Three words at 160 a minute are 1.125 s.
    const text = (hold: string) =>
      spec(`deliver:
  film: { raster: 1920x1080, rate: 25, sound: none }
  story: { like: film, section: 3 s to 9 s }
titles:
  - { text: Turns by hand, at: 2 s, hold: ${hold} }
  - { text: Made in Kamori, at: 0 s, hold: 2 s, only-in: story }
`);
    const [lost, read] = [messages(text('2 s'), rule), messages(text('2.2 s'), rule)];
    expect(read).toEqual(lost.slice(1));
    expect(lost).toEqual([
      'story: `Turns by hand` runs from 2 s to 4 s, and 3 s to 9 s of the cut are shown here: part of it is lost. Start it within the `section`, or say `only-in`.',
      '`Made in Kamori` is meant for story, but that part of the cut is not shown there. Start it within the `section`.',
    ]);
  });
});

describe('music-too-short', () => {
  const rule = 'music-too-short';
  const film = (music: string, more = '') =>
    spec(
      `deliver:\n  film: { raster: 1920x1080, rate: 25, sound: stereo${more} }\n${shots}cut:\n  - { shot: box, length: 20 s }\nmusic: { ${music} }\n`,
    );

  test('30.4 s of music from 12 s on leave 18.4 s; from beat 17 of 100 bpm, 10.2 s, it lasts', () => {
    const text = film('tempo: 100 bpm, trim: 12 s, length: 30.4 s');
    expect(messages(text, rule)).toEqual([
      'The music is 30.4 s long and starts 12 s in, so it ends after 18.4 s; the film runs 20 s: 1.6 s of silence at the end. Started 10.2 s in, it lasts.',
    ]);
    expect(mends(text, rule)).toEqual(['Start the music 10.2 s in (on its beat 17)']);
  });

  test('too little in all has no fix, and where every deliverable ends earlier or has no sound nothing is missing', () => {
    const text = film('tempo: 100 bpm, length: 15 s');
    expect(findings(text, rule)).toMatchObject([{ fixes: [] }]);
    const section = film('tempo: 100 bpm, length: 15 s', ', section: 0 s to 14 s');
    const silent = [section, text.replace('sound: stereo', 'sound: none')];
    expect(silent.flatMap((one) => messages(one, rule))).toEqual([]);
  });
});

describe('sound-outlasts-film and sound-drowns-music', () => {
  const film = (sound: string, deliverable = 'sound: stereo', music = '') =>
    spec(
      `deliver:\n  film: { raster: 1920x1080, rate: 25, ${deliverable} }\n${shots}cut:\n  - { shot: box, length: 12 s }\nsounds:\n  - { ${sound} }\n${music}`,
    );

  test('past the end it is never heard, over the end in part: 10 + 8 of 12 s lose 6 s', () => {
    const rule = 'sound-outlasts-film';
    expect(messages(film('track: voice, at: 14 s, length: 8 s'), rule)).toEqual([
      '`voice` starts at 14 s, and the film is heard until 12 s: it is never heard. Start it earlier.',
    ]);
    const text = film('track: voice, at: 10 s, length: 8 s');
    expect(messages(text, rule)).toEqual([
      '`voice` runs to 18 s, and the film is heard until 12 s: 6 s of it are lost. Start it earlier, or let it last shorter.',
    ]);
    expect(mends(text, rule)).toEqual(['Start it at 4 s (all of it is heard)', 'Let it last 2 s']);
    expect(titles(film('track: voice, length: 14 s'), rule)).toEqual(['Let it last 12 s']);
    // The air of a place is laid long.
    expect(messages(film('length: 14 s'), rule)).toEqual([]);
    expect(titles(film('length: 20 s'), rule)).toEqual(['Let it last 12 s']);
    expect(titles(film('track: voice, at: 1 s, length: 12 s'), rule)[0]).toBe('Start it at 0 s (all of it is heard)');
    const beats = film('track: voice, at: 16 beats, length: 8 beats', 'sound: stereo', 'music: { tempo: 100 bpm }\n');
    expect(titles(beats, rule)).toEqual(['Start it at 12 beats (all of it is heard)', 'Let it last 4 beats']);
  });

  test('where nothing is heard it is silent; a section ends the film earlier', () => {
    const rule = 'sound-outlasts-film';
    expect(messages(film('at: 10 s, length: 8 s', 'sound: none'), rule)).toEqual([]);
    expect(messages(film('at: 4 s, length: 8 s', 'sound: stereo, section: 0 s to 6 s'), rule)).toHaveLength(1);
  });

  test('20 dB are enough for a voice (WCAG 2.2, 1.4.7), a sound 60 dB above music leaves none of it', () => {
    const rule = 'sound-drowns-music';
    const music = 'music: { tempo: 100 bpm }\n';
    const loud = (gain: string, more = music) =>
      film(`track: click, length: 2 s, gain: ${gain}`, 'sound: stereo', more);
    expect(findings(loud('60 dB'), rule).map((one) => [one.severity, one.message])).toEqual([
      [
        'warning',
        '`click` is planned 60 dB above the music, which is not heard under it; 20 dB is enough even for a voice. Is -60 dB meant?',
      ],
    ]);
    expect(severities(loud('24 dB'), rule)).toEqual(['info']);
    expect(mends(loud('24 dB'), rule)).toEqual(['Set gain to -24 dB', 'Set gain to 20 dB']);
    expect(messages(loud('60 dB', ''), rule)).toEqual([]);
  });
});

describe('cut-jars', () => {
  const rule = 'cut-jars';
  const two = (camera: string, piece = '', more = '') =>
    spec(
      `${deliver()}shots:\n  box: { record: 12 s }\n  lid: { record: 12 s, camera: { ${camera} }${more} }\ncut:\n  - { shot: box, length: 5 s }\n  - { shot: lid, length: 5 s${piece} }\n`,
    );

  test('12° and nearly the same size jump, 30° or a third in size do not', () => {
    expect(messages(two('angle: 12°'), rule)).toEqual([
      'box to lid: seen from 12° aside and as large as before, so it looks as if the picture jumps. From 30° round or 1.3 times the size on it is a new view.',
    ]);
    const other = [two('angle: 31°'), two('angle: 12°', ', zoom: 1.35'), two('angle: 12°, distance: 44 cm')];
    expect(other.flatMap((text) => messages(text, rule))).toEqual([]);
    mends(two('angle: 12°'), rule);
  });

  test('the very same frame is a locked camera: time jumps, and the picture does not', () => {
    expect(messages(two('', ', zoom: 1.01'), rule)).toEqual([]);
    expect(messages(two('', ', zoom: 1.1'), rule)).toHaveLength(1);
  });

  test('no zoom is offered that leaves the product no room', () => {
    const wide = two('angle: 12°', ', zoom: 1.2').replace('length: 5 s }\n  - ', 'length: 5 s, zoom: 1.2 }\n  - ');
    const large = (size: string) => wide.replace('size: 9 x 6 x 7 cm', `size: ${size}`);
    const dissolve = 'Dissolve into the second over 0.6 s (nothing jumps)';
    const lid = 'Set zoom of `lid` to 1.6 (a closer view)';
    const box = 'Set zoom of `box` to 1.6 (a closer view)';
    expect(titles(large('9 x 6 x 7 cm'), rule)).toEqual([lid, box, dissolve]);
    expect(titles(large('16 x 6 x 7 cm'), rule)).toEqual([lid, box, dissolve]);
    const handled = large('16 x 6 x 7 cm').replace('lid: { record: 12 s', 'lid: { record: 12 s, people: hand');
    expect(titles(handled, rule)).toEqual([box, dissolve]);
    expect(mends(large('30 x 6 x 7 cm'), rule)).toEqual([dissolve]);
  });

  test('each deliverable is judged, and named where it jumps and another does not', () => {
    const film = 'rate: 25, codec: h264, bitrate: 16 Mb/s, sound: none }';
    const text = two('', ', zoom-by: { wide: 1.5, tall: 1.1 }').replace(
      deliver(),
      `deliver:\n  wide: { raster: 1920x1080, ${film}\n  tall: { raster: 1080x1350, ${film}\n`,
    );
    expect(messages(text, rule)).toEqual([
      expect.stringContaining('box to lid: in `tall`, seen from the same side and 1.1 times as large as before'),
    ]);
    expect(mends(text, rule)).toEqual(['Dissolve into the second over 0.6 s (nothing jumps)']);
    expect(messages(text.replace('tall: 1.1', 'tall: 1.5'), rule)).toEqual([]);
  });

  test('where only the zoom of the edit makes the difference, the second may start as the first ends', () => {
    const offered = (zoom: string) =>
      titles(two('', `, zoom: ${zoom}`).replace('length: 5 s }', 'length: 5 s, zoom: 1.1 }'), rule);
    const untouched = 'Set zoom of the second to 1.1 (it starts as the first ends)';
    expect(offered('1')).toContain(untouched);
    expect(offered('1 to 1.3')).toContain('Set zoom of the second to `1.1 to 1.3` (it starts as the first ends)');
    mends(two('', ', zoom: 1 to 1.2').replace('length: 5 s }', 'length: 5 s, zoom: 1.1 }'), rule);
  });

  test('a turn of the product and a look from far above are new views as well', () => {
    expect(messages(two('angle: 12°', '', ', turn: { starts: 90° }'), rule)).toEqual([]);
    expect(messages(two('height: 55 cm'), rule)).toEqual([]);
  });

  test('silent for another subject, and for the same take running on', () => {
    const part = two('angle: 12°', '', ', subject: crank').replace(
      'weight: 420 g',
      'weight: 420 g, parts: { crank: {} }',
    );
    expect(messages(part, rule)).toEqual([]);
    const same = '  - { shot: box, length: 4 s }\n  - { shot: box, length: 4 s, from: 5 s, zoom: 1 to 1.1 }\n';
    expect(messages(spec(`${deliver()}cut:\n${same}`), rule)).toEqual([]);
    const nearly = same.replace('zoom: 1 to 1.1', 'zoom: 1.1');
    expect(messages(spec(`${deliver()}cut:\n${nearly}`), rule)).toHaveLength(1);
  });

  test('a turn that flips at the cut', () => {
    const text = spec(
      `${deliver()}shots:\n  one: { record: 12 s, turn: { speed: 1 rpm } }\n  two: { record: 12 s, turn: { speed: -1 rpm }, camera: { angle: 90° } }\ncut:\n  - { shot: one, length: 5 s }\n  - { shot: two, length: 5 s }\n`,
    );
    expect(messages(text, rule)).toEqual([
      'one to two: the product turns clockwise before the cut and anticlockwise after it. Turn it the same way, or put another shot between.',
    ]);
    expect(messages(text.replace('shot: two, length: 5 s', 'shot: two, length: 5 s, speed: -100 %'), rule)).toEqual([]);
  });
});
