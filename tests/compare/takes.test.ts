/** Two versions of a take sheet: what was shot, judged, measured and exported in between. */
import { expect, it } from 'vitest';
import { aboutText, changeText } from '../../server/compare/change-text.ts';
import { compare } from '../../server/compare/compare.ts';
import { comparedMarkdown, comparedText } from '../../server/compare/output.ts';
import { checkSheet } from '../helpers/workspace.ts';

const plan = `shots:
  box: { record: 12 s, takes: 2 }
  crank: { record: 12 s, takes: 2 }
cut:
  - { shot: box, length: 5 s }
  - { shot: crank, length: 5 s }
`;

const compared = (before: string, after: string) => compare(checkSheet(before, { plan }), checkSheet(after, { plan }));

function changes(before: string, after: string): string[] {
  return compared(before, after).plan.map((change) => `${aboutText(change)}: ${changeText(change)}`);
}

const morning = `day: 2026-12-02
takes:
  box: { clip: C0012.MP4, judged: bad, notes: The felt slipped. }
  crank:
    - C0014.MP4
    - { clip: C0015.MP4, part: 5 s to 18 s }
    - { clip: C0015.MP4, part: 20 s to 33 s }
`;

it('says which takes came, were judged, and belong to another shot', () => {
  const evening = `day: 2026-12-02
takes:
  box:
    - { clip: C0012.MP4, judged: bad, notes: The felt slipped. }
    - { clip: C0013.MP4, judged: best, action: 3.2 s }
    - { clip: C0014.MP4, judged: spare }
  crank:
    - { clip: C0015.MP4, part: 20 s to 33 s, judged: best }
`;
  expect(changes(morning, evening)).toEqual([
    'take C0013.MP4 of box: new: judged best, action 3.2 s',
    'take C0014.MP4 of box: shot crank → box, judged spare',
    'take C0015.MP4 (5 s to 18 s) of crank: taken out',
    'take C0015.MP4 (20 s to 33 s) of crank: judged best',
  ]);
});

it('says nothing of a take that is written in another way', () => {
  const same = morning.replace('- C0014.MP4', '- { clip: C0014.MP4 }').replace('{ clip: C0012', '{  clip: C0012');
  expect(changes(morning, same)).toEqual([]);
});

it('says what was measured and exported', () => {
  const after = `${morning}measured:
  box: { light: 1140 lx, lamps: { key: 820 lx } }
masters:
  film: [film-1.mp4, film-2.mp4]
`;
  expect(changes(`${morning}masters:\n  film: film-1.mp4\n`, after)).toEqual([
    'measured: box light 1140 lx, box lamps key 820 lx',
    'masters: film film-1.mp4 → film-1.mp4, film-2.mp4',
  ]);
});

it('says what is found of it now, in text and on the page', () => {
  const after = morning.replace('judged: bad', 'judged: best');
  const file = { file: 'film.takes.yaml', what: 'changed' as const, comparison: compared(morning, after) };
  expect(comparedText([file])).toContain('take C0012.MP4 of box: judged bad → best');
  expect(comparedMarkdown([file])).toContain('- **take C0012.MP4 of box**: judged bad → best');
  expect(comparedMarkdown([file])).toContain('**Gone**');
});
