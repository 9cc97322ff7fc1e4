/** Settings that work, found: a spec with the cursor in a shot in, the spec with the settings in it out. */
import { describe, expect, test } from 'vitest';
import type { CheckResult } from '../../server/core/checker.ts';
import { applyEdits } from '../../server/core/document/edits.ts';
import { type Answer, needsSolving, shotAt, solve } from '../../server/features/solve/solve.ts';
import { split } from '../helpers/cursor.ts';
import { checkerFor, spec } from '../helpers/workspace.ts';

interface Solved {
  readonly answer: Answer | undefined;
  readonly checks: number;
  readonly needed: boolean;
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
  const needed = needsSolving(result, shot, means);
  const steps = solve(result, shot, means);
  let step = steps.next();
  while (!step.done) step = steps.next();
  const answer = step.value;
  if (answer?.kind !== 'settings') return { answer, checks, needed, text };
  const changed = applyEdits(text, answer.edits)!;
  return { answer, checks, needed, text: changed, after: checker.checkAs('shoot', changed, settings) };
}

/** The lines that differ, as they are after. */
function changed(marked: string, { text }: Solved): string[] {
  const before = new Set(split(marked).text.split('\n'));
  return text
    .split('\n')
    .filter((line) => !before.has(line))
    .map((line) => line.trim());
}

const serious = ({ after }: Solved) =>
  after?.findings.filter((one) => one.severity !== 'hint' && one.severity !== 'info');

const shots = (box: string, more = '') => spec(`${more}shots:\n  box:${box}\n`);

describe('settings that work', () => {
  test('nothing is offered for a shot in which nothing fails', () => {
    const { answer, needed } = solved(shots(' { record: 1‸2 s }'));
    expect(answer).toBeUndefined();
    expect(needed).toBe(false);
  });

  test('too much noise is given back where the lamps allow it, and the price is said', () => {
    const marked = shots(' { record: 12 s, camera: { iso: 3‸200 } }');
    const found = solved(marked);
    expect(found.needed).toBe(true);
    expect(found.answer?.title).toBe('Make `box` work: f/8, 1/50 s, ISO 500: 2.7 stops less noise');
    expect(changed(marked, found)).toEqual(['box: { record: 12 s, camera: { iso: 500 } }']);
    expect(serious(found)).toEqual([]);
  });

  test('a shallow zone is closed down until the subject is sharp, and the light pays', () => {
    const marked = shots(' { record: 12 s, camera: { aperture: f/2, iso: 200 } ‸}');
    const found = solved(marked);
    expect(found.answer?.title).toMatch(/^Make `box` work: f\/[\d.]+, 1\/50 s, ISO \d+.*: .*mm sharp instead of 29 mm/);
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
    expect(fixed.answer?.title).toContain('ISO 200');
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
    const { answer, text } = solved(shots(near));
    expect(answer?.kind).toBe('conflict');
    const { reason } = answer as Extract<Answer, { kind: 'conflict' }>;
    expect(reason).toMatch(/^One demand cannot be met with this kit\. With f\/2\.8, 1\/50 s, /);
    expect(reason).toContain('holds 19.94 cm to 20.06 cm sharp');
    expect(reason).toMatch(/Marked as fixed: `aperture` and `distance`\.$/);
    expect(text).toContain('f/2.8');
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
    const { reason } = answer as Extract<Answer, { kind: 'conflict' }>;
    expect(reason).toMatch(
      /^Two demands stand against each other\. With f\/[\d.]+, .*: .*too dark.* With f\/[\d.]+, .* sharp|^Two demands stand against each other\. With .* sharp.* With .*too dark/s,
    );
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
