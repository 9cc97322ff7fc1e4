/** Writing the same otherwise: a file with the cursor in, the files as they are afterwards out. Every comment must be there still. */
import { describe, expect, test } from 'vitest';
import { applyEdits } from '../../server/core/document/edits.ts';
import { parseDocument } from '../../server/core/document/parse.ts';
import { kindOf } from '../../server/core/paths.ts';
import { refactoringsAt } from '../../server/features/refactor/index.ts';
import { split } from '../helpers/cursor.ts';
import { checkerFor, kits, spec } from '../helpers/workspace.ts';

const path = 'film.shoot.yaml';

/** What is offered at the cursor, by title, with the texts of the files that it changes. */
function offered(
  marked: string,
  files: Readonly<Record<string, string>> = {},
  at = path,
): Map<string, Record<string, string>> {
  const { text, offset } = split(marked);
  const all: Record<string, string> = { ...kits, ...files, [at]: text };
  const checker = checkerFor(all);
  const file = (one: string) => (one in all ? parseDocument(all[one]!) : undefined);
  const found = refactoringsAt({ result: checker.checkAs(kindOf(at)!, text), offset, file });
  return new Map(
    found.map(({ title, files: made }) => {
      const after = made.map(({ path: other = at, edits }) => [other, applyEdits(all[other]!, edits)!] as const);
      for (const [name, now] of after) {
        expect(commentsOf(now)).toEqual(expect.arrayContaining(commentsOf(all[name]!)));
        expect(parseDocument(now).problems).toEqual([]);
      }
      return [title, Object.fromEntries(after)];
    }),
  );
}

function commentsOf(text: string): string[] {
  return parseDocument(text).comments.map((one) => one.text);
}

/** The text of the file after the one refactoring whose title starts so. */
function after(marked: string, title: string, at = path): string {
  const all = offered(marked, {}, at);
  const [found] = [...all].filter(([one]) => one.startsWith(title));
  expect([...all.keys()].join('\n')).toContain(title);
  return found![1][at]!;
}

/** What the checker makes of it, without places. */
function saysOf(text: string): string[] {
  return checkerFor()
    .checkAs('shoot', text)
    .findings.map((one) => one.message)
    .sort();
}

/** A block of a text, from its key to the next one at the same depth. */
function block(text: string, key: string): string {
  return new RegExp(`^${key}:.*\\n(?:(?: .*)?\\n)*`, 'm').exec(text)![0];
}

describe('a setting that shots repeat moves up', () => {
  const camera = block(spec(''), 'camera').replace('  iso: 400\n', '');
  const repeated = `${camera}shots:
  box:
    record: 12 s
    camera:
      iso: 3‸20 # measured on Tuesday
      aperture: f/7.1
  lid: # from above
    record: 12 s
    camera: { iso: 320, aperture: f/9 } # stays closer
  crank:
    record: 12 s
    camera:
      iso: 320
cut:
  - { shot: box, length: 4 s }
  - { shot: lid, length: 3 s }
  - { shot: crank, length: 3 s }
`;

  test('all places that say it, and none of their comments', () => {
    const now = after(spec(repeated), 'Move `iso: 320` up to `camera` (3 places say it)');
    expect(block(now, 'camera')).toBe(`${camera}  iso: 320\n`);
    expect(block(now, 'shots')).toBe(`shots:
  box:
    record: 12 s
    camera:
      # measured on Tuesday
      aperture: f/7.1
  lid: # from above
    record: 12 s
    camera: { aperture: f/9 } # stays closer
  crank:
    record: 12 s
`);
    expect(saysOf(now)).toEqual(saysOf(split(spec(repeated)).text));
  });

  test('others that say something else keep it', () => {
    const one = repeated.replace('camera: { iso: 320, aperture: f/9 }', 'camera: { iso: 250, aperture: f/7.1 }');
    const now = after(spec(one), 'Move `iso: 320` up to `camera` (2 places say it)');
    expect(now).toContain('camera: { iso: 250, aperture: f/7.1 } # stays closer');
    expect(saysOf(now)).toEqual(saysOf(split(spec(one)).text));
  });

  test('not where another shot would get it that has none', () => {
    const bare = repeated.replace('      iso: 320\ncut', '      aperture: f/8\ncut');
    expect([...offered(spec(bare)).keys()].filter((title) => title.startsWith('Move'))).toEqual([]);
  });

  test('not where most shots say something else', () => {
    const own = (iso: string, count: number) => `  s${count}: { record: 12 s, camera: { iso: ${iso} } }\n`;
    const few = ['3‸20', '320', '250', '250', '250'].map(own).join('');
    expect([...offered(spec(`${camera}shots:\n${few}`)).keys()].filter((title) => title.startsWith('Move'))).toEqual(
      [],
    );
  });

  test('a set-up that says otherwise keeps its shots as they are', () => {
    const set = spec(`${camera}set-ups:
  front: { camera: { iso: 500 } }
shots:
  box: { record: 12 s, camera: { iso: 3‸20 } }
  lid: { record: 12 s, camera: { iso: 320 } }
  crank: { record: 12 s, set-up: front, camera: { iso: 320 } }
  comb: { record: 12 s, set-up: front }
`);
    const now = after(set, 'Move `iso: 320` up to `camera` (2 places say it)');
    expect(now).toContain('crank: { record: 12 s, set-up: front, camera: { iso: 320 } }');
    expect(saysOf(now)).toEqual(saysOf(split(set).text));
  });

  test('what is fixed or accepted on its line stays there', () => {
    const pinned = repeated.replace('      iso: 320\ncut', '      iso: 320 # fixed\ncut');
    const now = after(spec(pinned), 'Move `iso: 320` up to `camera` (2 places say it)');
    expect(now).toContain('      iso: 320 # fixed\n');
  });

  test('a block that keeps a comment stays as {}', () => {
    const noted = repeated.replace(
      '      iso: 320\ncut',
      '      # borrowed body\n      iso: 320 # as on the day before\ncut',
    );
    const now = after(spec(noted), 'Move `iso: 320` up to `camera` (3 places say it)');
    expect(now).toContain('    camera: {}\n      # borrowed body\n      # as on the day before\ncut');
  });
});

describe("a lamp's place gets a lamp of its own", () => {
  const lamps = `lamps:
  key: { use: pan‸el, temperature: 5000 K, level: 40 %, distance: 60 cm, angle: 45°, height: 40 cm } # by the window
  fill: { use: panel, temperature: 5000 K, level: 20 %, distance: 70 cm, angle: 310°, height: 30 cm }
`;

  test('as a copy in the kit, one fewer of the old ones, and what fits the one fits the other', () => {
    const title = 'Give `key` a lamp of its own in `kits/camera.kit.yaml`: `key`, a copy of `panel`';
    const made = offered(spec(lamps)).get(title)!;
    expect(made[path]).toContain('  key: { use: key, temperature: 5000 K');
    const kit = made['kits/camera.kit.yaml']!;
    expect(kit).toContain('  panel: { count: 1, output: 2600 lx at 1 m,');
    expect(kit).toMatch(
      /panel: .*\n  key: \{ output: 2600 lx at 1 m, temperature: 2800 K to 6500 K, .* weight: 1\.6 kg \}\n  tube:/,
    );
    expect(kit).toContain('diffuser: { fits: [panel, tube, key], loses: 1 stop');
    const [before, now] = [split(spec(lamps)).text, made[path]!];
    const says = checkerFor({ 'kits/camera.kit.yaml': kit })
      .checkAs('shoot', now)
      .findings.map((one) => one.message)
      .sort();
    expect(says).toEqual(saysOf(before));
  });

  test('a block over several lines keeps its comments in both', () => {
    const kit = `title: Two tubes
format: 1
lamps:
  tube: # bought together
    count: 2
    output: 320 lx at 1 m # as the maker says
    draw: 12 W

  panel: { output: 1400 lx at 1 m } # old
`;
    const own = spec('kit: own.kit.yaml\nlamps:\n  rim: { use: tu‸be, distance: 60 cm, angle: 200° }\n');
    const made = offered(own, { 'own.kit.yaml': kit });
    const [only] = [...made].filter(([title]) => title.startsWith('Give'));
    expect(only![1]['own.kit.yaml']).toBe(`title: Two tubes
format: 1
lamps:
  tube: # bought together
    count: 1
    output: 320 lx at 1 m # as the maker says
    draw: 12 W
  rim: # bought together
    output: 320 lx at 1 m # as the maker says
    draw: 12 W

  panel: { output: 1400 lx at 1 m } # old
`);
  });

  test('nothing is offered for a lamp that is nobody else’s name', () => {
    const own = spec(
      'lamps:\n  pa‸nel: { temperature: 5000 K, level: 40 %, distance: 60 cm, angle: 45°, height: 40 cm }\n',
    );
    expect([...offered(own).keys()].filter((title) => title.startsWith('Give'))).toEqual([]);
  });
});

describe('units', () => {
  const titles = (marked: string) => [...offered(marked).keys()].filter((title) => title.startsWith('Write as'));
  const camera = (line: string) =>
    spec(
      block(spec(''), 'camera')
        .replace(/ {2}distance.*\n/, '')
        .replace(/ {2}shutter.*\n/, '') + line,
    );

  test('lengths, both ends of a change, and sizes', () => {
    // 23.62 in is nothing that anybody wants.
    expect(titles(camera('  distance: 6‸0 cm # by tape\n  shutter: 1/50 s\n'))).toEqual(['Write as `600 mm`']);
    expect(titles(camera('  distance: 60 cm to 4‸5 cm\n  shutter: 1/50 s\n'))).toContain('Write as `600 mm to 450 mm`');
    expect(titles(spec('product: { size: 9 x 6 x ‸7 cm, finish: satin }\n'))).toContain('Write as `90 x 60 x 70 mm`');
    expect(titles(spec('product: { size: 3 x 2 x ‸2.5 in, finish: satin }\n'))).toContain(
      'Write as `76.2 x 50.8 x 63.5 mm`',
    );
  });

  test('the comment at the end of the line stays', () => {
    expect(after(camera('  distance: 6‸0 cm # by tape\n  shutter: 1/50 s\n'), 'Write as `600 mm`')).toContain(
      '  distance: 600 mm # by tape\n',
    );
  });

  test('a shutter as an angle and back, at the one rate of its shots', () => {
    expect(titles(camera('  distance: 60 cm\n  shutter: 1/5‸0 s\n'))).toEqual(['Write as `180°`']);
    expect(titles(camera('  distance: 60 cm\n  shutter: 17‸2.8°\n'))).toEqual(['Write as `1/52.08 s`']);
    const two = `${camera('  distance: 60 cm\n  shutter: 1/5‸0 s\n').replace(/^shots:.*\n.*\n/m, '')}`;
    const rates = `${two}shots:\n  box: { record: 12 s }\n  lid: { record: 12 s, camera: { rate: 50 } }\n`;
    expect(titles(rates)).toEqual([]);
  });

  test('film time in seconds, frames and beats where it comes out even', () => {
    const cut = (length: string) =>
      spec(`music: { track: tune, tempo: 100 bpm, length: 30 s }\ncut:\n  - { shot: box, length: ${length} }\n`);
    expect(titles(cut('1‸2 s'))).toEqual(['Write as `300 frames`', 'Write as `20 beats`']);
    expect(titles(cut('1‸ beat'))).toEqual(['Write as `0.6 s`', 'Write as `15 frames`']);
    expect(titles(cut('7 f‸rames'))).toEqual(['Write as `0.28 s`']);
    expect(titles(cut('1‸0 s'))).toContain('Write as `250 frames`');
    expect(titles(spec('cut:\n  - { shot: box, length: 10‸ s }\n'))).toEqual(['Write as `250 frames`']);
  });

  test('levels and other numbers are left alone', () => {
    expect(titles(spec('lamps:\n  key: { use: panel, level: 4‸0 %, distance: 60 cm, angle: 45° }\n'))).toEqual([]);
    expect(titles(camera('  distance: 60 cm\n  shutter: aut‸o\n'))).toEqual([]);
  });
});

describe('order of work', () => {
  const moving = (order: string, schedule: string) =>
    spec(`set-ups:
  front: { build: 30 min }
  overhead: { build: 30 min, camera: { support: top-arm, way-up: upside-down, height: 70 cm } }
  side: { build: 30 min, camera: { distance: 62 cm } }
${order}
schedule:
  - { day: 2026-12-02, hours: 09:00 to 18:00${schedule} }
`);
  const shots = `shots:
  # the first look
  reveal:
    set-up: front
    record: 8 s # twice if the sun comes

  # needs the arm
  # and a cloth under it
  top:
    set-up: overhead
    record: 8 s
      # the cloth is in the blue box

  left: { set-up: side, record: 8 s } # quick
cut:
  - { shot: reveal, length: 4 s }
`;

  test('the set-ups of a day, with the time that it saves', () => {
    const marked = moving(shots, ', order: [fro‸nt, overhead, side] # as agreed\n').replace(
      ' # as agreed\n }',
      ' } # as agreed',
    );
    const now = after(marked, 'Work in the order');
    expect(now).toMatch(
      /order: \[(front, side, overhead|side, front, overhead|overhead, front, side|overhead, side, front)\]/,
    );
    expect(now).toContain('# as agreed');
  });

  test('the shots as they are filmed, each with its comments', () => {
    const marked = moving(shots.replace('  top:', '  t‸op:'), ', order: [overhead, front, side]');
    const now = after(marked, 'Write the shots in the order of work: `top`, `reveal` and `left`');
    expect(block(now, 'shots')).toBe(`shots:
  # needs the arm
  # and a cloth under it
  top:
    set-up: overhead
    record: 8 s
      # the cloth is in the blue box

  # the first look
  reveal:
    set-up: front
    record: 8 s # twice if the sun comes

  left: { set-up: side, record: 8 s } # quick
`);
    expect(saysOf(now)).toEqual(saysOf(split(marked).text));
  });

  test('nothing where they are in that order already', () => {
    const marked = moving(shots.replace('  top:', '  t‸op:'), ', order: [front, overhead, side]');
    expect([...offered(marked).keys()].filter((title) => title.startsWith('Write the shots'))).toEqual([]);
  });
});

describe('line ends', () => {
  test('stay as they are in the file', () => {
    const text = spec(`camera: { lens: normal, distance: 60 cm }
shots:
  box:
    record: 12 s
    camera:
      iso: 3‸20
      aperture: f/8
  lid: { record: 12 s, camera: { iso: 320 } }
`).replaceAll('\n', '\r\n');
    const now = after(text, 'Move `iso: 320` up to `camera`');
    expect(now.replaceAll('\r\n', '')).not.toContain('\n');
    expect(now).toContain('camera: { lens: normal, distance: 60 cm, iso: 320 }\r\n');
  });
});
