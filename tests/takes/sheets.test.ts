/** Take sheets as people write them: what is read of them, and what is said. */
import { describe, expect, it } from 'vitest';
import { dateDays } from '../../server/core/units.ts';
import { hintsIn } from '../../server/features/hints.ts';
import { definitionsAt, linksOf, referencesAt } from '../../server/features/navigation.ts';
import { rename } from '../../server/features/rename.ts';
import { Repo } from '../helpers/cursor.ts';
import { checkerFor, checkSheet, sheet, sheetPath, spec, specPath } from '../helpers/workspace.ts';

const plan = `shots:
  box: { record: 12 s, takes: 2 }
  crank: { record: 12 s, takes: 4 }
cut:
  - { shot: box, length: 5 s }
  - { shot: crank, length: 5 s }
`;

function said(blocks: string, more: Parameters<typeof checkSheet>[1] = {}): string[] {
  return checkSheet(blocks, { plan, ...more }).findings.map(({ rule, message }) => `${rule}: ${message}`);
}

const onDay = (day: string) => ({ outside: { today: () => dateDays(day) } });

describe('a day with two cameras', () => {
  const blocks = `day: 2026-12-02
takes:
  box:
    - { clip: a/C0001.MP4, judged: bad, notes: The felt slipped. }
    - { clip: a/C0002.MP4, judged: best }
    - { clip: b/C0001.MP4, use: cam, judged: spare }
  crank: a/C0003.MP4
`;

  it('has one note of what is left', () => {
    expect(said(blocks)).toEqual(['still-to-be-shot: Still to be shot: `crank` (1 of 4 takes).']);
  });

  it('knows the file of each take, short or long', () => {
    const takes = checkSheet(blocks, { plan }).sheet!.sheet.takes;
    expect(takes.map(({ shotName, clips }) => `${shotName.value} ${clips[0]?.value}`)).toEqual([
      'box a/C0001.MP4',
      'box a/C0002.MP4',
      'box b/C0001.MP4',
      'crank a/C0003.MP4',
    ]);
  });
});

describe('a re-shoot whose clip numbers start again', () => {
  const first = sheet('day: 2026-12-02\nfolder: day-1\ntakes:\n  box: { clip: C0001.MP4, judged: best }\n');
  const files = { 'day-1.takes.yaml': first };
  const second = (judged: string) =>
    `day: 2026-12-09\nfolder: day-2\ntakes:\n  box: { clip: C0001.MP4, judged: ${judged} }\n  crank: { clip: C0002.MP4, judged: best }\n`;

  it('is silent where both days together have what the cut needs', () => {
    expect(said(second('good'), { files })).toEqual([]);
  });

  it('asks which best take is meant, and leads to the other sheet', () => {
    const { findings } = checkSheet(second('best'), { plan, files });
    expect(findings.map(({ rule }) => rule)).toEqual(['two-best-takes']);
    expect(findings[0]!.related).toMatchObject([{ file: 'day-1.takes.yaml' }]);
  });

  it('says what is left on the sheet of the newest day alone', () => {
    const newer = { 'day-3.takes.yaml': sheet('day: 2026-12-20\ntakes:\n  crank: C1.MP4\n') };
    expect(said('day: 2026-12-02\ntakes:\n  box: { clip: C0001.MP4, judged: best }\n', { files: newer })).toEqual([]);
  });
});

describe('one clip with four takes and sound apart', () => {
  const blocks = `takes:
  box: { clip: C1.MP4, judged: best }
  crank:
    - { clip: C2.MP4, part: 5 s to 18 s, judged: bad, sound: { file: S1.WAV, starts: -1.24 s } }
    - { clip: C2.MP4, part: 20 s to 33 s, judged: bad }
    - { clip: C2.MP4, part: 35 s to 48 s, action: 37 s, judged: best }
    - { clip: C2.MP4, part: 50 s to 62 s, judged: good }
`;

  it('is silent, and has the sound for all of them', () => {
    expect(said(blocks)).toEqual([]);
    const takes = checkSheet(blocks, { plan }).sheet!.sheet.takes.slice(1);
    expect(takes.map(({ sound }) => `${sound?.path?.value} ${sound?.starts?.value}`)).toEqual(
      takes.map(() => 'S1.WAV -1.24'),
    );
  });
});

describe('what depends on today', () => {
  const blocks = 'day: 2026-12-02\ntakes:\n  box: { clip: C1.MP4, judged: best }\n';

  it('is a note while the day goes on, and a warning when it is over', () => {
    const severity = (day: string) => checkSheet(blocks, { plan, ...onDay(day) }).findings.map((one) => one.severity);
    expect(severity('2026-12-02')).toEqual(['info']);
    expect(severity('2026-12-03')).toEqual(['warning']);
  });

  it('is an error for what must be shown from the day before the product goes back, and one cause speaks once', () => {
    const due = `${plan}brief: { must-show: lid }
product: { size: 9 x 6 x 7 cm, finish: satin, weight: 420 g, returns: 2026-12-05, parts: { lid: { size: 9 x 6 cm } } }
`.replace('crank: {', 'crank: { subject: lid,');
    const rules = (day: string) =>
      checkSheet(blocks, { plan: due, ...onDay(day) }).findings.map(({ rule, severity }) => `${rule} ${severity}`);
    expect(rules('2026-12-02')).toEqual(['still-to-be-shot info']);
    expect(rules('2026-12-04')).toEqual(['must-show-not-shot error']);
  });
});

describe('what was set otherwise', () => {
  const best = (more: string) => `takes:
  box: { clip: C1.MP4, judged: best${more} }
  crank: { clip: C2.MP4, judged: best }
`;

  it('is judged like the plan, on the line of the take', () => {
    const text = best(', camera: { iso: 3200 }');
    const [finding, ...more] = checkSheet(text, { plan }).findings;
    expect(more.map(({ rule }) => rule)).toEqual([]);
    expect(finding).toMatchObject({ rule: 'exposure-off', shots: ['box'], related: [{ file: specPath }] });
    expect(sheet(text).slice(finding!.start, finding!.end)).toBe('3200');
    expect(finding!.message).toContain('`C1.MP4` was taken with `iso 3200`, which is not as planned');
  });

  it('is nothing to speak of where it is as good as planned, or the take is bad', () => {
    expect(said(best(', camera: { iso: 500 }'))).toEqual([]);
    expect(said(best(', camera: { iso: 3200 }').replace('best', 'bad')).filter((one) => /exposure/.test(one))).toEqual(
      [],
    );
  });

  it('is found where the camera can’t do it', () => {
    expect(said(best(', camera: { shutter: 1/9 s }')).join('\n')).toContain('setting-not-in-kit');
  });
});

describe('what was measured', () => {
  const found = (measured: string) => {
    const files = { [sheetPath]: sheet(`takes:\n  box: C1.MP4\nmeasured:\n  box: ${measured}\n`) };
    return checkerFor(files)
      .check(specPath, spec(''))!
      .findings.map(({ rule, message }) => `${rule}: ${message}`);
  };

  it('takes the place of what is reckoned, and says so', () => {
    const [said, ...more] = found('{ light: 120 lx }');
    expect(said).toMatch(/^exposure-off: box: the light was measured and is 120 lx where .* too dark/);
    expect(more).toEqual([]);
    expect(found('{ temperature: 3200 K }').join()).toContain('the light, as measured, is 3200 K');
  });

  it('is silent where it is as planned', () => {
    const film = checkerFor().check(specPath, spec(''))!.film!;
    expect(film.shots.get('box')!.measured).toBeUndefined();
    expect(found('{ temperature: 5000 K }')).toEqual([]);
  });
});

describe('a sheet that is not where it should be', () => {
  it('says where its spec is looked for, and offers the one that is there', () => {
    const { findings } = checkSheet('spec: filn.shoot.yaml\ntakes:\n  box: C1.MP4\n');
    expect(findings).toMatchObject([{ rule: 'spec-not-found', fixes: [{ title: 'Write `film.shoot.yaml`' }] }]);
  });

  it.each(['../film.shoot.yaml', '/film.shoot.yaml', 'films/film.shoot.yaml', 'https://a.b/film.shoot.yaml'])(
    'names no spec elsewhere: %s',
    (path) => {
      expect(checkSheet(`spec: '${path}'\n`).findings.map(({ rule }) => rule)).toEqual(['spec-not-found']);
    },
  );
});

describe('in the editor', () => {
  const files = (marked: Record<string, string>) =>
    new Repo({ [specPath]: spec(plan), [sheetPath]: sheet('takes:\n  box: C1.MP4\n'), ...marked });

  it('a name on the sheet leads to the spec, and the spec’s to all its places', () => {
    const repo = files({ [sheetPath]: sheet('takes:\n  bo‸x: C1.MP4\n') });
    expect(repo.shown(definitionsAt(repo.here, repo.offset))).toEqual([
      'film.shoot.yaml: ⟦box⟧: { record: 12 s, takes: 2 }',
    ]);
    const there = files({ [specPath]: spec(plan.replace('box:', 'b‸ox:')) });
    expect(there.shown(referencesAt(there.here, there.offset, false))).toEqual([
      '- { shot: ⟦box⟧, length: 5 s }',
      'film.takes.yaml: ⟦box⟧: C1.MP4',
    ]);
  });

  it('a shot is renamed on its sheets too', () => {
    const repo = files({ [specPath]: spec(plan.replace('box:', 'b‸ox:')) });
    const changed = rename(repo.here, repo.offset, 'opening');
    expect(changed).toMatchObject([{ edits: [{}, {}] }, { path: sheetPath, edits: [{ text: 'opening' }] }]);
  });

  it('the name of the spec is a link', () => {
    const repo = files({ [sheetPath]: sheet('takes:\n  b‸ox: C1.MP4\n') });
    expect(linksOf(repo.here).map(({ path }) => path)).toEqual([specPath]);
  });

  it('the spec says beside each shot how many of its takes are good', () => {
    const text = sheet(
      'takes:\n  box: [{ clip: C1.MP4, judged: best }, { clip: C2.MP4, judged: bad }]\n  crank: C3.MP4\n',
    );
    const result = checkerFor({ [sheetPath]: text }).check(specPath, spec(plan))!;
    const hints = hintsIn(result, { start: 0, end: result.doc.text.length }, new Set(['takes']));
    expect(hints.map((hint) => hint.text)).toEqual(['1 good of 2', '1 taken, not seen yet']);
  });
});
