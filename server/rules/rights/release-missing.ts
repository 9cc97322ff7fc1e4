import { deliverablesOf, type RightUse, rightUses, usesByName } from '../../core/derived/rights.ts';
import type { Film } from '../../core/film.ts';
import { defineRule } from '../../core/rule.ts';
import { quoted } from '../../core/say.ts';
import { nearRight, paperFault, shownText } from './words.ts';

const closing = 'For a child, whoever has custody signs. Local law decides; this is not legal advice.';

export default defineRule({
  id: 'release-missing',
  family: 'rights',
  summary: 'Somebody could be recognised in the film, and there is no release from them.',
  severity: 'error',
  sources: ['common practice, no source; local law decides'],
  messages: {
    none: '{name} can be recognised in {where}, and there is no right of that name with `kind: release`.{near} {closing}',
    otherKind:
      '{name} can be recognised in {where}, but the right of that name is about {kind}, not a release. {closing}',
    unnamed: '{name}: the release names no paper in `proof`; it is seen in {where}. {closing}',
    badPath: '{name}: the path of the release {fault}, so nobody can look it up. {closing}',
    noFile: '{name}: there is no file {proof} in this folder, so nothing shows the release for {where}. {closing}',
  },
  film(film, { report }) {
    for (const [name, uses] of seen(film)) {
      const data = { name: quoted(name), where: shownText(deliverablesOf(uses)), closing };
      const right = film.rights.get(name);
      const at = uses[0]!.at;
      if (!right) {
        report({ message: 'none', data: { ...data, near: nearRight(name, film) }, at });
      } else if (right.kind && right.kind.value !== 'release') {
        // Somebody's mark or artwork of the same name has a paper of its own kind.
        report({ message: 'otherKind', data: { ...data, kind: quoted(right.kind.value) }, at: right.kind });
      } else {
        const fault = paperFault(right, film);
        if (fault?.kind === 'unnamed') report({ message: 'unnamed', data, at: right });
        else if (fault?.kind === 'badPath') {
          report({ message: 'badPath', data: { ...data, fault: fault.fault }, at: right.proof! });
        } else if (fault)
          report({ message: 'noFile', data: { ...data, proof: quoted(right.proof!.text) }, at: right.proof! });
      }
    }
  },
});

/** Uses of people, and of everything else that has a release, under each name. */
function seen(film: Film): Map<string, RightUse[]> {
  const names = new Set(rightUses(film).flatMap((use) => (use.as === 'person' ? [use.name] : [])));
  const isReleased = (name = '') => film.rights.get(name)?.kind?.value === 'release';
  return usesByName(rightUses(film).filter(({ name }) => names.has(name) || isReleased(name)));
}
