import { deliverablesOf, type RightUse, rightUses, usesByName } from '../../core/derived/rights.ts';
import type { Film, Right } from '../../core/film.ts';
import { type Context, defineRule, type Limit } from '../../core/rule.ts';
import { quoted } from '../../core/say.ts';
import {
  atPapers,
  faultExcess,
  missingTogether,
  namePaper,
  norSaid,
  nearRight,
  noRightExcess,
  paperFault,
  shownText,
} from './rights-text.ts';
import { addLicensed, addOwn, sayOwn } from './write-right.ts';

const closing = 'For a child, whoever has custody signs. Local law decides; this is not legal advice.';

const messages = {
  none: '{name} can be recognised in {where}, and there is no right of that name with `kind: release`.{near} For yourself `owner: own` is enough. {closing}',
  otherKind:
    '{name} can be recognised in {where}, but the right of that name is about {kind}, not a release. {closing}',
  unnamed: '{name}: the release names no paper in `proof`; it is {met} in {where}. {way}{nor} {closing}',
  badPath: '{name}: the path of the release {fault}, so nobody can look it up.{nor} {closing}',
  noFile: '{name}: there is no file {proof} in this folder, so nothing shows the release for {where}.{nor} {closing}',
  noneThere:
    'None of the releases that are named in {folder} is there: those of {names}, who are {met} in {where}. Put them there, or name them where they are. {closing}',
  noFileOfAll:
    '{names}: there is no file {proof} in this folder, so nothing shows the release of all of them for {where}. {closing}',
  draft:
    '{name}: {proof} is a draft that nobody has signed, so nothing shows the release for {where}. Name the signed one, once you have it.{nor} {closing}',
} as const;

export default defineRule({
  id: 'release-missing',
  family: 'rights',
  summary: 'Somebody could be recognised in the film, and there is no release from them.',
  severity: 'error',
  sources: ['common practice, no source; local law decides'],
  messages,
  film(film, context) {
    const { report } = context;
    const people = seen(film);
    const released = [...people.keys()].flatMap((name) => film.rights.get(name) ?? []).filter(isRelease);
    const together = missingTogether(released, film);
    for (const { rights, message, data } of together) {
      const uses = rights.flatMap(({ name }) => people.get(name)!);
      const where = shownText(deliverablesOf(uses));
      report({ message, data: { ...data, met: metText(uses), where, closing }, ...atPapers(rights, film) });
    }
    const said = new Set(together.flatMap(({ rights }) => rights));
    for (const [name, uses] of people) {
      const data = { name: quoted(name), met: metText(uses), where: shownText(deliverablesOf(uses)), closing };
      const right = film.rights.get(name);
      const at = uses[0]!.at;
      if (!right) {
        report({
          message: 'none',
          data: { ...data, near: nearRight(name, film) },
          at,
          excess: noRightExcess,
          fixes: () => [...addOwn(name, 'release', film), ...addLicensed(name, 'release', film)],
        });
      } else if (right.kind && !isRelease(right)) {
        // Somebody's mark or artwork of the same name has a paper of its own kind.
        const kind = quoted(right.kind.value);
        report({ message: 'otherKind', data: { ...data, kind }, at: right.kind, excess: noRightExcess });
      } else if (!said.has(right)) {
        checkPaper(right, data, film, context);
      }
    }
  },
});

function isRelease({ kind }: Right): boolean {
  return !kind || kind.value === 'release';
}

function checkPaper(
  right: Right,
  about: { name: string; met: string; where: string; closing: string },
  film: Film,
  { report }: Context<typeof messages, Record<string, Limit>>,
): void {
  const fault = paperFault(right, film);
  const excess = faultExcess;
  if (!fault) return;
  const data = { ...about, nor: norSaid(right) };
  if (fault.kind === 'unnamed') {
    const way = right.fields.said('owner') ? 'Name it there.' : 'Name it there, or say `owner: own` if it is you.';
    const fixes = () => [...namePaper(right, film), ...sayOwn(right)];
    report({ message: 'unnamed', data: { ...data, way }, at: right, excess, fixes });
    return;
  }
  const named = { at: right.proof!, excess, fixes: () => namePaper(right, film) };
  if (fault.kind === 'badPath') report({ message: 'badPath', data: { ...data, fault: fault.fault }, ...named });
  else report({ message: fault.kind, data: { ...data, proof: quoted(right.proof!.text) }, ...named });
}

/** A voice is heard. */
function metText(uses: readonly RightUse[]): string {
  const [isHeard, isSeen] = [true, false].map((heard) =>
    uses.some(({ as }) => (as === 'sound' || as === 'music') === heard),
  );
  return [...(isSeen ? ['seen'] : []), ...(isHeard ? ['heard'] : [])].join(' or ');
}

/** Uses of people, and of everything else that has a release, under each name. */
function seen(film: Film): Map<string, RightUse[]> {
  const names = new Set(rightUses(film).flatMap((use) => (use.as === 'person' ? [use.name] : [])));
  const isReleased = (name = '') => film.rights.get(name)?.kind?.value === 'release';
  return usesByName(rightUses(film).filter(({ name }) => names.has(name) || isReleased(name)));
}
