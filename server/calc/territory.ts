/** Where something may be shown: country codes, the European Economic Area, or everywhere. */

/**
 * The European Economic Area: the 27 members of the European Union, Iceland, Liechtenstein and Norway (Agreement on the
 * European Economic Area and its enlargements; as of 2020, without the United Kingdom).
 */
export const eeaCountries: readonly string[] = (
  'AT BE BG CY CZ DE DK EE ES FI FR GR HR HU IE IT LT LU LV MT NL PL PT RO SE SI SK ' + 'IS LI NO'
).split(' ');

/** What of `wanted` is covered by `covered`, as few words as say it. */
export function shared(wanted: readonly string[], covered: readonly string[]): string[] {
  if (covered.includes('worldwide')) return [...wanted];
  if (wanted.includes('worldwide')) return [...covered];
  const open = uncovered(wanted, covered);
  const whole = wanted.filter((place) => !open.includes(place));
  // Of the whole EEA, the countries that are covered.
  const some = open.includes('EEA') ? covered.filter((place) => eeaCountries.includes(place)) : [];
  return [...new Set([...whole, ...some])];
}

/** What of `wanted` is not covered by `covered`; each holds ISO 3166-1 codes, `EEA` or `worldwide`. */
export function uncovered(wanted: readonly string[], covered: readonly string[]): string[] {
  if (covered.includes('worldwide')) return [];
  const has = (country: string) =>
    covered.includes(country) || (covered.includes('EEA') && eeaCountries.includes(country));
  return wanted.filter((place) => {
    if (place === 'worldwide') return true;
    return place === 'EEA' ? !eeaCountries.every(has) : !has(place);
  });
}
