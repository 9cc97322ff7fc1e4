/** A draft of a paper that a right lacks: what it must say for this film, with blanks. It proves nothing until somebody signs. */
import type { CheckResult } from '../core/checker.ts';
import { deliverablesOf, draftPath, needsOf, rightUses, usesByRight } from '../core/derived/rights.ts';
import type { Range } from '../core/document/node.ts';
import type { Film, Right } from '../core/film.ts';
import type { Finding } from '../core/finding.ts';
import { dateText, quoted } from '../core/say.ts';
import { placesText, territoryText } from '../rules/rights/rights-text.ts';
import { kindHeardOrSeen } from '../rules/rights/write-right.ts';

export interface Draft {
  readonly title: string;
  /** From the repo's root. */
  readonly path: string;
  readonly text: string;
}

const papered: ReadonlySet<string> = new Set([
  'licence-missing',
  'licence-expired',
  'licence-does-not-cover',
  'release-missing',
]);

/** Drafts of the papers that the findings at a place miss; none of one that was drafted before. */
export function draftsAt({ film, findings }: CheckResult, { start, end }: Range): Draft[] {
  if (!film) return [];
  const here = findings.filter((one) => papered.has(one.rule) && one.start <= end && one.end >= start);
  const names = new Set(here.flatMap((finding) => missingPaper(finding, film) ?? []));
  return [...names].flatMap((name) => {
    const path = draftPath(name);
    if (film.exists(path)) return [];
    const title = `Write a draft of the paper for ${quoted(name)}, to be filled in and signed: ${quoted(path)}`;
    return [{ title, path, text: draftText(name, film) }];
  });
}

/** The name of the right whose paper is missing or says too little; undefined where another paper would not cure it. */
function missingPaper({ start, rule }: Finding, film: Film): string | undefined {
  const right = [...film.rights.values()].find((one) => isIn(start, one));
  if (right && (right.credit?.start === start || isUpsideDown(right, rule))) return undefined;
  const name = right?.name ?? rightUses(film).find((use) => use.at.start === start)?.name;
  // It becomes the name of a file.
  return name !== undefined && /^[a-z0-9][a-z0-9-]*$/.test(name) ? name : undefined;
}

function isIn(offset: number, { start, end, fields }: Right): boolean {
  return [{ start, end }, ...(fields.own ? [fields.own] : [])].some((one) => one.start <= offset && offset < one.end);
}

/** Of dates that are swapped, nobody knows what the paper says. */
function isUpsideDown({ from, until }: Right, rule: string): boolean {
  return rule === 'licence-expired' && from !== undefined && until !== undefined && from.value > until.value;
}

const blank = '____________________';

function draftText(name: string, film: Film): string {
  const kind = rightKind(name, film);
  const { shownOn, territory, published } = needsOf(deliverablesOf(usesByRight(film).get(name) ?? []));
  const days = published
    ? `${blank} (the film is shown from ${dateText(published.from)} to ${dateText(published.to)})`
    : blank;
  return `# Permission for ${quoted(name)}: a draft, not signed

This is something to start from, not legal advice. What must be written and who must sign depends on the law where you
are: have it looked at by somebody who is licensed to advise. It proves nothing until it is filled in and signed.

## What it is about

- ${about[kind] ?? 'What it is'}: ${blank}
- In the film: ${film.title?.value.trim() ?? blank}

## Who gives the permission

- Name and address: ${blank}
- ${holder[kind] ?? 'By what right (maker, publisher, owner)'}: ${blank}

## Who receives it

- Name and address: ${film.brief?.client?.value.trim() ?? blank}

## What is permitted

- Shown: ${shownOn.length > 0 ? placesText(shownOn) : blank}
- Countries: ${territory.length > 0 ? territoryText(territory) : blank}
- From and until: ${days}
- May be cut, changed and set to other pictures or sound: ${blank}
- Words that must be seen in the film: ${film.rights.get(name)?.credit?.value ?? blank}
- What is given for it: ${blank}

## Signed by whoever gives it

- Place and date: ${blank}
- Signature: ${blank}

When it is signed, keep the signed paper as \`rights/${name}.pdf\`, name that file in \`proof\`, write what it says (not
what was hoped for) under \`rights\`, and take this draft away.
`;
}

/** What a right is about: as it says, else as it is used. */
export function rightKind(name: string, film: Film): string {
  const said = film.rights.get(name)?.kind?.value;
  if (said !== undefined) return said;
  const uses = usesByRight(film).get(name) ?? [];
  if (uses.some((use) => use.as === 'person')) return 'release';
  return uses.some((use) => use.as === 'shown') ? 'mark' : kindHeardOrSeen(name, film);
}

const about: Readonly<Record<string, string>> = {
  music: 'Title of the music, who wrote it and who plays it',
  sound: 'What is heard, and who recorded it',
  footage: 'What is seen, and who filmed it',
  font: 'Name of the font, and who drew it',
  mark: 'The mark that is seen, and whose it is',
  artwork: 'The work that is seen, and who made it',
  release: 'Who is seen or heard, and doing what',
  place: 'The place, and which rooms and hours',
};

const holder: Readonly<Record<string, string>> = {
  release: 'Who is seen, or for a child whoever has custody',
  place: 'By what right (owner, tenant, administrator)',
};
