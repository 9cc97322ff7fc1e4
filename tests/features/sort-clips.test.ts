/** A sheet proposed from the clips that lie below the footage folder. */
import { describe, expect, it } from 'vitest';
import { applyEdits } from '../../server/core/document/edits.ts';
import { refactoringsAt } from '../../server/features/refactor/index.ts';
import { footageOf, type SaidClips } from '../helpers/footage.ts';
import { checkSheet, sheet } from '../helpers/workspace.ts';

const plan = `shots:
  lid-opens: { record: 12 s, takes: 2 }
  hand-turns: { record: 12 s, takes: 1 }
  teeth: { record: 12 s, takes: 2 }
cut:
  - { shot: lid-opens, length: 10 s }
`;

const at = (clock: string) => ({ recordedAtMs: Date.parse(`2026-12-02T${clock}:00Z`), durationS: 13 });

function sorted(blocks: string, clips: SaidClips, otherPlan = plan): string | undefined {
  const footage = footageOf(clips);
  const result = checkSheet(blocks, { plan: otherPlan, outside: { footage: () => footage } });
  const [found] = refactoringsAt({ result, offset: 0, file: () => undefined }).filter(
    ({ kind }) => kind === 'sortClips',
  );
  return found && applyEdits(sheet(blocks), found.files[0]!.edits);
}

describe('by name', () => {
  it('is that of a shot in the name of the file', () => {
    const clips = { 'Lid_Opens-2.mov': at('10:05'), 'lid-opens-1.mov': at('10:00'), 'teeth 4.mov': at('11:00') };
    expect(sorted('day: 2026-12-02\n', clips)).toBe(`spec: film.shoot.yaml
day: 2026-12-02
takes:
  lid-opens:
    - lid-opens-1.mov # 10:00, 13 s
    - Lid_Opens-2.mov # 10:05, 13 s
  teeth:
    - "teeth 4.mov" # 11:00, 13 s
`);
  });
});

describe('by time of recording', () => {
  const times = ['10:00', '10:02', '10:03', '10:40', '10:41'];
  const day = Object.fromEntries(times.map((clock, index) => [`C000${index}.MP4`, at(clock)]));

  it('gives every shot as many as are planned, where the numbers agree', () => {
    expect(sorted('takes:\n', day)).toBe(`spec: film.shoot.yaml
takes:
  lid-opens:
    - C0000.MP4 # 10:00, 13 s
    - C0001.MP4 # 10:02, 13 s
  hand-turns:
    - C0002.MP4 # 10:03, 13 s
  teeth:
    - C0003.MP4 # 10:40, 13 s
    - C0004.MP4 # 10:41, 13 s
`);
  });

  it('takes the longest pauses for changes of the set-up, where they do not', () => {
    const more = { ...day, 'C0005.MP4': at('12:00') };
    expect(sorted('takes:\n', more)).toContain('  teeth:\n    - C0005.MP4 # 12:00, 13 s\n');
  });

  it('leaves alone what a sheet names, and adds behind it', () => {
    const text = 'takes:\n  lid-opens: # two\n    - C0000.MP4\n    - C0001.MP4 # the felt slipped\n';
    expect(sorted(text, day)).toBe(`spec: film.shoot.yaml
${text}  hand-turns:
    - C0002.MP4 # 10:03, 13 s
  teeth:
    - C0003.MP4 # 10:40, 13 s
    - C0004.MP4 # 10:41, 13 s
`);
  });

  it('looks below the folder of the sheet alone', () => {
    const clips = { 'day-1/A.MP4': at('10:00'), 'day-2/A.MP4': at('10:00') };
    const one = 'shots: { box: { record: 12 s } }\n';
    const found = sorted('folder: day-2\n', clips, one);
    expect(found).toBe('spec: film.shoot.yaml\nfolder: day-2\ntakes:\n  box:\n    - A.MP4 # 10:00, 13 s\n');
  });
});

it.each([
  [
    'without clocks',
    'takes:\n',
    { 'A.MP4': { durationS: 13 }, 'B.MP4': { durationS: 13 }, 'C.MP4': { durationS: 13 } },
  ],
  ['with fewer clips than shots', 'takes:\n', { 'A.MP4': at('10:00') }],
  ['while clips are being read', 'takes:\n', { 'lid-opens.MP4': 'pending' as const }],
  ['where the takes stand in braces', 'takes: { box: A.MP4 }\n', { 'teeth.MP4': at('10:00') }],
])('proposes nothing %s', (_, text, clips) => expect(sorted(text, clips)).toBeUndefined());
