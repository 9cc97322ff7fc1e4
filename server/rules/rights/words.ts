/** Words that the rights rules share. */
import type { Deliverable } from '../../core/film.ts';
import { listText, quoted } from '../../core/say.ts';
import { pathFault } from '../../core/paths.ts';
import type { Film, Right } from '../../core/film.ts';

export const notAdvice = 'Ask whoever holds the right; this is not legal advice.';

/** `film` (web, worldwide) and `story` (social, DE and AT): where something would be shown. */
export function shownText(deliverables: readonly Deliverable[]): string {
  const texts = deliverables.map((one) => {
    const territory = listText(one.territory);
    return `${quoted(one.name)} (${listText(one.shownOn)}, ${territory})`;
  });
  const most = 3;
  return listText([...texts.slice(0, most), ...(texts.length > most ? [`${texts.length - most} more`] : [])]);
}

export function namesText(deliverables: readonly Deliverable[]): string {
  return listText(deliverables.map((one) => quoted(one.name)));
}

/** What is wrong with the paper that a right names; undefined where none is needed or it is there. */
export type PaperFault =
  { readonly kind: 'unnamed' } | { readonly kind: 'badPath'; readonly fault: string } | { readonly kind: 'noFile' };

export function paperFault(right: Right, film: Film): PaperFault | undefined {
  const { proof } = right;
  if (proof) {
    const fault = pathFault(proof.value);
    if (fault) return { kind: 'badPath', fault };
    return film.exists(proof.value) ? undefined : { kind: 'noFile' };
  }
  // Own work and what belongs to everybody need none; one that can't be read is reported as such.
  return right.owner === 'licensed' && !right.fields.said('proof') ? { kind: 'unnamed' } : undefined;
}
