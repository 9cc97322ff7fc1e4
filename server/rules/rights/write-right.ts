/** Fixes that write a right down, or say more of one. */
import { deliverablesOf, needsOf, usesByRight } from '../../core/derived/rights.ts';
import type { Film, Right } from '../../core/film.ts';
import { isPlain } from '../../core/nearest.ts';
import { type FixIdea, set } from '../../core/rule.ts';
import { quoted } from '../../core/say.ts';
import { paperNamed, placesText, territoryText } from './rights-text.ts';

/** What the paper of music, a sound, footage or a font is about. */
export function kindHeardOrSeen(name: string, { music, sounds, titles }: Film): string {
  if (music?.track?.value === name) return 'music';
  if (sounds.some(({ track }) => track?.value === name)) return 'sound';
  return titles.some(({ font }) => font?.value === name) ? 'font' : 'footage';
}

/** Adds one's own work, or one's own hands, which need no paper; none for a name that would have to be quoted. */
export function addOwn(name: string, kind: string, film: Film): FixIdea[] {
  const title = `${kind === 'release' ? 'It is me' : 'It is my own'}: add ${quoted(name)} under \`rights\`, with \`owner: own\``;
  return addRight(title, name, `{ kind: ${kind}, owner: own }`, film);
}

/**
 * Adds a right of somebody else's, for what the film needs. Its paper is named where one of its name lies in the folder;
 * else that stays to be done, as the title says.
 */
export function addLicensed(name: string, kind: string, film: Film): FixIdea[] {
  const { shownOn, territory } = needsOf(deliverablesOf(usesByRight(film).get(name) ?? []));
  if (shownOn.length === 0 || territory.length === 0) return [];
  const paper = paperNamed(name, film);
  const proof = paper === undefined ? '' : `, proof: ${paper}`;
  const right = `{ kind: ${kind}${proof}, shown-on: ${listOf(shownOn)}, territory: ${listOf(territory)} }`;
  const needed = `${placesText(shownOn)}, ${territoryText(territory)}`;
  const rest = paper === undefined ? 'its paper still to be named' : `if ${quoted(paper)} says so`;
  return addRight(`Add ${quoted(name)} under \`rights\` as the film needs it (${needed}), ${rest}`, name, right, film);
}

/** `web`, `[web, social]`: as it is written in the file. */
export function listOf(words: readonly string[]): string {
  return words.length === 1 ? words[0]! : `[${words.join(', ')}]`;
}

function addRight(title: string, name: string, right: string, film: Film): FixIdea[] {
  if (!isPlain(name) || film.rights.has(name)) return [];
  const { fields } = film;
  if (fields.said('rights')) {
    const block = fields.block('rights');
    return block.own ? [set(title, [{ ...film.at, fields: block }, name, right])] : [];
  }
  const inBraces = fields.own?.flow ? `{ ${name}: ${right} }` : `\n  ${name}: ${right}`;
  return [set(title, [{ ...film.at, fields }, 'rights', inBraces])];
}

/** Says of a right that it is one's own, where nothing is said of it. */
export function sayOwn(right: Right): FixIdea[] {
  if (right.fields.said('owner')) return [];
  const whose = right.kind?.value === 'release' ? 'It is me' : 'It is my own';
  return [set(`${whose}: say \`owner: own\``, [right, 'owner', 'own'])];
}
