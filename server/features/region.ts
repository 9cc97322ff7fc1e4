/** A region as people say it: a country, or its mains. */
import { mainsOfCountry } from '../calc/mains.ts';
import { region as readRegion } from '../core/units.ts';

/** A region as it is quickly typed, as the format writes it: `de` as `DE`, `60` as `60 Hz`, `jp 50hz` as `JP 50 Hz`. */
export function regionTyped(text: string): string {
  const match = /^(?:([a-z]{2})\b)?\s*(?:(50|60)\s*(?:hz)?)?$/i.exec(text.trim());
  if (!match) return text.trim();
  const [, country, hz] = match;
  return [country?.toUpperCase(), hz && `${hz} Hz`].filter(Boolean).join(' ');
}

/** Mains frequency of a region as the format writes it; undefined where it is no region, or one with two kinds of mains. */
export function mainsHzOf(text: string): number | undefined {
  const region = readRegion(text);
  if (region === undefined) return undefined;
  const country = region.country === undefined ? undefined : mainsOfCountry(region.country);
  if (region.country !== undefined && country === undefined) return undefined;
  return region.mainsHz ?? (country?.hz.length === 1 ? country.hz[0] : undefined);
}
