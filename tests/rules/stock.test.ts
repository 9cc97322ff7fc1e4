/** What takes use up, and what must be filmed before it is gone. */
import { describe, expect, test } from 'vitest';
import { dayPlans, betterOrders } from '../../server/core/derived/schedule.ts';
import { marked, mends, messages, titles } from '../helpers/findings.ts';
import { checkSpec, spec } from '../helpers/workspace.ts';

describe('takes-use-up-stock', () => {
  const rule = 'takes-use-up-stock';
  const plan = (units: string, shots: string) =>
    spec(`product: { size: 9 x 6 x 7 cm, finish: satin${units} }\nshots:\n${shots}`);
  const cracked = '  box: { record: 12 s, takes: 6, uses-up: 2 }\n';
  const poured = '  poured: { record: 12 s, takes: 3, uses-up: 1 }\n';

  test('counts all shots together', () => {
    const text = plan(', units: 14', cracked + poured);
    expect(messages(text, rule)).toEqual([
      '`box` (6 takes, 2 each) and `poured` (3 takes) use up 15 of the product, and there are 14. ' +
        'Plan fewer takes, or have 1 more.',
    ]);
    expect(marked(text, rule)).toEqual(['14']);
    expect(mends(text, rule)).toEqual(['Have 15', 'Film `box` 5 times', 'Film `poured` 2 times']);
  });

  test('leaves no shot with a single take', () => {
    expect(titles(plan(', units: 3', '  box: { record: 12 s, takes: 4, uses-up: 1 }\n'), rule)).toEqual([
      'Have 4',
      'Film `box` 3 times',
    ]);
    expect(titles(plan(', units: 1', '  box: { record: 12 s, takes: 2, uses-up: 1 }\n'), rule)).toEqual(['Have 2']);
  });

  test.each([
    ['nobody says how many there are', '', cracked + poured],
    ['nothing is used up', ', units: 1', '  box: { record: 12 s, takes: 6 }\n'],
  ])('is silent: %s', (_, units, shots) => expect(messages(plan(units, shots), rule)).toEqual([]));
});

describe('filmed-too-early', () => {
  const rule = 'filmed-too-early';
  const shots = `shots:
  whole: { record: 8 s, set-up: close }
  opened: { record: 12 s, set-up: table, after: whole }
`;
  const setUps = `set-ups:
  table: { build: 30 min }
  close: { build: 20 min, camera: { lens: macro, distance: 40 cm } }
`;
  const day = (date: string, order: string) => `  - { day: ${date}, hours: 09:00 to 15:00, order: [${order}] }\n`;
  const plan = (schedule: string) => spec(`${setUps}${shots}schedule:\n${schedule}`);

  test('within a day', () => {
    expect(messages(plan(day('2026-12-02', 'table, close')), rule)).toEqual([
      '`opened` is filmed with set-up `table`, earlier that day than `whole`, and must come after it: ' +
        'what `opened` changes is changed by then. Film `whole` first.',
    ]);
  });

  test('where no order of two set-ups does, one is built twice', () => {
    const again = `${setUps}${shots}  closed: { record: 8 s, set-up: close, after: opened }\nschedule:\n`;
    expect(messages(spec(again + day('2026-12-02', 'table, close')), rule)[0]).toContain(
      'No order of `table` and `close` does, since `closed` must come after `opened`: build one of them a second time',
    );
  });

  test('over several days', () => {
    const early = plan(day('2026-12-02', 'table') + day('2026-12-03', 'close'));
    expect(messages(early, rule)[0]).toContain('`opened` is filmed on 2026-12-02, an earlier day than `whole`');
    expect(messages(plan(day('2026-12-02', 'close') + day('2026-12-03', 'table')), rule)).toEqual([]);
  });

  test('where no order is said, shots and set-ups come in the order that `after` asks for', () => {
    const order = (blocks: string) =>
      dayPlans(
        checkSpec(spec(`${blocks}schedule:\n  - { day: 2026-12-02, hours: 09:00 to 15:00 }\n`)).film!,
      )[0]!.shots.map((shot) => shot.name);
    const [box, open, lid] = [
      '  box: { record: 12 s }\n',
      '  open: { record: 12 s, after: box }\n',
      '  lid: { record: 9 s }\n',
    ];
    expect(order(`shots:\n${open}${lid}${box}`)).toEqual(['box', 'open', 'lid']);
    expect(order(`shots:\n${lid}${box}${open}`)).toEqual(['lid', 'box', 'open']);
    expect(order(setUps + shots)).toEqual(['whole', 'opened']);
    expect(messages(plan('  - { day: 2026-12-02, hours: 09:00 to 15:00 }\n'), rule)).toEqual([]);
  });

  test('a circle is said in one place', () => {
    const circle = `shots:
  a: { record: 8 s, after: c }
  b: { record: 8 s, after: a }
  c: { record: 8 s, after: b }
schedule:
  - { day: 2026-12-02, hours: 09:00 to 15:00 }
`;
    expect(messages(spec(circle), rule)).toEqual([
      '`b` must come after `a`, and `a` in turn after `b`: one of them is first. Take one `after` of this circle out.',
    ]);
  });

  test('nothing is planned without a schedule, and a name must be that of a shot', () => {
    expect(messages(spec(setUps + shots), rule)).toEqual([]);
    expect(marked(spec(setUps + shots.replace('after: whole', 'after: wohle')), 'name-not-defined')).toContain('wohle');
  });

  test('two that wait for each other, and one for itself, are said', () => {
    const circle = shots.replace('set-up: close', 'set-up: close, after: opened');
    expect(messages(spec(`${setUps}${circle}schedule:\n${day('2026-12-02', 'table, close')}`), rule)).toHaveLength(1);
    const self = shots.replace('after: whole', 'after: opened');
    expect(messages(spec(setUps + self), rule)).toEqual([
      '`opened` must come after itself: name the shot that goes before it, or take `after` out.',
    ]);
  });

  test('no better order breaks it', () => {
    const text = spec(`set-ups:
  wide: { camera: { distance: 90 cm } }
  close: { camera: { lens: macro, distance: 40 cm } }
  wide-again: { camera: { distance: 91 cm } }
shots:
  a: { record: 8 s, set-up: wide }
  b: { record: 8 s, set-up: close }
  c: { record: 8 s, set-up: wide-again, after: b }
schedule:
  - { day: 2026-12-02, hours: 09:00 to 15:00, order: [wide, close, wide-again] }
`);
    const { film } = checkSpec(text);
    const better = betterOrders(film!).get(dayPlans(film!)[0]!);
    const names = better!.works.map((work) => work.name);
    expect(names.indexOf('close')).toBeLessThan(names.indexOf('wide-again'));
  });
});
