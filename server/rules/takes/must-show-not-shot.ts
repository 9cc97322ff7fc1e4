import { isNewest, mustShowNotShot, shotsSoFar } from '../../core/derived/shooting.ts';
import { defineRule } from '../../core/rule.ts';
import { dateText, listText, quoted } from '../../core/say.ts';
import { isLastChance } from './last-chance.ts';

export default defineRule({
  id: 'must-show-not-shot',
  family: 'takes',
  summary: 'What the film must show is on no usable take, and the product is about to go back.',
  severity: 'error',
  sources: ['`must-show` and `returns` in the spec'],
  messages: {
    none: 'The film must show {name}, and {takes}. The product {goes} {returns}: film {shots} before it leaves.',
    gone: 'The film must show {name}, and {takes}. The product went back on {returns}: ask for it again, or ask the client what may be shown instead.',
  },
  sheet(sheet, { film, sheets, today, report }) {
    const { returns } = film.product;
    if (!returns || today === undefined || !isLastChance(film, today) || !isNewest(sheet, sheets)) return;
    const all = shotsSoFar(film, sheets);
    for (const { name, shots } of mustShowNotShot(film, sheets)) {
      const made = shots.reduce((sum, shot) => sum + (all.get(shot.name)?.takes.length ?? 0), 0);
      const isGone = today > returns.value;
      const said = film.brief?.mustShow.find((one) => one.value === name);
      report({
        message: isGone ? 'gone' : 'none',
        data: {
          name: quoted(name),
          takes:
            made === 0 ? 'it was never shot' : made === 1 ? 'its one take is bad' : `all ${made} takes of it are bad`,
          goes: today === returns.value ? 'goes back today,' : 'goes back on',
          returns: dateText(returns.value),
          shots: listText(
            shots.map((shot) => quoted(shot.name)),
            'or',
          ),
        },
        at: sheet.day ?? sheet.takesAt,
        related: said ? [{ ...place(said), message: 'must be shown' }] : [],
      });
    }
  },
});

function place({ start, end, file }: { start: number; end: number; file?: string }) {
  return { start, end, ...(file !== undefined && { file }) };
}
