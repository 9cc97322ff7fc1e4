import { deliverablesOf, type RightUse, rightUses, usesByRight } from '../../core/derived/rights.ts';
import type { Film, Right } from '../../core/film.ts';
import { type Context, defineRule, type FixIdea, type Limit, set } from '../../core/rule.ts';
import { listText, quoted } from '../../core/say.ts';
import {
  atPapers,
  faultExcess,
  missingTogether,
  namePaper,
  nearRight,
  noRightExcess,
  norSaid,
  notAdvice,
  paperFault,
  shownText,
} from './rights-text.ts';
import { addLicensed, addOwn, sayOwn } from './write-right.ts';

const messages = {
  noTrack: 'The {what} names no `track`, so no paper covers it in {where}.{near} {closing}',
  noRight:
    '{name} needs a paper, as the brief says, and there is none under `rights`.{near} It is seen in {where}. {closing}',
  unnamed: '{name}: no paper is named in `proof`, and it is used in {where}. {way}{nor} {closing}',
  badPath: '{name}: the path of its paper {fault}, so nobody can look it up.{nor} {closing}',
  noFile:
    '{name}: there is no file {proof} in this folder, so nothing shows that it may be used in {where}.{nor} {closing}',
  noneThere:
    'None of the papers that are named in {folder} is there: those of {names}. So nothing shows that they may be used in {where}. Put them there, or name them where they are. {closing}',
  noFileOfAll:
    '{names}: there is no file {proof} in this folder, so nothing shows that they may be used in {where}. {closing}',
  draft:
    '{name}: {proof} is a draft that nobody has signed, so nothing shows that it may be used in {where}. Name the signed paper, once you have it.{nor} {closing}',
} as const;

type Ctx = Context<typeof messages, Record<string, Limit>>;

export default defineRule({
  id: 'licence-missing',
  family: 'rights',
  summary: 'Something that belongs to somebody is used, and no paper is named for it.',
  severity: 'error',
  sources: ['common practice, no source'],
  messages,
  film(film, context) {
    checkUnnamed(film, context);
    checkPapers(film, context);
  },
});

/** Music and sounds without a name, and what the brief wants papers for. */
function checkUnnamed(film: Film, { report }: Ctx): void {
  const needed = new Set(film.brief?.needsRights.map((val) => val.value));
  const said = new Set<string>();
  for (const use of rightUses(film)) {
    const where = shownText(use.deliverables);
    if (use.name === undefined) {
      if (saysTrack(use, film)) continue;
      const free = [...film.rights.values()].filter(
        ({ name, kind }) => kind?.value === use.as && !usesByRight(film).has(name),
      );
      const near =
        free.length > 0
          ? ` Is it ${listText(
              free.map(({ name }) => quoted(name)),
              'or',
            )}?`
          : '';
      report({
        message: 'noTrack',
        data: { what: use.as, where, near, closing: notAdvice },
        at: use.at,
        fixes: () => trackOf(use, film, free),
      });
    } else if (use.as === 'shown' && needed.has(use.name) && !film.rights.has(use.name) && !said.has(use.name)) {
      said.add(use.name);
      const all = usesByRight(film).get(use.name) ?? [];
      // People have a finding of their own.
      if (all.some((one) => one.as === 'person')) continue;
      const near = nearRight(use.name, film);
      const data = { name: quoted(use.name), near, where: shownText(deliverablesOf(all)), closing: notAdvice };
      report({
        message: 'noRight',
        data,
        at: use.at,
        excess: noRightExcess,
        fixes: () => [...addOwn(use.name!, 'mark', film), ...addLicensed(use.name!, 'mark', film)],
      });
    }
  }
}

/** A track that can't be read is reported as such. */
function saysTrack(use: RightUse, film: Film): boolean {
  return heardAt(use, film)?.fields.said('track') ?? false;
}

function heardAt({ at }: RightUse, { music, sounds }: Film) {
  return [music, ...sounds].find((one) => one === at);
}

function trackOf(use: RightUse, film: Film, rights: readonly Right[]): FixIdea[] {
  const block = heardAt(use, film);
  return block ? rights.map(({ name }) => set(`Name its track: ${quoted(name)}`, [block, 'track', name])) : [];
}

function checkPapers(film: Film, { report }: Ctx): void {
  const used = [...usesByRight(film)].flatMap(([name, uses]) => {
    const right = film.rights.get(name);
    return right && right.kind?.value !== 'release' ? [{ name, right, uses }] : [];
  });
  const together = missingTogether(
    used.map(({ right }) => right),
    film,
  );
  for (const { rights, message, data } of together) {
    const uses = used.filter(({ right }) => rights.includes(right)).flatMap((one) => one.uses);
    const where = shownText(deliverablesOf(uses));
    report({ message, data: { ...data, where, closing: notAdvice }, ...atPapers(rights, film) });
  }
  const said = new Set(together.flatMap(({ rights }) => rights));
  for (const { name, right, uses } of used) {
    const fault = said.has(right) ? undefined : paperFault(right, film);
    if (!fault) continue;
    const where = shownText(deliverablesOf(uses));
    const data = { name: quoted(name), where, nor: norSaid(right), closing: notAdvice };
    if (fault.kind === 'unnamed') {
      // The client's own mark on the client's product comes with the client's brief, unless that asks for a paper.
      const asked = film.brief?.needsRights.some((val) => val.value === name);
      if (right.kind?.value === 'mark' && film.brief?.client && !asked) continue;
      const way = right.fields.said('owner')
        ? 'Name it there.'
        : 'Name it there, or say `owner: own` for your own work.';
      report({
        message: 'unnamed',
        data: { ...data, way },
        at: right,
        excess: faultExcess,
        fixes: () => [...namePaper(right, film), ...sayOwn(right)],
      });
    } else if (fault.kind === 'badPath') {
      report({
        message: 'badPath',
        data: { ...data, fault: fault.fault },
        at: right.proof!,
        excess: faultExcess,
        fixes: () => namePaper(right, film),
      });
    } else {
      report({
        message: fault.kind,
        data: { ...data, proof: quoted(right.proof!.text) },
        at: right.proof!,
        excess: faultExcess,
        fixes: () => namePaper(right, film),
      });
    }
  }
}
