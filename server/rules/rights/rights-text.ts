/** Words that the rights rules share. */
import type { Deliverable } from '../../core/film.ts';
import { listFirst, listText, quoted } from '../../core/say.ts';
import { isDraft, usesByRight } from '../../core/derived/rights.ts';
import { groupBy } from '../../core/group-by.ts';
import { nearest, shareWord } from '../../core/nearest.ts';
import { pathFault } from '../../core/paths.ts';
import { type FixIdea, set } from '../../core/rule.ts';
import type { Film, Right } from '../../core/film.ts';

export const notAdvice = 'Ask whoever holds the right; this is not legal advice.';

const places: Readonly<Record<string, string>> = {
  web: 'on the web',
  social: 'in social media',
  broadcast: 'in broadcast',
  cinema: 'in cinemas',
  event: 'at events',
  internal: 'inside the company',
};

/** `on the web and in social media`, from the words of `shown-on`. */
export function placesText(shownOn: readonly string[]): string {
  return listText(shownOn.map((one) => places[one] ?? one));
}

/** `in DE and AT`, `in all of the EEA`, `worldwide`. */
export function territoryText(territory: readonly string[]): string {
  if (territory.includes('worldwide')) return 'worldwide';
  return `in ${listText(territory.map((one) => (one === 'EEA' ? 'the EEA' : one)))}`;
}

/** `film` (on the web, worldwide) and `story` (in social media, in DE and AT): where something would be shown. */
export function shownText(deliverables: readonly Deliverable[]): string {
  const texts = deliverables.map((one) => {
    return `${quoted(one.name)} (${placesText(one.shownOn)}, ${territoryText(one.territory)})`;
  });
  const most = 3;
  return listFirst(texts, most);
}

/** The right that was likely meant by a name that has none: ` There is `hand`: is that the same thing?`, or nothing. */
export function nearRight(name: string, film: Film): string {
  const used = usesByRight(film);
  const free = [...film.rights.keys()].filter((one) => !used.has(one));
  const near = nearest(name, free)?.word ?? free.find((one) => shareWord(one, name));
  return near === undefined ? '' : ` There is ${quoted(near)}: is that the same thing?`;
}

export function namesText(deliverables: readonly Deliverable[]): string {
  return listText(deliverables.map((one) => quoted(one.name)));
}

/** What a licensed right must say of its paper and does not. */
export function unsaid({ owner, fields }: Right): ('shown-on' | 'territory')[] {
  return owner === 'licensed' ? (['shown-on', 'territory'] as const).filter((key) => !fields.said(key)) : [];
}

/** ` Nor does it say its `territory`.`, beside a finding about the paper: both are known once that is there. */
export function norSaid(right: Right): string {
  const keys = unsaid(right);
  return keys.length === 0 ? '' : ` Nor does it say its ${listText(keys.map(quoted))}.`;
}

/** What is wrong with the paper that a right names; undefined where none is needed or it is there. */
export type PaperFault =
  | { readonly kind: 'unnamed' }
  | { readonly kind: 'badPath'; readonly fault: string }
  | { readonly kind: 'noFile' }
  | { readonly kind: 'draft' };

export function paperFault(right: Right, film: Film): PaperFault | undefined {
  const { proof } = right;
  if (proof) {
    const fault = pathFault(proof.value);
    if (fault) return { kind: 'badPath', fault };
    if (!film.exists(proof.value)) return { kind: 'noFile' };
    return isDraft(proof.value) ? { kind: 'draft' } : undefined;
  }
  // Own work and what belongs to everybody need none; one that can't be read is reported as such.
  return right.owner === 'licensed' && !right.fields.said('proof') ? { kind: 'unnamed' } : undefined;
}

/** Papers that are not there, of several rights, for one cause: one file, or a folder that holds none of those named in it. */
export interface MissingPapers {
  readonly rights: readonly Right[];
  readonly message: 'noneThere' | 'noFileOfAll';
  readonly data: { readonly folder: string; readonly proof: string; readonly names: string };
}

export function missingTogether(rights: readonly Right[], film: Film): MissingPapers[] {
  const named = [...film.rights.values()].flatMap(({ proof }) => proof ?? []);
  const held = new Set(
    named.filter(({ value }) => !pathFault(value) && film.exists(value)).map(({ value }) => folderOf(value)),
  );
  const missing = rights.filter((right) => paperFault(right, film)?.kind === 'noFile');
  const byCause = groupBy(missing, ({ proof }) => [
    held.has(folderOf(proof!.value)) ? proof!.value : `${folderOf(proof!.value)}/`,
  ]);
  return [...byCause.values()]
    .filter(({ length }) => length > 1)
    .map((all) => {
      const [{ value, text }, isOneFile] = [all[0]!.proof!, new Set(all.map(({ proof }) => proof!.value)).size === 1];
      const folder = folderOf(value) === '' ? 'this folder' : quoted(folderOf(value));
      const names = listFirst(
        all.map(({ name }) => quoted(name)),
        4,
      );
      return {
        rights: all,
        message: isOneFile ? 'noFileOfAll' : 'noneThere',
        data: { folder, proof: quoted(text), names },
      };
    });
}

function folderOf(path: string): string {
  return path.slice(0, Math.max(0, path.lastIndexOf('/')));
}

/** Where several papers are missing: at the first, with the others beside it. Each that is found makes it less. */
export function atPapers(rights: readonly Right[], film: Film) {
  const [first, ...others] = rights.map(({ proof }) => proof!);
  return {
    at: first!,
    related: others.map(({ start, end }) => ({ start, end, message: 'not there either' })),
    excess: rights.length * faultExcess,
    fixes: () => rights.flatMap((right) => namePaper(right, film)),
  };
}

/** So far off is a right with a fault of its paper, and one that is not written down at all. */
export const faultExcess = 1;
export const noRightExcess = 2;

/** A paper in the folder that has the name of a right; undefined where none is there. */
export function paperNamed(name: string, film: Film): string | undefined {
  return ['pdf', 'md', 'txt', 'jpg', 'png']
    .map((ending) => `rights/${name}.${ending}`)
    .find((path) => film.exists(path));
}

/** Names a paper that is there; makes up none. */
export function namePaper(right: Right, film: Film): FixIdea[] {
  const path = paperNamed(right.name, film);
  return path === undefined ? [] : [set(`Name its paper: ${quoted(path)}`, [right, 'proof', path])];
}
