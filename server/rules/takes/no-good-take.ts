import { isNewest, piecesWithout, type ShotSoFar, shotsOfCut, shotsSoFar } from '../../core/derived/shooting.ts';
import type { Val } from '../../core/film.ts';
import { defineRule } from '../../core/rule.ts';
import { listText, quoted } from '../../core/say.ts';
import type { Take } from '../../core/takes.ts';

export default defineRule({
  id: 'no-good-take',
  family: 'takes',
  summary: 'All takes of a shot were seen, and none of them is good.',
  severity: 'warning',
  sources: ['the cut in the spec, and what the sheet says of the takes'],
  messages: {
    bad: '{takes} of {shot} {are} bad, and the cut uses it. Film it again while the product is here.',
    spare:
      'The best that there is of {shot} is a spare take. If the film can live with it, call it `good`; else film it again.',
    piece:
      'No take of {shot} serves piece {piece} of the cut: all that are good are kept for others. Keep one for it, or say no `piece`.',
  },
  sheet(sheet, { film, sheets, report }) {
    if (!isNewest(sheet, sheets)) return;
    const all = shotsSoFar(film, sheets);
    for (const shot of shotsOfCut(film)) {
      const one = all.get(shot.name)!;
      if (one.takes.length === 0 || one.unseen > 0) continue;
      const data = { shot: quoted(shot.name) };
      const at = placeOf(one) ?? sheet.takesAt;
      if (one.good === 0 && one.spare > 0) report({ message: 'spare', severity: 'info', data, at, shot });
      else if (one.good === 0) {
        const count = one.takes.length;
        const takes = count === 1 ? 'The one take' : count === 2 ? 'Both takes' : `All ${count} takes`;
        report({ message: 'bad', data: { ...data, takes, are: count === 1 ? 'is' : 'are' }, at, shot });
      } else {
        const without = piecesWithout(shot, one.takes, isGood);
        if (without.length === 0) continue;
        const piece = listText(without.map((each) => String(shot.pieces.indexOf(each) + 1)));
        report({ message: 'piece', data: { ...data, piece }, at, shot });
      }
    }
  },
});

function isGood({ judged }: Take): boolean {
  return judged?.value === 'best' || judged?.value === 'good';
}

/** The name of the shot where it was filmed last. */
function placeOf({ takes }: ShotSoFar): Val<string> | undefined {
  return takes.findLast(({ sheet }) => sheet.file === undefined)?.shotName;
}
