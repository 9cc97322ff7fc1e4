/** What is shot and what is missing, drawn from a plan and its take sheets. */
import { describe, expect, it } from 'vitest';
import { shownOf } from '../../server/features/pictures.ts';
import { PositionMap } from '../../server/features/position-map.ts';
import { draw } from '../../server/views/index.ts';
import { sheetText } from '../../server/views/sheet.ts';
import { elements, wordsOf } from '../helpers/drawing.ts';
import { checkerFor, sheet, sheetPath, spec, specPath } from '../helpers/workspace.ts';

const text = spec(`brief: { must-show: [lid, comb] }
product: { size: 9 x 6 x 7 cm, finish: satin, weight: 420 g, parts: { lid: { size: 9 x 6 cm }, comb: { size: 2 x 1 cm } } }
shots:
  box: { record: 12 s, takes: 3, subject: lid }
  teeth: { record: 12 s, takes: 2, subject: comb }
cut:
  - { shot: box, length: 6 s }
  - { shot: teeth, length: 4 s }
`);
const taken = `takes:
  box: [{ clip: C1.MP4, judged: bad }, { clip: C2.MP4, judged: best }, C3.MP4, { clip: C4.MP4, judged: spare }]
`;
const checked = (sheets: Readonly<Record<string, string>>) =>
  checkerFor({ [specPath]: text, ...sheets }).check(specPath, text)!;

describe('what is shot', () => {
  const result = checked({ [sheetPath]: sheet(taken) });
  const picture = draw('taken', result)!;

  it('says of every shot what is taken, planned, good and best', () => {
    expect(wordsOf(picture)).toEqual(
      expect.arrayContaining(['4 taken, 3 planned: 1 good, 1 not seen yet, best C2.MP4', 'nothing yet, 2 planned']),
    );
  });

  it('says of what must be shown where it is, or that it is not shot yet', () => {
    expect(picture.description).toContain('lid: in box. Must be shown, comb: not shot yet, planned in teeth.');
  });

  it('draws each take from its line on the sheet, and dashes those that are planned', () => {
    const clips = result.sheets![0]!.takes.map(({ clips }) => clips[0]!.start);
    const drawn = elements(picture.body).filter(({ attrs }) => attrs['data-file'] === sheetPath);
    expect(drawn.map(({ attrs }) => attrs['data-start'])).toEqual(clips);
    const dashed = JSON.stringify(picture.body).split('stroke-dasharray').length - 1;
    expect(dashed).toBe(2);
  });

  it('is on the printed sheet and among the pictures as soon as there is a take sheet', () => {
    const tabs = (of: typeof result) => shownOf(of, {}, new PositionMap(text, text))!.views.map(({ name }) => name);
    expect(tabs(result)).toContain('taken');
    expect(sheetText(result)).toContain('nothing yet, 2 planned');
    const without = checked({});
    expect(tabs(without)).not.toContain('taken');
    expect(sheetText(without)).not.toContain('What is shot');
    expect(wordsOf(draw('taken', without)!)).toContain('No take sheet of this spec is there yet.');
  });
});
