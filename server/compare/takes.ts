/** What changed on a take sheet: takes that came, went, were judged or moved to another shot; what was measured and exported. */
import type { CheckResult } from '../core/checker.ts';
import type { Fields } from '../core/resolve/fields.ts';
import { align } from './align.ts';
import { asText, cameOrWent, changed } from './changes.ts';
import type { PlanChange } from './comparison.ts';
import { changesBetween, fact, type Facts, factsOf, topOf } from './facts.ts';

export function sheetChanges(before: CheckResult, after: CheckResult): PlanChange[] {
  const [was, is] = [topOf(before.doc.root), topOf(after.doc.root)];
  return [
    ...blockChange('sheet', was, is, [], ['takes', 'measured', 'masters']),
    ...takeChanges(takesOf(was), takesOf(is)),
    ...blockChange('measured', was.block('measured'), is.block('measured'), ['measured']),
    ...blockChange('masters', was.block('masters'), is.block('masters'), ['masters']),
  ];
}

function blockChange(
  kind: string,
  was: Fields,
  is: Fields,
  at: readonly string[],
  without: readonly string[] = [],
): PlanChange[] {
  const facts = (fields: Fields) => factsOf(fields, 'takes', at, without);
  return changed(kind, [], changesBetween(facts(was), facts(is)), []);
}

interface Taken {
  readonly shot: string;
  readonly clip: string;
  /** All that is said of it but its shot. */
  readonly facts: Facts;
}

function takesOf(top: Fields): Taken[] {
  const takes = top.block('takes');
  return top.named('takes').flatMap(({ name: shot }) =>
    takes.items(shot).map((fields) => {
      const facts = factsOf(fields, 'takes', ['takes', shot, 0]);
      return { shot, clip: facts.get('clip')?.raw ?? '', facts };
    }),
  );
}

function takeChanges(before: readonly Taken[], after: readonly Taken[]): PlanChange[] {
  // A take is its clip, or its part of one, wherever it stands.
  const keys = [
    (one: Taken) => JSON.stringify([one.shot, asText(one.facts)]),
    (one: Taken) => JSON.stringify([one.shot, one.clip, part(one)]),
    (one: Taken) => JSON.stringify([one.clip, part(one)]),
    (one: Taken) => JSON.stringify([one.shot, one.clip]),
  ];
  return align(before, after, keys).flatMap(({ before: was, after: is }) => {
    if (!was || !is) return [cameOrWent('take', nameOf((is ?? was)!), was && rest(was), is && rest(is))];
    return changed('take', [nameOf(is)], changesBetween(withShot(was), withShot(is)), []);
  });
}

function part({ facts }: Taken): string {
  return facts.get('part')?.raw ?? '';
}

function nameOf(take: Taken): string {
  const { shot, clip } = take;
  return [clip, part(take) && `(${part(take)})`, `of ${shot}`].filter(Boolean).join(' ');
}

/** What its name does not say. */
function rest({ facts }: Taken): Facts {
  return new Map([...facts].filter(([name]) => name !== 'clip' && name !== 'part'));
}

function withShot({ shot, facts }: Taken): Facts {
  return new Map([...fact('shot', shot), ...facts]);
}
