/** The shots of a spec in the order in which a take sheet needs them. */
import { isDone, shotsSoFar } from '../../core/derived/shooting.ts';
import type { SheetChecked } from '../../core/runner.ts';
import type { KnownName } from './known-names.ts';

/** Shots of the spec, those first that still need a take, each with how far it is. */
export function byNeed(names: readonly KnownName[], sheet: SheetChecked | undefined): KnownName[] {
  if (!sheet) return [...names];
  const all = shotsSoFar(sheet.film, sheet.sheets);
  const told = names.map((one) => {
    const soFar = all.get(one.name);
    const rank = !soFar || isDone(soFar) || soFar.shot.pieces.length === 0 ? 2 : soFar.good > 0 ? 1 : 0;
    const takes = soFar?.takes.length ?? 0;
    const far = !soFar || takes === 0 ? 'no take yet' : `${soFar.good} good of ${takes}`;
    return { rank, name: one.name, what: soFar ? `${far} · ${one.what}` : one.what };
  });
  return told.sort((a, b) => a.rank - b.rank).map(({ name, what }) => ({ name, what }));
}
