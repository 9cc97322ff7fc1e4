/** What a take sheet knows better than the kit and the plan, and what is written there: two texts in, the other one out. */
import { describe, expect, it } from 'vitest';
import { applyEdits } from '../../server/core/document/edits.ts';
import { parseDocument } from '../../server/core/document/parse.ts';
import { refactoringsAt } from '../../server/features/refactor/index.ts';
import { sheetChangesAt } from '../../server/features/sheet-says-more.ts';
import { split } from '../helpers/cursor.ts';
import { checkSheet, kits, sheet, spec, specPath } from '../helpers/workspace.ts';

const kitPath = 'kits/camera.kit.yaml';
const taken = 'takes:\n  box: { clip: C0012.MP4, judged: best }\n';
const plan =
  'shots:\n  box: { record: 12 s }\n  near: { record: 12 s, camera: { iso: 200 } } # the lid\n  lid: { record: 12 s }\n';

function kitAfter(marked: string): Record<string, string> {
  const { text, offset } = split(sheet(marked));
  const changes = sheetChangesAt(checkSheet(text, { plan }), { start: offset, end: offset });
  return Object.fromEntries(
    changes.map(({ title, files: [one] }) => [title, applyEdits(kits[one!.path!]!, one!.edits)!]),
  );
}

describe('a lamp that gives less than its kit says', () => {
  it('is corrected in the kit, where the meter was held to it', () => {
    expect(kitAfter(`${taken}measured:\n  box: { lamps: { key: 18‸90 lx } }\n`)).toEqual({
      [`Set \`panel\` in ${kitPath} to 0.7 of what it says: 1800 lx at 1 m`]: kits[kitPath]!.replace(
        'output: 2600 lx at 1 m',
        'output: 1800 lx at 1 m',
      ),
    });
  });

  it('is corrected by the mean of readings that agree, and by none where they do not', () => {
    const both = (second: string) => `${taken}measured:
  box: { lamps: { key: 18‸90 lx } }
  near: { lamps: { key: ${second} } }
`;
    expect(Object.keys(kitAfter(both('1700 lx')))).toEqual([
      `Set \`panel\` in ${kitPath} to 0.66 of what it says: 1700 lx at 1 m`,
    ]);
    expect(kitAfter(both('900 lx'))).toEqual({});
  });

  it('is said once for all its readings, and not where the reading is near what the kit makes', () => {
    const said = (blocks: string) =>
      checkSheet(blocks, { plan }).findings.filter(({ rule }) => rule === 'lamp-gives-otherwise');
    const two = said(`${taken}measured:\n  box: { lamps: { key: 1890 lx } }\n  near: { lamps: { key: 1800 lx } }\n`);
    expect(two.map(({ related }) => related.map(({ message }) => message))).toEqual([
      ['what the kit says', 'here too'],
    ]);
    expect(said(`${taken}measured:\n  box: { lamps: { key: 2600 lx } }\n`)).toEqual([]);
  });
});

function planAfter(marked: string): Record<string, string> {
  const { text, offset } = split(sheet(marked));
  const result = checkSheet(text, { plan });
  const whole = spec(plan);
  const file = (path: string) => (path === specPath ? parseDocument(whole) : undefined);
  const found = refactoringsAt({ result, offset, file }).filter(({ title }) => title.startsWith('Plan '));
  return Object.fromEntries(found.map(({ title, files: [one] }) => [title, applyEdits(whole, one!.edits)!]));
}

describe('what a take was made with', () => {
  it('is taken over into the plan of its shot, and other shots stay', () => {
    expect(planAfter('takes:\n  box: { clip: C1.MP4, judged: best, camera: { i‸so: 500 } }\n')).toEqual({
      [`Plan \`iso: 500\` for \`box\` in ${specPath}`]: spec(plan).replace(
        'box: { record: 12 s }',
        'box: { record: 12 s, camera: { iso: 500 } }',
      ),
    });
  });

  it('takes the place of what the shot says itself', () => {
    expect(planAfter('takes:\n  near: { clip: C1.MP4, judged: good, camera: { i‸so: 320, aperture: f/8 } }\n')).toEqual(
      {
        [`Plan \`iso: 320\` for \`near\` in ${specPath}`]: spec(plan).replace('iso: 200', 'iso: 320'),
      },
    );
  });

  it('is not offered of a bad take, nor where it is as planned', () => {
    expect(planAfter('takes:\n  box: { clip: C1.MP4, judged: bad, camera: { i‸so: 500 } }\n')).toEqual({});
    expect(planAfter('takes:\n  box: { clip: C1.MP4, judged: best, camera: { i‸so: 400 } }\n')).toEqual({});
  });
});
