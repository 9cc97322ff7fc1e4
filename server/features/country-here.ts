/** The country of this computer's clock: what most likely stands where somebody films, to be confirmed by them. */
import { mainsHzOf } from './region.ts';

interface Zones {
  readonly timeZones?: readonly string[];
  getTimeZones?(): readonly string[] | undefined;
}

/** Undefined where the clock tells no country, or one with two kinds of mains. */
export function countryHere(zone = Intl.DateTimeFormat().resolvedOptions().timeZone): string | undefined {
  const found = codes().filter((code) => mainsHzOf(code) !== undefined && zonesOf(code).includes(zone));
  return found.length === 1 ? found[0] : undefined;
}

/** The zones of a country as the engine knows them; the method is the newer name of the property. */
function zonesOf(code: string): readonly string[] {
  const locale = new Intl.Locale(`und-${code}`) as unknown as Zones;
  return locale.getTimeZones?.() ?? locale.timeZones ?? [];
}

function codes(): string[] {
  const letters = [...'ABCDEFGHIJKLMNOPQRSTUVWXYZ'];
  return letters.flatMap((first) => letters.map((second) => first + second));
}
