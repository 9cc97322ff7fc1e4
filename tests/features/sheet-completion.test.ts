/** What is offered in a take sheet: what is still to be entered, before anything else. */
import { describe, expect, it } from 'vitest';
import { completions, labels, taken, told } from '../helpers/complete.ts';
import { footageOf } from '../helpers/footage.ts';
import { sheet, sheetPath, spec, specPath } from '../helpers/workspace.ts';

const plan = `schedule: [{ day: 2026-12-02, hours: "09:00 to 17:00", set-ups: [] }]
shots:
  box: { record: 12 s, takes: 2 }
  crank: { record: 12 s, takes: 4 }
  lid: { record: 12 s }
cut:
  - { shot: box, length: 4 s }
  - { shot: crank, length: 3 s }
  - { shot: lid, length: 3 s }
`;
const at = (clock: string) => ({ recordedAtMs: Date.parse(`2026-12-02T${clock}:00Z`), durationS: 13 });
const footage = footageOf({
  'day-1/C0012.MP4': at('10:00'),
  'day-1/C0013.MP4': at('10:05'),
  'day-1/C0011.MP4': at('10:09'),
  'day-1/C 14.MP4': 'growing',
  'day-1/S0001.WAV': { ...at('10:00'), video: null },
  'day-2/C0012.MP4': at('11:00'),
});
const situation = { path: sheetPath, files: { [specPath]: spec(plan) }, footage };
const offered = (blocks: string) => completions(sheet(blocks), situation);
const clips = (blocks: string) => labels(offered(blocks).filter(({ kind }) => kind === 'path'));

const onDay = 'folder: day-1\n';

describe('clips that are in no sheet yet', () => {
  const open = ['C0013.MP4', 'C0011.MP4', 'C 14.MP4'];

  it.each([
    ['under the name of a shot', '  crank:\n    ‸'],
    ['behind it', '  crank: ‸'],
    ['in a list', '  crank:\n    - ‸'],
    ['in brackets', '  crank: [‸]'],
    ['as the clip of a take', '  crank: { clip: ‸ }'],
    ['as the clip of a take in lines', '  crank:\n    - clip: ‸'],
    ['where the camera split a recording', '  crank: { clip: [C0009.MP4, ‸] }'],
  ])('are offered %s, in the order of their recording', (_, text) => {
    expect(clips(`${onDay}takes:\n  box: C0012.MP4\n${text}`)).toEqual(open);
  });

  it('have their length, raster, rate and time of day', () => {
    expect(told(offered(`${onDay}takes:\n  box: { clip: ‸ }`))).toContain(
      'C0012.MP4: 13 s · 3840x2160 · 25 fps · 10:00',
    );
  });

  it('are written in quotes only where they need them', () => {
    const text = sheet(`${onDay}takes:\n  box:\n    - ‸`);
    expect(taken(text, 'C0012.MP4', situation)).toBe(sheet(`${onDay}takes:\n  box:\n    - C0012.MP4`));
  });

  it('stand apart from files of sound and from folders', () => {
    expect(clips(`${onDay}takes:\n  box: { clip: C0012.MP4, sound: ‸ }`)).toContain('S0001.WAV');
    expect(clips(`${onDay}takes:\n  box: { clip: ‸ }`)).not.toContain('S0001.WAV');
    expect(told(offered('folder: ‸'))).toEqual(['day-1: 5 clips', 'day-2: 1 clip']);
  });

  it('are left out where nobody looks at clips, for an example', () => {
    const items = completions(sheet('takes:\n  box: { clip: ‸ }'), { ...situation, footage: undefined! });
    expect(labels(items)).toContain('C0013.MP4');
    expect(items.every(({ kind }) => kind === 'value')).toBe(true);
  });
});

describe('shots', () => {
  it('that have no good take come first, each with how far it is', () => {
    const blocks = 'takes:\n  box: { clip: C1.MP4, judged: best }\n  ‸\nmeasured: {}\n';
    expect(told(offered(blocks)).slice(0, 2)).toEqual([
      'crank: no take yet · record 12 s · takes 4',
      'lid: no take yet · record 12 s',
    ]);
  });
});

describe('whole blocks', () => {
  it('start a sheet of the spec beside it, on its first day', () => {
    expect(taken('‸', 'new sheet', situation)).toBe(`spec: ${specPath}\nday: 2026-12-02\ntakes:\n  box:\n    - ‸`);
  });

  it('are a take with the first clip that is left', () => {
    const text = sheet(`${onDay}takes:\n  box:\n    - C0012.MP4\n    - ‸`);
    expect(taken(text, 'new take', situation)).toContain('    - clip: C0013.MP4\n      judged: best‸');
  });
});
