/** The country that a computer's clock tells. Zones and countries: the time zone database, file zone.tab. */
import { expect, it } from 'vitest';
import { countryHere } from '../../server/features/country-here.ts';

it.each([
  ['Europe/Berlin', 'DE'],
  ['America/New_York', 'US'],
  ['Asia/Tokyo', undefined], // Two kinds of mains.
  ['UTC', undefined],
])('%s: %s', (zone, country) => {
  expect(countryHere(zone)).toBe(country);
});
