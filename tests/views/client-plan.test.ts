/** The plan for the client: what somebody who makes no films reads in it, and what stays with the maker. */
import { describe, expect, test } from 'vitest';
import { dateDays } from '../../server/core/units.ts';
import type { SheetBlock } from '../../server/views/sheet/blocks.ts';
import { paperFor } from '../../server/views/sheet.ts';
import { checkerFor, spec } from '../helpers/workspace.ts';

/** All words of the plan, line by line; those of tables with strokes between. */
function linesOf(blocks: string, files: Record<string, string> = {}): string[] {
  const result = checkerFor(files).check('film.shoot.yaml', spec(blocks))!;
  return paperFor(result, result.film!, 'client').blocks.flatMap(linesIn);
}

function linesIn(block: SheetBlock): string[] {
  switch (block.kind) {
    case 'heading':
    case 'text':
      return [block.words];
    case 'facts':
    case 'list':
      return block.rows.map((row) => row.join(': '));
    case 'table':
      return block.rows.map((row) => row.join(' | '));
    case 'ticks':
    case 'questions':
      return [...block.items];
    case 'frames':
      return block.frames.map(({ heading, words, png }) => [png ? '[drawn]' : '[none]', heading, ...words].join(' / '));
    case 'together':
      return block.blocks.flatMap(linesIn);
    default:
      return [];
  }
}

const whole = `title: The waltz box
brief: { client: Tinnabel, purpose: Make people want to turn the crank., must-show: [crank, lid], must-not-show: price-tag, needs-rights: maker-mark, due: 2026-12-10 }
product: { size: 9 x 6 x 7 cm, arrives: 2026-11-30, returns: 2026-12-04, units: 3, parts: { crank: { size: 2 x 2 x 3 cm, height: 3 cm } } }
deliver:
  shop-film: { raster: 1920x1080, rate: 25, length: 10 s, codec: h264, bitrate: 16 Mb/s, shown-on: web, territory: [DE, AT], published: 2026-12-12 to 2027-12-11 }
  story: { like: shop-film, raster: 1080x1920, shown-on: social, sound: none }
on-purpose: warm-cast # why: it should glow as on a winter evening
shots:
  whole-box: { record: 12 s, notes: Mind the cable. } # the client is hard to please
  # why: the crank is what nobody else has,
  # and it is what the film sells
  crank: { subject: crank, record: 12 s, people: hand, action: { what: A hand turns the crank once., lasts: 4 s } }
cut: [{ shot: whole-box, length: 6 s }, { shot: crank, length: 4 s }]
titles: [{ text: Turn it, at: 7 s, hold: 2 s }]
music: { track: waltz, tempo: 100 bpm }
schedule: [{ day: 2026-12-02, hours: 09:00 to 15:00 }]
notes: Ask for more money next time.
`;

describe('what the client reads', () => {
  const lines = linesOf(whole);
  const all = lines.join('\n');

  test('is what they get, in plain words', () => {
    expect(lines).toContain(
      'Shop film: Wide picture, 16:9, 10 seconds, with sound. Shown on the web, Germany and Austria, from 12 December 2026 to 11 December 2027.',
    );
    expect(lines).toContain(
      'Story: Upright picture, 9:16, 10 seconds, without sound. Shown in social media, Germany and Austria, from 12 December 2026 to 11 December 2027.',
    );
  });

  test('is when, what to bring and what to sign', () => {
    expect(lines).toContain('Filming: Wednesday 2 December 2026, 09:00 to 15:00');
    expect(lines).toContain('Finished: Thursday 10 December 2026');
    expect(all).toContain(
      'The product, 3 of it: here by Monday 30 November 2026, back with you from Friday 4 December',
    );
    expect(all).toContain('Signed: the consent of the person seen as “hand”');
    expect(all).toContain('Signed: your consent that the mark “maker mark” is seen');
  });

  test('is the film piece by piece and each picture, drawn as lit', () => {
    expect(lines).toContain('[drawn] / Whole box / 6 seconds');
    expect(lines).toContain('[drawn] / Crank / 4 seconds / “Turn it”');
  });

  test('is what was decided, with the reasons that are meant for them and no others', () => {
    expect(lines).toContain('Colours are warmer than in daylight: it should glow as on a winter evening.');
    expect(all).toContain('The crank is what nobody else has, and it is what the film sells.');
    for (const own of ['hard to please', 'more money', 'Mind the cable']) expect(all).not.toContain(own);
  });

  test('is no number that only the maker needs', () => {
    expect(all).not.toMatch(/h264|Mb\/s|ISO|f\/\d|\bK\b|lx|1920|fps|frames/);
  });

  test('is asked what only they can say, each once', () => {
    const questions = lines.slice(lines.indexOf('What is still open') + 2, lines.indexOf('Estimate'));
    expect(questions).toEqual([
      'No picture shows “lid” yet. Which moment should show it?',
      'There is no licence yet for the music “waltz”. Do you have one, or shall another take its place?',
    ]);
  });

  test('and of a first idea, all that is open', () => {
    const few = linesOf('product: { finish: satin }\ndeliver: { film: { rate: 25 }, teaser: { rate: 25 } }\n');
    expect(few).toEqual(
      expect.arrayContaining([
        'What should the film do, in one sentence?',
        'On which day do you need the finished files?',
        'What must be seen in the film?',
        '“film” and “teaser”: wide, upright or square and how long may it be?',
        'How large is the product: width, depth and height?',
        'On which day does the product arrive, and when must it be back with you?',
        'Which day suits you for filming?',
      ]),
    );
  });
});

test('where a film is shown is not said for granted, and one day of publication is the first', () => {
  const [line] = linesOf(
    'deliver: { film: { raster: 1080x1350, rate: 25, shown-on: social, published: 2027-06-21, sound: none } }\n',
  ).filter((one) => one.startsWith('Film: '));
  expect(line).toBe('Film: Upright picture, 4:5, 10 seconds, without sound. Shown in social media, from 21 June 2027.');
});

test('what a version leaves out is asked about once', () => {
  const lines = linesOf(`brief: { must-show: [crank, lid] }
product: { size: 9 x 6 x 7 cm, parts: { crank: { size: 2 x 2 x 3 cm, height: 3 cm }, lid: { size: 9 x 6 x 1 cm, height: 7 cm } } }
deliver: { film: { raster: 1920x1080, rate: 25 }, teaser: { like: film, section: 0 s to 4 s } }
shots: { box: { record: 12 s }, crank: { record: 12 s, shows: [crank, lid] } }
cut: [{ shot: box, length: 6 s }, { shot: crank, length: 4 s }]
`);
  expect(lines).toContain('“teaser” does not show “crank” and “lid”. Is that all right?');
});

describe('what was agreed', () => {
  const agreed = `${whole}agreed: { who: Ada Tinnabel, day: 2026-11-20, revision: 4f2a91c }\n`;
  const linesAt = (earlier: string) => {
    const film = checkerFor().checkAs('shoot', spec(earlier)).film!;
    const checker = checkerFor({}, { earlier: () => ({ kind: 'plan', film }) });
    const result = checker.check('film.shoot.yaml', spec(agreed))!;
    return paperFor(result, result.film!, 'client').blocks.flatMap(linesIn);
  };

  test('is said in the place of a line to sign', () => {
    expect(linesAt(whole).slice(-2)).toEqual([
      'Agreed',
      'Ada Tinnabel agreed to this plan on Friday 20 November 2026, kept as 4f2a91c.',
    ]);
  });

  test('and what has changed since is shown, to be signed again', () => {
    expect(linesAt(whole.replace('Turn it', 'Turn me')).slice(-4)).toEqual([
      'Agreed',
      'Since Ada Tinnabel agreed, this has changed:',
      '– title Turn it: text Turn me → Turn it',
      ' |  | ',
    ]);
  });
});

describe('the estimate', () => {
  const fees = `fees: { currency: EUR, shooting-hour: 85.00, editing-hour: 72.50, editing-time: 9 h, version-time: 45 min, fixed: { travel: 38.40, regular: -10 }, tax: 19 %, valid-until: 2026-12-31 }\n`;

  test('has hours by set-up, sums to the cent, tax, and until when it holds', () => {
    const lines = linesOf(whole, { 'shootspec.yaml': fees });
    // 60 min to build and 2 shots of a single take of 12 s are less than 1.25 h; 10 s are 1.5 h of editing, and a version.
    expect(lines.slice(lines.indexOf('Estimate'))).toEqual([
      'Estimate',
      'Wednesday 2 December 2026 | Set up and film | 1 h',
      ' | Together, without breaks | 1.25 h',
      ' | Editing | 2.25 h',
      expect.stringContaining('rounded up to quarters of an hour'),
      'Filming | 1.25 h × 85.00 EUR | 106.25 EUR',
      'Editing | 2.25 h × 72.50 EUR | 163.13 EUR',
      'Travel |  | 38.40 EUR',
      'Regular |  | -10.00 EUR',
      'Sum |  | 297.78 EUR',
      'Tax, 19 % |  | 56.58 EUR',
      'Total |  | 354.36 EUR',
      'This estimate holds until Thursday 31 December 2026.',
      'Agreed',
      ' |  | ',
    ]);
  });

  test('says hours and no costs where the settings have no fees', () => {
    const lines = linesOf(whole);
    expect(lines.join('\n')).toContain('Together, without breaks');
    expect(lines.join('\n')).not.toMatch(/EUR|Total|Editing/);
  });

  test('takes the fees of the folder of a client over those above, and days in the place of hours', () => {
    const files = {
      'shootspec.yaml': fees,
      'tinnabel/shootspec.yaml': 'fees: { shooting-day: 500, fixed: { regular: -50 } }\n',
      'tinnabel/film.shoot.yaml': spec(whole),
    };
    const result = checkerFor(files).check('tinnabel/film.shoot.yaml', spec(whole))!;
    const lines = paperFor(result, result.film!, 'client').blocks.flatMap(linesIn);
    expect(lines).toContain('Filming | 1 day × 500.00 EUR | 500.00 EUR');
    expect(lines).toContain('Travel |  | 38.40 EUR');
    expect(lines).toContain('Regular |  | -50.00 EUR');
  });
});

describe('fees that can’t be used', () => {
  const said = (fees: string) =>
    checkerFor()
      .check('shootspec.yaml', `fees: ${fees}\n`)!
      .findings.map(({ rule, message, fixes }) => [rule, message, fixes.map(({ title }) => title)]);

  test('say what is meant', () => {
    expect(said('{ currency: EUR, shooting-hour: 1.250 }')).toEqual([
      [
        'amount-too-fine',
        '`1.250` has 3 decimals, and `EUR` has 2. Write `1250` or `1.25`; thousands have no mark between them.',
        ['Write `1250`', 'Write `1.25`'],
      ],
    ]);
    expect(said('{ currency: JPY, fixed: { travel: 80.5 } }')[0]![1]).toContain('`JPY` has none. Write `80`');
    expect(said('{ editing-hour: 85 EUR }')).toEqual([
      ['wrong-unit', '`85 EUR` is written without a unit here: write `85`.', ['Write `85`']],
    ]);
  });

  test('nor those whose day is over, where it is known what day it is', () => {
    const on = (today: string) =>
      checkerFor({}, { today: () => dateDays(today) })
        .check('shootspec.yaml', 'fees: { shooting-hour: 80, valid-until: 2026-12-31 }\n')!
        .findings.map(({ rule }) => rule);
    expect([on('2026-12-31'), on('2027-01-01')]).toEqual([[], ['fees-over']]);
  });

  test('and pay filming in one way', () => {
    expect(said('{ shooting-hour: 80, shooting-day: 600 }')[0]![0]).toBe('two-fees-for-shooting');
  });
});
