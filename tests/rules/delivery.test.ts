/** Sound and delivery: levels, rates, sizes and loudness against the standards' own numbers. */
import { describe, expect, test } from 'vitest';
import { findings, fixed, marked, mends, messages, severities, titles } from '../helpers/findings.ts';
import { spec } from '../helpers/workspace.ts';

const file = (fields: string, name = 'film') => spec(`deliver:\n  ${name}: { ${fields} }\n`);

describe('codec-level-exceeded', () => {
  const rule = 'codec-level-exceeded';

  test('HEVC level 5.1 Main stops at 40 Mb/s (H.265 table A.8); three ways out', () => {
    const text = file(
      'raster: 3840x2160, rate: 25, codec: h265, codec-level: 5.1, bitrate: 50 Mb/s, sound: none',
      'master',
    );
    expect(messages(text, rule)).toEqual([
      'master: HEVC Main level 5.1 stops at 40 Mb/s, and 50 Mb/s are planned. Level 5.2 holds it.',
    ]);
    expect(mends(text, rule)).toEqual([
      'Set bitrate to 40 Mb/s',
      'Use the High tier (up to 160 Mb/s; few players have it)',
      'Set level to 5.2',
    ]);
  });

  // H.264 table A-1: 1080p25 is 8160 macroblocks of 8192 at level 4; 30 a second 244800 of 245760; 50 needs 4.2.
  // 1280x720 at 30 is exactly the 108000 of level 3.1, at 60 exactly the 216000 of 3.2; 2160p25 needs 5.1.
  test.each([
    ['1920x1080', '30', '4', 0],
    ['1920x1080', '50', '4', 1],
    ['1920x1080', '50', '4.2', 0],
    ['1280x720', '30', '3.1', 0],
    ['1280x720', '60', '3.1', 1],
    ['1280x720', '60', '3.2', 0],
    ['3840x2160', '25', '5', 1],
    ['3840x2160', '25', '5.1', 0],
    ['4096x2160', '30', '5.1', 1],
    ['4096x2160', '30', '5.2', 0],
  ])('H.264 %s at %s in level %s: %i finding', (raster, rate, level, count) => {
    const text = file(`raster: ${raster}, rate: ${rate}, codec-level: ${level}, bitrate: 5 Mb/s, sound: none`);
    expect(messages(text, rule)).toHaveLength(count);
  });

  // High has 1.25 times the bitrate of the table.
  test.each([
    ['high', '62.5 Mb/s', 0],
    ['high', '62.6 Mb/s', 1],
    ['main', '50 Mb/s', 0],
    ['main', '50.1 Mb/s', 1],
  ])('%s at level 4.1, %s: %i', (profile, bitrate, count) => {
    const fields = `profile: ${profile}, codec-level: 4.1, bitrate: ${bitrate}`;
    expect(messages(file(`raster: 1920x1080, rate: 25, sound: none, ${fields}`), rule)).toHaveLength(count);
  });

  test('a fix never writes more than the level allows', () => {
    // Level 5 High: 135000 × 1250 = 168.75 Mb/s.
    const text = file('raster: 1920x1080, rate: 25, codec-level: 5, bitrate: 200 Mb/s, sound: none');
    expect(mends(text, rule)).toEqual(['Set bitrate to 168.7 Mb/s', expect.any(String)]);
  });

  test('what is broken is said in the codec’s own units', () => {
    expect(messages(file('raster: 1920x1080, rate: 50, codec-level: 4.1, sound: none'), rule)).toEqual([
      'film: H.264 High level 4.1 stops at 245 760 macroblocks a second; 1920x1080 at 50 has 408 000. Level 4.2 holds it.',
    ]);
    expect(messages(file('raster: 3840x2160, rate: 25, codec-level: 4.1, sound: none'), rule)[0]).toMatch(
      /stops at 8 192 macroblocks in a picture; 3840x2160 at 25 has 32 400/,
    );
  });

  test('the High tier begins at level 4; an unknown level is named', () => {
    const low = 'raster: 960x540, rate: 25, codec: h265, codec-level: 3.1, tier: high, bitrate: 8 Mb/s, sound: none';
    expect(messages(file(low), rule)[0]).toBe('film: HEVC Main has no High tier at level 3.1: it begins at level 4.');
    expect(messages(file('raster: 1920x1080, rate: 25, codec-level: 4.3, sound: none'), rule)[0]).toMatch(
      /has no level 4\.3/,
    );
    expect(messages(file('raster: 1920x1080, rate: 25, codec-level: 4.0, sound: none'), rule)).toEqual([]);
  });

  test('without a level, what phones decode is the cap for the web, and for the web only', () => {
    const text = (more: string) =>
      file(`raster: 3840x2160, rate: 50, codec: h265, bitrate: 60 Mb/s, sound: none${more}`);
    expect(findings(text(''), rule).map((one) => [one.severity, one.message])).toEqual([
      [
        'warning',
        'film: 60 Mb/s needs HEVC Main level 5.2; players on phones and the web decode up to level 5.1 (common practice), which stops at 40 Mb/s.',
      ],
    ]);
    expect(messages(text(', shown-on: internal'), rule)).toEqual([]);
    expect(mends(text(''), rule)).toHaveLength(1);
    expect(messages(file('raster: 7680x4320, rate: 25, codec: h265, bitrate: 60 Mb/s, sound: none'), rule)[0]).toMatch(
      /needs HEVC Main level 6/,
    );
  });

  test('codecs without levels here are silent', () => {
    expect(messages(file('raster: 3840x2160, rate: 50, codec: av1, bitrate: 500 Mb/s, sound: none'), rule)).toEqual([]);
  });

  test('what a second deliverable takes over is said once', () => {
    const text = spec(
      'deliver:\n  film: { raster: 1920x1080, rate: 50, codec-level: 4, sound: none }\n  tv: { like: film, shown-on: broadcast }\n',
    );
    expect(messages(text, rule)).toEqual([expect.stringMatching(/^film and tv: /)]);
    expect(Object.values(fixed(text, rule))[0]).toContain(
      'film: { raster: 1920x1080, rate: 50, codec-level: 4.2, sound: none }',
    );
  });
});

describe('bitrate-starved', () => {
  const rule = 'bitrate-starved';
  const at = (bitrate: string, more = '') =>
    file(`raster: 1920x1080, rate: 25, bitrate: ${bitrate}, sound: none${more}`);

  test('3 Mb/s at 1080p25 are 0.058 bits a pixel; 5.2 Mb/s are clean, 13 MB for 20 s', () => {
    const text = at('3 Mb/s', ', length: 20 s');
    expect(messages(text, rule)).toEqual([
      'film: 3 Mb/s for 1920x1080 at 25 is 0.058 bits a pixel: soft gradients may show blocks. 5.2 Mb/s is clean enough.',
    ]);
    expect(mends(text, rule)).toEqual(['Set bitrate to 5.2 Mb/s (13 MB for 20 s)']);
  });

  test('from 0.07 on nothing; HEVC needs less, and pictures that follow each other fast; grain more', () => {
    // 0.07 x 1920 x 1080 x 25 = 3.63 Mb/s; 0.045 of it 2.33; of 60 frames a second 45 count: 6.53.
    const found = (texts: string[]) => texts.map((text) => severities(text, rule));
    expect(found([at('2.5 Mb/s'), at('3.6 Mb/s'), at('3.7 Mb/s')])).toEqual([['warning'], ['info'], []]);
    expect(found(['2.3 Mb/s', '2.4 Mb/s'].map((one) => at(one, ', codec: h265')))).toEqual([['info'], []]);
    const fast = (bitrate: string) => at(bitrate).replace('1080, rate: 25, bitrate', '1080, rate: 60, bitrate');
    expect(found([fast('6.5 Mb/s'), fast('6.6 Mb/s')])).toEqual([['info'], []]);
    const grain = at('5.2 Mb/s').replace('  box: { record: 12 s }', '  box: { record: 12 s, on-purpose: grain }');
    expect(severities(grain, rule)).toEqual(['info']);
  });

  test('where the cap forces it, the message says so and nothing is offered that breaks it', () => {
    const text = at('3 Mb/s', ', largest-file: 4 MB');
    expect(messages(text, rule)[0]).toMatch(/The largest file allows 3.2 Mb\/s/);
    expect(fixed(text, rule)).toEqual({});
  });

  test('a level that has no room gets no fix', () => {
    const text = file('raster: 1280x720, rate: 30, codec-level: 2, bitrate: 1 Mb/s, sound: none');
    expect(fixed(text, rule)).toEqual({});
  });
});

describe('file-too-big', () => {
  const rule = 'file-too-big';
  const minute = (bitrate: string, more = ', sound: stereo, largest-file: 250 MB') =>
    `${file(`raster: 3840x2160, rate: 25, length: 60 s, bitrate: ${bitrate}${more}`)}`;

  test('50 Mb/s for 60 s are 377 MB with sound; 32.7 Mb/s fit into 250 MB with 1 % for the container', () => {
    // (50 + 0.256) Mb/s × 60 s ÷ 8 = 376.92 MB; 250 MB × 0.99 × 8 ÷ 60 − 0.256 = 32.74 Mb/s.
    const text = minute('50 Mb/s');
    expect(messages(text, rule)).toEqual([
      'film: 50 Mb/s and sound (taken as 256 kb/s) for 60 s makes 376.9 MB, and 250 MB is the most. 32.7 Mb/s fits (0.16 bits a pixel).',
    ]);
    expect(mends(text, rule)).toHaveLength(1);
  });

  test('within 1 % of the cap is a note', () => {
    expect(severities(minute('33 Mb/s'), rule)).toEqual(['info']);
    expect(messages(minute('32.7 Mb/s'), rule)).toEqual([]);
  });

  test('MiB are larger than MB', () => {
    // 250 MiB are 262.144 MB: 34.3 Mb/s with the same allowances.
    const found = (bitrate: string) => messages(minute(bitrate, ', sound: stereo, largest-file: 250 MiB'), rule).length;
    expect([found('34.2 Mb/s'), found('34.4 Mb/s')]).toEqual([0, 1]);
  });

  test('silent without a cap; the cut’s length counts where it is longer', () => {
    expect(messages(minute('50 Mb/s', ''), rule)).toEqual([]);
    const text = file('raster: 1920x1080, rate: 25, length: 1 s, bitrate: 16 Mb/s, largest-file: 15 MB, sound: none');
    expect(messages(text, rule)[0]).toMatch(/for 10 s makes 20 MB/);
  });

  test('one cause: a starved picture under a broken cap is not said twice', () => {
    const text = file('raster: 3840x2160, rate: 25, bitrate: 10 Mb/s, largest-file: 5 MB, sound: none');
    expect(messages(text, rule)).toHaveLength(1);
    expect(messages(text, 'bitrate-starved')).toEqual([]);
  });
});

describe('format-unplayable', () => {
  const rule = 'format-unplayable';
  const as = (fields: string) => file(`raster: 1920x1080, rate: 25, bitrate: 16 Mb/s, sound: none, ${fields}`);

  test('phones take H.264 in 4:2:0 with 8 bits, HEVC with 8 or 10', () => {
    expect(messages(as('codec: h264, bits: 10'), rule)).toEqual([
      'film: H.264 4:2:0 with 10 bits does not play on most phones. 4:2:0 with 8 bits plays everywhere; keep the rest for a master.',
    ]);
    expect(messages(as('codec: h265, bits: 10'), rule)).toEqual([]);
    expect(messages(as('codec: h265, bits: 10, chroma: 4:2:2'), rule)).toHaveLength(1);
    expect(mends(as('codec: h264, bits: 10, chroma: 4:2:2'), rule)).toHaveLength(1);
  });

  test('a profile of another codec, and one that holds too little', () => {
    expect(messages(as('codec: h265, profile: high'), rule)).toEqual([
      'film: HEVC has no profile `high`. `main` is its usual one.',
    ]);
    expect(mends(as('codec: h265, profile: high'), rule)).toEqual([
      'Set profile of `film` to main',
      'Leave the profile to the encoder',
    ]);
    expect(messages(as('codec: h265, bits: 10, profile: main'), rule)).toEqual([
      'film: the profile `main` holds no 10 bits. Change one of them.',
    ]);
    expect(messages(as('codec: h265, bits: 10, profile: main-10'), rule)).toEqual([]);
    expect(mends(as('codec: h265, bits: 10, profile: main'), rule)).toHaveLength(1);
  });

  test('a high dynamic range wants one in bt709 beside it, for the same use', () => {
    const one =
      'deliver:\n  film: { raster: 1920x1080, rate: 25, codec: h265, bits: 10, colour-space: hlg, sound: none }\n';
    expect(messages(spec(one), rule)).toEqual([
      'film: hlg is shown wrongly on ordinary screens, and no other deliverable for web is in bt709.',
    ]);
    const beside = (more: string) =>
      messages(spec(`${one}  plain: { like: film, bits: 8, colour-space: bt709${more} }\n`), rule).length;
    expect([beside(''), beside(', shown-on: cinema')]).toEqual([0, 1]);
  });

  test('4:2:0 for broadcast is a note', () => {
    expect(severities(as('shown-on: broadcast'), rule)).toEqual(['info']);
    expect(messages(as('shown-on: broadcast, chroma: 4:2:2, profile: high-4-2-2'), rule)).toEqual([]);
  });
});

describe('drop-frame-misused', () => {
  const rule = 'drop-frame-misused';
  const starts = (code: string, rate: string, more = '') =>
    spec(`deliver:\n  film: { raster: 1920x1080, rate: ${rate}, sound: none${more} }\ntimeline: { starts: ${code} }\n`);

  test('drop-frame is defined for 29.97 and 59.94 only (SMPTE ST 12-1), and the fix is safe', () => {
    for (const rate of ['23.976', '25', '30', '50']) {
      expect(messages(starts('10:00:00;00', rate), rule)[0]).toBe(
        `\`10:00:00;00\` counts drop-frame (\`;\`), and at ${rate} there is none: it is defined for 29.97 and 59.94 only.`,
      );
    }
    expect(['29.97', '59.94'].flatMap((rate) => messages(starts('10:00:00;00', rate), rule))).toEqual([]);
    expect(findings(starts('10:00:00;00', '25'), rule)[0]!.fixes[0]!.safe).toBe(true);
    expect(mends(starts('10:00:00;00', '25'), rule)).toHaveLength(1);
  });

  // ST 12-1: 1800 frames after 00:00:00;00 comes 00:01:00;02; every tenth minute keeps its numbers.
  test.each([
    ['00:01:00;00', '29.97', '00:01:00;02'],
    ['00:01:00;01', '29.97', '00:01:00;02'],
    ['00:09:00;03', '59.94', '00:09:00;04'],
  ])('%s at %s does not exist, %s comes next', (code, rate, next) => {
    expect(messages(starts(code, rate), rule)).toEqual([
      `\`${code}\` does not exist: drop-frame leaves out the first numbers of each minute but every tenth. \`${next}\` comes next.`,
    ]);
    expect(Object.values(fixed(starts(code, rate), rule))[0]).toContain(`starts: ${next}`);
  });

  test('numbers that exist', () => {
    const codes = ['00:01:00;02', '00:10:00;00', '00:00:59;29'];
    expect(codes.flatMap((code) => messages(starts(code, '29.97'), rule))).toEqual([]);
  });

  test('a frame number past the rate', () => {
    expect(messages(starts('00:00:10:25', '25'), rule)).toEqual([
      '`00:00:10:25` does not exist at 25: frames are counted from 00 to 24.',
    ]);
  });

  test('timecodes in lengths, titles and both ends of a section', () => {
    const text = spec(`deliver:
  film: { raster: 1920x1080, rate: 25, sound: none, length: 00:00:10;00, section: 00:00:00;00 to 00:00:09:30 }
titles:
  - { text: Turns by hand, at: 00:00:02;00, hold: 4 s }
`);
    expect(marked(text, rule)).toEqual(['00:00:10;00', '00:00:00;00', '00:00:09:30', '00:00:02;00']);
  });

  test('a long broadcast film counted without drop-frame lags 3.6 s an hour', () => {
    const cut = 'shots:\n  box: { record: 100 s }\ncut:\n  - { shot: box, length: 90 s }\n';
    const text = spec(
      `deliver:\n  film: { raster: 1920x1080, rate: 29.97, sound: none, length: 90 s, shown-on: broadcast }\ntimeline: { starts: 10:00:00:00 }\n${cut}`,
    );
    expect(severities(text, rule)).toEqual(['info']);
    expect(messages(text, rule)[0]).toMatch(/falls behind the clock by 3.6 s an hour/);
    const fine = [text.replace('shown-on: broadcast', 'shown-on: web'), text.replaceAll('90 s', '60 s')];
    expect(fine.flatMap((one) => messages(one, rule))).toEqual([]);
  });
});

describe('odd-dimensions', () => {
  const rule = 'odd-dimensions';
  const as = (raster: string, chroma: string) =>
    file(`raster: ${raster}, rate: 25, chroma: ${chroma}, sound: none`, 'scope');

  test('2.39:1 of 3840 is 1606 lines, not 1607', () => {
    expect(messages(as('3840x1607', '4:2:0'), rule)).toEqual([
      'scope: 3840x1607 has an odd height, and 4:2:0 needs an even one: encoders refuse it or stretch the picture. 3840x1606 works.',
    ]);
    expect(findings(as('3840x1607', '4:2:0'), rule)[0]!.fixes[0]!.safe).toBe(true);
    expect(mends(as('3841x1607', '4:2:0'), rule)).toHaveLength(1);
  });

  test('4:2:2 wants an even width only, 4:4:4 nothing', () => {
    const even = [as('3840x1607', '4:2:2'), as('3841x1607', '4:4:4')];
    expect(even.flatMap((text) => messages(text, rule))).toEqual([]);
    expect(messages(as('3841x1607', '4:2:2'), rule)[0]).toMatch(/3840x1607 works/);
  });
});

describe('loudness-off-target and true-peak-too-high', () => {
  const loud = 'loudness-off-target';
  const peak = 'true-peak-too-high';
  const heard = (fields: string) =>
    file(`raster: 1920x1080, rate: 25, bitrate: 16 Mb/s, sound: stereo, ${fields}`, 'tv');

  test('EBU R 128: −23.0 LUFS ± 1 LU; −14 is 9 LU too loud', () => {
    expect(
      findings(heard('shown-on: broadcast, loudness: -14 LUFS'), loud).map((one) => [one.severity, one.message]),
    ).toEqual([['error', 'tv: -14 LUFS is planned; EBU R 128 wants -23 LUFS: 9 LU too loud, it will be refused.']]);
    const found = (lufs: number) => messages(heard(`shown-on: broadcast, loudness: ${lufs} LUFS`), loud).length;
    expect([found(-22), found(-21.9)]).toEqual([0, 1]);
    expect(mends(heard('shown-on: broadcast, loudness: -14 LUFS'), loud)).toHaveLength(1);
  });

  test('ATSC A/85: −24 LKFS ± 2 dB in the USA, peaks to −2 dBTP; ARIB TR-B32: −24 in Japan', () => {
    const us = (loudness: string) => messages(heard(`shown-on: broadcast, territory: US, loudness: ${loudness}`), loud);
    expect(['-22 LKFS', '-21.5 LKFS'].map((one) => us(one).length)).toEqual([0, 1]);
    expect(messages(heard('shown-on: broadcast, territory: JP, loudness: -21 LKFS'), loud)[0]).toMatch(
      /ARIB TR-B32 wants -24/,
    );
    const peaks = (territory: string) =>
      messages(heard(`shown-on: broadcast, territory: ${territory}, loudness: -24 LUFS, true-peak: -1 dBTP`), peak);
    expect(['US', 'DE'].map((territory) => peaks(territory).length)).toEqual([1, 0]);
  });

  test('where no country or the whole world is said, the region decides', () => {
    const wanted = (fields: string, region: string) =>
      messages(`${heard(`shown-on: broadcast, ${fields}loudness: -14 LUFS`)}`.replace('region: DE', region), loud)[0];
    expect(wanted('', 'region: DE')).toMatch(/EBU R 128 wants -23/);
    expect(wanted('', 'region: US')).toMatch(/ATSC A\/85 wants -24/);
    expect(wanted('territory: worldwide, ', 'region: JP 60 Hz')).toMatch(/ARIB TR-B32 wants -24/);
    expect(wanted('territory: DE, ', 'region: US')).toMatch(/EBU R 128 wants -23/);
  });

  test('what all lack is said once, of the deliverable that the others are like, and mended there', () => {
    const text = spec(`music: { track: comb, tempo: 120 bpm }
deliver:
  film: { raster: 1920x1080, rate: 25, length: 12 s, codec: h264, bitrate: 16 Mb/s }
  tall: { like: film, raster: 1080x1920 }
  tv: { like: film, shown-on: broadcast }
  late: { like: tv, length: 12 s }
`);
    expect(messages(text, loud)).toEqual([
      expect.stringContaining('tv and late: no loudness is said; EBU R 128 wants -23 LUFS'),
    ]);
    expect(Object.values(fixed(text, loud)).flatMap((after) => messages(after, loud))).toEqual([]);
  });

  // The web has a convention.
  test.each([
    ['loudness: -16 LUFS', []],
    ['loudness: -13 LUFS', []],
    ['loudness: -9 LUFS', ['info']],
    // Who says nothing leaves it to the player.
    ['shown-on: social', []],
    ['shown-on: broadcast', ['error']],
    ['shown-on: event', []],
  ])('%s: %j', (fields, graded) => {
    expect(severities(heard(fields), loud)).toEqual(graded);
  });

  test('a film for both gets told to part them; without sound all is silent', () => {
    expect(messages(heard('shown-on: [broadcast, web], loudness: -14 LUFS'), loud)[0]).toMatch(
      /make it a deliverable of its own/,
    );
    const mute = heard('shown-on: broadcast, loudness: -14 LUFS').replace('sound: stereo', 'sound: none');
    expect(messages(mute, loud)).toEqual([]);
  });

  test('−0.1 dBTP clips in the coder, −1 does not; loudness and peak need 8 dB between them', () => {
    expect(messages(heard('loudness: -14 LUFS, true-peak: -0.1 dBTP'), peak)).toEqual([
      'tv: peaks up to -0.1 dBTP; lossy coding adds about 1 dB and clips. Leave room up to -1 dBTP.',
    ]);
    expect(mends(heard('loudness: -14 LUFS, true-peak: -0.1 dBTP'), peak)).toHaveLength(1);
    expect(severities(heard('loudness: -8 LUFS, true-peak: -1 dBTP'), peak)).toEqual(['info']);
    expect(messages(heard('loudness: -9 LUFS, true-peak: -1 dBTP'), peak)).toEqual([]);
  });
});

describe('levels without their minus', () => {
  const sound = (fields: string) => file(`raster: 1920x1080, rate: 25, bitrate: 16 Mb/s, ${fields}`);

  // ITU-R BS.1770-5: a 0 dBFS 997 Hz sine in the left or right channel reads −3.01 LKFS, so in both 0 LKFS.
  test('above 0 LUFS there is no film, with sound planned or not; at 0 the convention speaks', () => {
    const rule = 'loudness-off-target';
    for (const plan of ['sound: stereo', 'sound: none', 'sound: stereo, shown-on: broadcast']) {
      const text = sound(`${plan}, loudness: 14 LUFS`);
      expect(findings(text, rule).map((one) => [one.severity, one.message])).toEqual([
        [
          'error',
          'film: 14 LUFS is louder than any film can be: full scale in both channels is 0 LUFS. The minus is missing.',
        ],
      ]);
      expect(Object.entries(fixed(text, rule))).toEqual([
        ['Set loudness to -14 LUFS', text.replace('14 LUFS', '-14 LUFS')],
      ]);
      expect(messages(text, 'true-peak-too-high')).toEqual([]);
    }
    expect(severities(sound('sound: stereo, loudness: 0 LUFS'), rule)).toEqual(['info']);
  });

  test('above 0 dBTP everything clips; what is offered is allowed', () => {
    const rule = 'true-peak-too-high';
    const text = sound('sound: none, true-peak: 1.5 dBTP');
    expect(findings(text, rule).map((one) => [one.severity, one.message])).toEqual([
      [
        'error',
        'film: peaks up to 1.5 dBTP are planned, above full scale (0 dBTP), where they clip. Leave room up to -1 dBTP: the minus is missing.',
      ],
    ]);
    expect(mends(text, rule)).toEqual(['Set true peak to -1.5 dBTP', 'Set true peak to -1 dBTP']);
    // −0.5 dBTP would leave no room for the coder.
    for (const most of ['0.5 dBTP', '1 dBTP'])
      expect(titles(sound(`true-peak: ${most}`), rule)).toEqual(['Set true peak to -1 dBTP']);
  });
});

describe('kept sound', () => {
  const pitch = 'speed-shifts-pitch';
  const play = (piece: string, shot = 'microphone: clip-on') =>
    spec(`shots:\n  play: { record: 30 s, ${shot} }\ncut:\n  - { shot: play, length: 10 s, ${piece} }\n`);

  // 12 × log₂(p), equal temperament: half speed −12, 83.33 % −3.16, 104.17 % (24 → 25) +0.71, 99.9 % −0.017.
  test.each([
    ['50 %', 'lowers the kept sound by 12 semitones'],
    ['83.33 %', 'lowers the kept sound by 3.2 semitones'],
    ['104.17 %', 'raises the kept sound by 0.7 semitones'],
    ['-50 %', 'runs backwards (-50 %), and so does its kept sound'],
  ])('%s %s', (speed, says) => {
    expect(messages(play(`speed: ${speed}, sound: keep`), pitch)[0]).toContain(says);
  });

  test('0.2 semitones pass: 1.16 % either way', () => {
    const found = (speed: string) => messages(play(`speed: ${speed}, sound: keep`), pitch).length;
    expect([found('99.9 %'), found('101.1 %'), found('101.3 %')]).toEqual([0, 0, 1]);
  });

  test('silent when muted or a still; each fix clears', () => {
    expect(['speed: 50 %', 'speed: 0 %, sound: keep'].flatMap((piece) => messages(play(piece), pitch))).toEqual([]);
    expect(mends(play('speed: 50 %, sound: keep'), pitch)).toHaveLength(2);
  });

  test('sound that nothing records', () => {
    const text = play('sound: keep', 'takes: 2');
    expect(messages(text, 'kept-sound-not-recorded')).toEqual([
      'play: the cut keeps its sound, but no microphone records it: this piece will be silent.',
    ]);
    expect(mends(text, 'kept-sound-not-recorded')).toHaveLength(1);
  });

  test('motors are heard only where their sound is kept', () => {
    const rule = 'machine-noise-in-take';
    const turn = 'microphone: clip-on, turn: { speed: 1 rpm }';
    expect(messages(play('sound: keep', turn), rule)).toEqual([
      'play: the turntable `large` runs while its sound is kept. Record the sound as a take of its own, near the product: at half the distance it is 6 dB louder.',
    ]);
    const still = play('sound: keep', 'microphone: clip-on, turn: { starts: 30° }');
    expect([play('speed: 100 %', turn), still].flatMap((text) => messages(text, rule))).toEqual([]);
    const slide = 'microphone: clip-on, camera: { support: slider, slide: 0 cm to 10 cm }';
    expect(messages(play('sound: keep', slide), rule)[0]).toMatch(/the slider `slider` runs/);
  });
});

describe('format-unplayable, containers', () => {
  const rule = 'format-unplayable';
  const as = (container: string, codec: string) =>
    file(`raster: 1920x1080, rate: 25, bitrate: 16 Mb/s, sound: none, container: ${container}, codec: ${codec}`);

  // From memory: the published bindings of VP9 and AV1 are for mp4 and webm; webm takes no other video.
  test('mov takes no VP9 and no AV1, webm nothing else', () => {
    const text = as('mov', 'vp9');
    expect(messages(text, rule)).toEqual(['film: mov does not take VP9; it takes H.264 or HEVC.']);
    expect(mends(text, rule)).toEqual(['Deliver it as webm', 'Deliver it as mp4']);
    expect(messages(as('mov', 'av1'), rule)).toHaveLength(1);
    expect(findings(as('webm', 'h264'), rule)).toMatchObject([
      { severity: 'error', message: 'film: webm does not take H.264; it takes VP9 or AV1.' },
    ]);
    expect(mends(as('webm', 'h264'), rule)).toEqual(['Deliver it as mp4']);
    expect(
      [as('mov', 'h264'), as('mov', 'h265'), as('mp4', 'vp9'), as('mp4', 'av1'), as('webm', 'vp9')].flatMap((one) =>
        messages(one, rule),
      ),
    ).toEqual([]);
  });
});

describe('keep-clear-leaves-nothing', () => {
  const rule = 'keep-clear-leaves-nothing';
  const covered = (edges: string) =>
    `${file(`raster: 1920x1080, rate: 25, bitrate: 16 Mb/s, sound: none, keep-clear: { ${edges} }`)}titles:\n  - { text: A bell, at: 1 s, hold: 3 s }\n`;

  test('60 % from the top and 60 % from the bottom meet; 60 and 39 do not', () => {
    const text = covered('top: 60 %, bottom: 60 %');
    expect(messages(text, rule)).toEqual([
      'film: the player covers 60 % at the top and 60 % at the bottom, which leaves nothing of the picture. Each counts from its own edge, so the two must make less than 100 %.',
    ]);
    expect(messages(text, 'title-outside-safe-area')).toEqual([]);
    expect(messages(covered('left: 50 %, right: 50 %'), rule)).toHaveLength(1);
    const room = ['top: 60 %, bottom: 39 %, left: 60 %, right: 10 %', 'top: 60 %, left: 60 %'];
    expect(room.flatMap((edges) => messages(covered(edges), rule))).toEqual([]);
  });
});

describe('format-unplayable, sound', () => {
  const rule = 'format-unplayable';
  const sound = (fields: string) =>
    messages(file(`raster: 1920x1080, rate: 25, bitrate: 16 Mb/s, sound: stereo, ${fields}`), rule);

  // 48 kHz for sound with picture: AES5, from memory. Half the rate is the highest tone: sampling theorem.
  test('48 kHz in broadcast, 44.1 kHz and more on the web', () => {
    expect(sound('sample-rate: 22 kHz')).toEqual([
      'film: sound at 22 kHz holds nothing over 11 kHz, so it is dull. Deliver 48 kHz.',
    ]);
    expect(sound('sample-rate: 44.1 kHz')).toEqual([]);
    expect(sound('shown-on: broadcast, chroma: 4:2:2, sample-rate: 44.1 kHz')).toEqual([
      'film: sound at 44.1 kHz is refused by broadcasters. Deliver 48 kHz.',
    ]);
  });

  test('what a profile does not hold is said once, with both ways out', () => {
    const text = file('raster: 1920x1080, rate: 25, bitrate: 16 Mb/s, profile: high, bits: 10, sound: none');
    expect(messages(text, rule)).toEqual(['film: the profile `high` holds no 10 bits. Change one of them.']);
    expect(titles(text, rule)).toHaveLength(2);
  });
});
