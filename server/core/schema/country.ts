/** Countries by the two letters of ISO 3166-1, and the one that somebody means who writes it in another way. */
import { mainsOfCountry } from '../../calc/mains.ts';
import { asKey, nearest } from '../nearest.ts';

export interface CountryMeant {
  readonly code: string;
  /** False where the name had to be guessed from one that is near. */
  readonly sure: boolean;
}

/** Letters and names in use that are neither a code nor the name in a list of countries. */
const otherWays: Readonly<Record<string, string>> = {
  uk: 'GB',
  'great-britain': 'GB',
  england: 'GB',
  scotland: 'GB',
  wales: 'GB',
  'northern-ireland': 'GB',
  el: 'GR',
  usa: 'US',
  'united-states-of-america': 'US',
  america: 'US',
  uae: 'AE',
  holland: 'NL',
};

export function isCountry(code: string): boolean {
  return mainsOfCountry(code) !== undefined;
}

/** `UK`, `Germany` and `germny` as `GB` and `DE`; undefined where no country is meant, or where the code is right. */
export function countryMeant(text: string): CountryMeant | undefined {
  if (isCountry(text)) return undefined;
  const key = keyOf(text);
  const code = Object.hasOwn(otherWays, key)
    ? otherWays[key]
    : isCountry(key.toUpperCase())
      ? key.toUpperCase()
      : undefined;
  if (code) return { code, sure: true };
  const near = nearest(key, [...codesByName().keys()]);
  return near && { code: codesByName().get(near.word)!, sure: near.word === key };
}

/** As it is called in English. */
export function countryName(code: string): string {
  return englishNames().of(code) ?? code;
}

let names: Intl.DisplayNames | undefined;

function englishNames(): Intl.DisplayNames {
  return (names ??= new Intl.DisplayNames(['en'], { type: 'region' }));
}

let codes: Map<string, string> | undefined;

function codesByName(): ReadonlyMap<string, string> {
  return (codes ??= new Map(allCodes().map((code) => [keyOf(countryName(code)), code])));
}

function allCodes(): string[] {
  const letters = [...'ABCDEFGHIJKLMNOPQRSTUVWXYZ'];
  return letters.flatMap((first) => letters.map((second) => first + second)).filter(isCountry);
}

/** `Côte d’Ivoire` as `cote-d-ivoire`. */
function keyOf(text: string): string {
  return asKey(text.normalize('NFD').replace(/\p{M}/gu, ''));
}
