/** How words are read, what is wrong with them, and how answers are written. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { run, topics } from '../../server/compute/index.ts';
import { answerJson, answerText, topicsJson, topicsText } from '../../server/compute/text.ts';
import { answer, problem, result } from '../helpers/compute.ts';

describe('words', () => {
  test('the space before a unit may be left out, as a bare number may stand where the key names the unit', () => {
    const spaced = result('blur', 'rpm=2 rpm radius=5 cm time=1/50 s px-per-mm=10', 'blur_px');
    expect(result('blur', 'rpm=2 radius=5cm time=1/50s px-per-mm=10', 'blur_px')).toBe(spaced);
    expect(result('blur', 'rpm=2rpm radius=0.05m time=20ms px-per-mm=10', 'blur_px')).toBeCloseTo(spaced, 12);
  });

  test('degrees are written with their sign, as `deg` or as a bare number', () => {
    const [signed, ...others] = ['10°', '10deg', '10 deg', '10'].map((angle) =>
      result('falloff', `lux=800 lx at=1 m distance=1 m angle=${angle}`, 'lux'),
    );
    expect(others).toEqual([signed, signed, signed]);
    expect(problem('shutter', 'rate=25', 'angle=10 degrees')).toContain('`angle` is written like `angle=180°`');
    expect(problem('shutter', 'rate=25', 'angle=10° left')).toContain('cannot be read');
  });

  test.each([
    ['', [], 'There is no computation ``. There are depth-of-field, '],
    ['depht-of-field', [], 'There is no computation `depht-of-field`. Did you mean `depth-of-field`?'],
    ['toString', [], 'There is no computation `toString`. There are '],
    ['mired', ['form=3200K'], 'There is no `form` in mired. Did you mean `from`?'],
    ['mired', ['__proto__=3200K'], 'There is no `__proto__` in mired. There are from and to.'],
    ['mired', ['from=3200', 'K'], '`K` is no key and value, such as `from=3200K`.'],
    ['mired', ['=3200K'], '`=3200K` is no key and value'],
    ['mired', ['from=3200K', 'from=5600K'], '`from` is written twice: keep one.'],
    ['mired', [], 'mired wants `from`. For example: mired from=3200K to=5600K'],
    ['mired', ['from=3200'], '`from=3200` cannot be read: `from` is written like `from=3200 K`.'],
    ['mired', ['from=-3200K'], '`from=-3200K` must be above 0.'],
    ['mired', ['from=0K'], '`from=0K` must be above 0.'],
    ['mired', [`from=${'9'.repeat(400)}K`], 'cannot be read'],
    ['level', ['codec=h266', 'profile=high', 'raster=1x1', 'rate=1', 'bitrate=1b/s'], '`codec` takes h264 or h265.'],
    ['shutter', ['rate=25'], 'shutter wants `time` or `angle`.'],
    [
      'shutter',
      ['rate=25', 'time=1/50s', 'angle=180°'],
      '`time` and `angle` do not go together: give `time` or `angle`.',
    ],
    ['shutter', ['rate=0', 'angle=180°'], '`rate=0` cannot be read'],
    ['shutter', ['rate=25', 'angle=361°'], 'longer than a frame'],
    ['falloff', ['lumens=5000', 'distance=2m'], 'falloff wants `beam`.'],
    ['falloff', ['distance=2m'], 'falloff wants `candela`, `lumens` with `beam` or `lux` with `at`.'],
    ['falloff', ['lux=5', 'at=1m', 'beam=30°', 'distance=2m'], '`beam` and `lux` do not go together'],
    ['blur', ['speed=1mm/s', 'time=180°', 'px-per-mm=10'], '`time` is written like `time=1/50 s`.'],
    ['zoom', ['capture=3840x2160', 'deliver=1920x1080', 'rotate=91°'], 'must lie between -90° and 90°.'],
    ['flicker', ['mains=50Hz', 'time=1/20s', 'rate=25'], '1/20 s is longer than a frame at 25 frames/s'],
    ['beats', ['tempo=120bpm', 'rate=25', 'count=1000000'], 'must be at most 10000.'],
  ])('%s %j', (topic, args, said) => {
    expect(problem(topic, ...args)).toContain(said);
  });

  test('whatever is typed in, there is an answer or a problem, and no number without end', () => {
    const values = fc.oneof(
      fc.string({ maxLength: 12 }),
      fc.constantFrom('1 mm', '1e9 mm', '0.0000000001 m', '1000000000000 K', '180°', '1/0 s', '999999', '0.000001'),
      fc.constantFrom(
        'f/0.1',
        '1/8000 s',
        '1x1',
        '99999x1',
        '10 Mb/s',
        '20 kHz',
        '1 bpm',
        'h264',
        'high',
        '4:2:0',
        '0 %',
      ),
    );
    const asked = fc
      .constantFrom(...topics)
      .chain((topic) =>
        fc.tuple(
          fc.constant(topic),
          fc.array(fc.tuple(fc.constantFrom(...Object.keys(topic.keys)), values), { maxLength: 3 }),
        ),
      );
    fc.assert(
      fc.property(asked, ([topic, pairs]) => {
        const examples = topic.example.filter((word) => !pairs.some(([name]) => word.startsWith(`${name}=`)));
        const found = run(topic.id, [...examples, ...pairs.map(([name, value]) => `${name}=${value}`)]);
        if ('problem' in found) {
          expect(found.problem).not.toBe('');
          return;
        }
        expect(JSON.parse(answerJson(found))).toMatchObject(found.results);
        expect(answerText(found)).not.toMatch(/NaN|undefined|Infinity/);
      }),
      { numRuns: 1000 },
    );
  });
});

describe('answers', () => {
  test.each(topics.map((topic) => [topic.id, topic] as const))(
    '%s answers its example and all its results',
    (_, topic) => {
      const found = run(topic.id, topic.example);
      if ('problem' in found) throw new Error(found.problem);
      expect(Object.keys(found.results)).toEqual(Object.keys(topic.results));
      const text = answerText(found);
      for (const part of [topic.summary, '\n  formula ', '\n  inputs ', '\n  source ']) expect(text).toContain(part);
      expect(Math.max(...text.split('\n').map((line) => line.length))).toBeLessThanOrEqual(100);
    },
  );

  test.each(topics.map((topic) => [topic.id, topic] as const))('the examples of %s can be read', (_, topic) => {
    for (const one of Object.values(topic.keys) as {
      read(text: string): unknown;
      example: string;
      otherwise?: string;
    }[]) {
      expect(one.read(one.example)).toBeDefined();
      if (one.otherwise !== undefined) expect(one.read(one.otherwise)).toBeDefined();
    }
  });

  test('what has no end says so, and a long list is cut', () => {
    expect(answerText(answer('depth-of-field', 'focal=50mm aperture=f/8 coc=0.03mm distance=11m'))).toMatch(
      /^ *sharp to +infinity$/m,
    );
    expect(answerText(answer('flicker', 'light=20kHz time=1/60s'))).toContain('… (833 in all)');
  });

  test('text: results, formula, inputs, source', () => {
    expect(answerText(answer('mired', 'from=3200 K to=5600 K'))).toBe(
      `Colour temperature in mired, and the filter between two
  the light      312.5 mired
  filter wanted  -133.93 mired (toward blue)

  formula  mired = 10⁶ ÷ K; shift = mired(to) − mired(from), minus is toward blue
  inputs   from 3200 K, to 5600 K
  source   definition of the mired; mired tables of photographic handbooks
`,
    );
  });

  test('data: one object, all lists whole', () => {
    const data = JSON.parse(answerJson(answer('flicker', 'light=20kHz time=1/60s'))) as Record<string, never>;
    expect(Object.keys(data)).toEqual([
      'topic',
      'residual',
      'beat_hz',
      'bands',
      'safe_times_s',
      'inputs',
      'notes',
      'formula',
      'source',
    ]);
    expect(data['safe_times_s']).toHaveLength(833);
  });

  test('the list has every topic with its keys and results', () => {
    const listed = JSON.parse(topicsJson()).topics as {
      id: string;
      keys: { name: string }[];
      results: { name: string }[];
    }[];
    expect(listed.map(({ id }) => id)).toEqual(topics.map(({ id }) => id));
    const text = topicsText();
    for (const { id, keys, results } of listed) {
      expect(text).toContain(`\n${id}: `);
      for (const { name } of keys) expect(text).toContain(`${name}=`);
      for (const { name } of results) expect(text).toContain(`\n  ${name} `);
    }
    expect(text).toContain('[iso=400]');
    expect(text).toContain('(angle=180°)');
    expect(text).toContain('watts=300W …');
  });
});
