/** Settings that work, found: a spec with the cursor in a shot in, the spec with the settings in it out. */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import type { CheckResult } from '../../server/core/checker.ts';
import { applyEdits } from '../../server/core/document/edits.ts';
import { failingDemands, type Answer, shotAt, solve } from '../../server/features/solve/solve.ts';
import { asSetByHand, priceText } from '../../server/features/solve/change.ts';
import { conflictPage, conflictText } from '../../server/features/solve/conflict.ts';
import { split } from '../helpers/cursor.ts';
import { checkerFor, spec } from '../helpers/workspace.ts';

interface Solved {
  readonly answer: Answer | undefined;
  readonly checks: number;
  /** How many demands fail before. */
  readonly failing: number;
  /** The text after its edits. */
  readonly text: string;
  readonly after?: CheckResult;
}

function solved(marked: string, files: Readonly<Record<string, string>> = {}): Solved {
  const { text, offset } = split(marked);
  const checker = checkerFor(files);
  const settings = checker.settings();
  const result = checker.checkAs('shoot', text, settings);
  const shot = shotAt(result, offset)!;
  let checks = 0;
  const recheck = (changed: string) => {
    checks++;
    return checker.checkAs('shoot', changed, settings);
  };
  const means = { rules: checker.rules, settings, recheck };
  const failing = failingDemands(result, shot, means);
  const steps = solve(result, shot, means);
  let step = steps.next();
  while (!step.done) step = steps.next();
  const answer = step.value;
  if (answer?.kind !== 'settings') return { answer, checks, failing, text };
  const changed = applyEdits(text, answer.edits)!;
  return { answer, checks, failing, text: changed, after: checker.checkAs('shoot', changed, settings) };
}

/** The lines that differ, as they are after. */
function changed(marked: string, { text }: Solved): string[] {
  const before = new Set(split(marked).text.split('\n'));
  return text
    .split('\n')
    .filter((line) => !before.has(line))
    .map((line) => line.trim());
}

const titleOf = ({ answer }: Solved) => (answer?.kind === 'settings' ? answer.title : undefined);

const serious = ({ after }: Solved) =>
  after?.findings.filter((one) => one.severity !== 'hint' && one.severity !== 'info');

const shots = (box: string, more = '') => spec(`${more}shots:\n  box:${box}\n`);

describe('settings that work', () => {
  test('nothing is offered for a shot in which nothing fails', () => {
    const { answer, failing } = solved(shots(' { record: 1‸2 s }'));
    expect(answer).toBeUndefined();
    expect(failing).toBe(0);
  });

  test('too much noise is given back where the lamps allow it, and the price is said', () => {
    const marked = shots(' { record: 12 s, camera: { iso: 3‸200 } }');
    const found = solved(marked);
    expect(found.failing).toBe(1);
    expect(titleOf(found)).toBe('Make `box` work: f/8, 1/50 s, ISO 500: 2.7 stops less noise');
    expect(changed(marked, found)).toEqual(['box: { record: 12 s, camera: { iso: 500 } }']);
    expect(serious(found)).toEqual([]);
  });

  test('a shallow zone is closed down until the subject is sharp, and the light pays', () => {
    const marked = shots(' { record: 12 s, camera: { aperture: f/2, iso: 200, distance: 45 cm } ‸}');
    const found = solved(marked);
    expect(titleOf(found)).toMatch(/^Make `box` work: f\/[\d.]+, 1\/50 s, ISO \d+.*: .*mm sharp instead of 16 mm/);
    expect(serious(found)).toEqual([]);
    expect(found.after!.findings.filter((one) => one.rule === 'depth-of-field-short')).toEqual([]);
  });

  test('settings that were left to the camera are found together', () => {
    const marked = shots(' { record: 12 s, camera: { shutter: auto, iso: auto, aperture: auto } ‸}');
    const found = solved(marked);
    expect(found.text).toContain('shutter: 1/50 s');
    expect(serious(found)).toEqual([]);
    expect(found.after!.findings.map((one) => one.rule)).not.toContain('setting-left-automatic');
  });

  test('a flickering, stuttering shutter is exchanged for a steady one near half a frame', () => {
    const turning = 'room: { light: 250 lx, source: mains-lamps, temperature: 5000 K }\n';
    const marked = shots(' { record: 12 s, turn: { speed: 1 rpm }, camera: { shutter: 1/60 s ‸} }', turning);
    const found = solved(marked);
    expect(found.text).toContain('shutter: 1/50 s');
    expect(serious(found)).toEqual([]);
  });
});

describe('what is fixed', () => {
  const dark = (iso: string) => `
    record: 12 s
    camera:
      iso: ${iso}
      aperture: f/1‸6
`;

  test('a value marked as fixed is kept, and something else pays', () => {
    const free = solved(shots(dark('200')));
    const fixed = solved(shots(dark('200 # fixed')));
    expect(fixed.text).toContain('iso: 200 # fixed');
    expect(fixed.answer?.kind).toBe('settings');
    expect(titleOf(fixed)).toContain('ISO 200');
    expect(serious(fixed)).toEqual([]);
    expect(free.answer?.kind).toBe('settings');
  });

  test('a mark may stand on the line before, and name the values that it means', () => {
    const marked = shots(`
    record: 12 s
    # fixed: aperture
    camera: { iso: 6400, aperture: f/11 } ‸
`);
    const found = solved(marked);
    expect(found.text).toContain('aperture: f/11');
    expect(found.text).not.toContain('iso: 6400');
    expect(serious(found)).toEqual([]);
  });

  test('a mark at the top of the file counts for all shots that take the value over', () => {
    const camera = spec('')
      .match(/^camera:\n(?: .*\n)+/m)![0]
      .replace('aperture: f/8', 'aperture: f/8 # fixed');
    const found = solved(spec(`${camera}shots:\n  box: { record: 12 s, camera: { iso: 10‸0 } }\n`));
    expect(found.text).toContain('aperture: f/8 # fixed');
    expect(found.text.match(/aperture/g)).toHaveLength(1);
    expect(serious(found)).toEqual([]);
  });

  test('what the shot says itself is kept before what it takes over', () => {
    const marked = shots(' { record: 12 s, camera: { shutter: 1/200 s ‸} }');
    const found = solved(marked);
    expect(found.text).toContain('shutter: 1/200 s');
    expect(serious(found)).toEqual([]);
  });

  test('other shots keep their findings and get no new ones', () => {
    const two = `shots:
  box: { record: 12 s, camera: { aperture: f/2, iso: 20‸0 } }
  lid: { record: 12 s }
cut:
  - { shot: box, length: 5 s }
  - { shot: lid, length: 5 s }
`;
    const found = solved(spec(two));
    expect(found.text).toContain('  lid: { record: 12 s }');
    expect(found.text).toContain('level: 40 %');
    expect(serious(found)).toEqual([]);
  });
  test('a lamp that another shot needs as it is does not pay', () => {
    const two = `lamps:
  key: { use: panel, temperature: 5000 K, level: 55 %, distance: 60 cm, angle: 45°, height: 40 cm }
shots:
  box: { record: 12 s, camera: { aperture: f/2‸ } }
  lid: { record: 12 s }
cut:
  - { shot: box, length: 5 s }
  - { shot: lid, length: 5 s }
`;
    const found = solved(spec(two));
    expect(found.answer?.kind).toBe('settings');
    expect(found.after!.findings.filter((one) => one.rule === 'exposure-off')).toEqual([]);
  });
});

describe('what cannot be had', () => {
  test('the demand and the fixed values are named where a single one cannot be met', () => {
    const near =
      ' { record: 12 s, camera: { lens: macro, distance: 20 cm, aperture: f/2.8, iso: 200 } ‸} # fixed: distance, aperture';
    const found = solved(shots(near));
    const { answer, text } = found;
    // What can be mended is; what can't is said to stay.
    expect(titleOf(found)).toMatch(/^Make `box` better: .*; `depth-of-field-short` and `product-outside-crop` stay$/);
    const reason = conflictText(answer!.conflict!);
    expect(reason).toMatch(/^One demand cannot be met with this kit\. With f\/2\.8, 1\/50 s, /);
    expect(reason).toContain('holds 19.94 cm to 20.06 cm sharp');
    expect(reason).toMatch(/Marked as fixed: `aperture` and `distance`\.$/);
    expect(text).toContain('f/2.8');
    expect(reason).toMatch(/ Tried were .*ISO \d+ to \d+.*`key` at \d+ % to 100 %/);
    expect(reason).not.toContain('the camera at');
  });

  test('the same as a page in Markdown, in which names stay names', () => {
    const conflict = {
      lead: 'Two <b>.',
      sides: ['With `key` at 3 %: [a](b) fails.'],
      range: 'Tried were f/2 to f/4.',
      fixed: '',
    };
    expect(conflictPage('No settings work for `box`', conflict)).toBe(
      '# No settings work for `box`\n\nTwo \\<b\\>.\n\n- With `key` at 3 %: \\[a\\](b) fails.\n\nTried were f/2 to f/4.\n',
    );
  });

  test('two demands that stand against each other are both told, each with its settings', () => {
    // Deep enough only at f/16 and beyond, and bright enough only far wider open: dim lamps, ISO fixed at its base.
    const marked = spec(`lamps:
  key: { use: tube, temperature: 5000 K, level: 100 %, distance: 45 cm, angle: 45°, height: 40 cm } # fixed
shots:
  box: { record: 12 s, camera: { lens: macro, distance: 60 cm, aperture: f/4, iso: 200, shutter: 1/50 s ‸} } # fixed: iso, distance, shutter
`);
    const { answer } = solved(marked);
    expect(answer?.kind).toBe('conflict');
    const reason = conflictText(answer!.conflict!);
    expect(reason).toMatch(
      /^Two demands stand against each other\. With f\/[\d.]+, .*: .*too dark.* With f\/[\d.]+, .* sharp|^Two demands stand against each other\. With .* sharp.* With .*too dark/s,
    );
  });
});

describe('a far way off', () => {
  test('a macro lens much too near is moved back several times as far where that meets all', () => {
    const marked = shots(' { record: 12 s, camera: { lens: macro, distance: 10 cm, aperture: f/8, iso: 400 } ‸}');
    const found = solved(marked);
    expect(titleOf(found)).toMatch(/^Make `box` work: /);
    expect(Number(/distance: (\d+) cm, aperture/.exec(found.text)![1])).toBeGreaterThan(40);
    expect(serious(found)).toEqual([]);
  });

  test('a camera straight above is never put at a distance that does not exist', () => {
    const above = ' { record: 12 s, camera: { distance: 60 cm, height: 62 cm, aperture: f/2 ‸} }';
    const found = solved(shots(above));
    expect(found.after?.findings.map((one) => one.rule) ?? []).not.toContain('height-beyond-distance');
  });
});

describe('a setting that nobody wrote', () => {
  const draft = readFileSync(new URL('../../sample-workspace/first-draft.shoot.yaml', import.meta.url), 'utf8');
  const kit = readFileSync(new URL('../../sample-workspace/kits/camera.kit.yaml', import.meta.url), 'utf8');

  test.each(['iso: 640', 'aperture: f/10', 'shutter: 1/50 s', 'distance: 60 cm', 'lens: normal'])(
    'is looked for like any other in the first draft without `%s`',
    (line) => {
      const marked = draft.replace(`  ${line}\n`, '').replace('    takes: 3\n', '    takes: 3‸\n');
      expect(marked).not.toContain(`  ${line}\n  `);
      const { answer } = solved(marked, { 'kits/camera.kit.yaml': kit });
      expect(answer).toBeDefined();
    },
  );

  test('is the lens’s own in a plan for a phone, which has one aperture', () => {
    const marked =
      spec(`camera: { camera: phone, lens: main, distance: 40 cm, raster: 3840x2160, rate: 25, focus: locked }
shots:
  box: { record: 1‸2 s }
`).replace('kits/camera.kit.yaml', 'kits/phone.kit.yaml');
    const found = solved(marked);
    expect(found.failing).toBeGreaterThan(0);
    expect(found.answer).toBeDefined();
  });
});

describe('bounds', () => {
  test('the same text gives the same answer, after few checks', () => {
    const marked = shots(' { record: 12 s, camera: { lens: macro, distance: 30 cm, aperture: f/2.8 } ‸}');
    const [one, two] = [solved(marked), solved(marked)];
    expect(one.answer).toEqual(two.answer);
    expect(one.checks).toBeLessThanOrEqual(40);
    expect(serious(one)).toEqual([]);
  });
});

describe('what a change is paid in', () => {
  const two = `shots:\n  box: { record: 12 s }\n  side: { record: 12 s }\n`;
  const film = checkerFor().checkAs(
    'shoot',
    spec(`${two}cut:\n  - { shot: box, length: 10 s, zoom: 1 to 1.4 }\n`),
  ).film!;
  const box = film.shots.get('box')!;

  test('a lamp is turned for every shot that it lights', () => {
    const levels = new Map([[box.lit.find(({ name }) => name === 'key')!, 0.5]]);
    expect(priceText(box, { levels }, film)).toBe('changes the light of `side` too');
  });

  test('the zoom in the cut is left as it is', () => {
    expect(priceText(box, { distanceMm: 700 }, film)).toMatch(/10 cm farther, the cut still zooms to 1\.4$/);
  });

  test('a camera set by hand is a hundredth of its distance off, with its focus, and a sixth of a stop', () => {
    const cameras = asSetByHand(box).map(({ camera: { distance, aperture } }) => [
      distance?.value.from,
      aperture?.value,
    ]);
    expect(cameras).toEqual([
      [606, 8],
      [594, 8],
      [600, expect.closeTo(8.48, 2)],
      [600, expect.closeTo(7.55, 2)],
    ]);
  });
});
