/** How high the sun stands, and whether a country is dark at a time on its clocks. */
import { deg } from './geometry.ts';

/** Lower than this the sun gives nothing to see by: the end of civil twilight, by definition. */
export const civilTwilightDeg = -6;

export interface SunPlace {
  readonly declinationDeg: number;
  /** How far a sundial is ahead of even time. */
  readonly equationMinutes: number;
}

/**
 * Approximate solar coordinates of the U.S. Naval Observatory, good to an arc minute within two centuries of 2000.
 * @param days since 1970-01-01, 0 h universal time
 */
export function sunPlace(days: number): SunPlace {
  const d = days - 10_957.5;
  const anomaly = (357.529 + 0.98560028 * d) / deg;
  const mean = 280.459 + 0.98564736 * d;
  const longitude = (mean + 1.915 * Math.sin(anomaly) + 0.02 * Math.sin(2 * anomaly)) / deg;
  const tilt = (23.439 - 0.00000036 * d) / deg;
  const ascension = Math.atan2(Math.cos(tilt) * Math.sin(longitude), Math.cos(longitude)) * deg;
  const apart = mean - ascension;
  return {
    declinationDeg: Math.asin(Math.sin(tilt) * Math.sin(longitude)) * deg,
    equationMinutes: 4 * (apart - 360 * Math.round(apart / 360)),
  };
}

/**
 * sin h = sin φ · sin δ + cos φ · cos δ · cos H, the hour angle H being 15° for each hour from the sun's noon.
 * @param meanHours mean solar time: what clocks would show that are set by the place itself
 */
export function sunHeightDeg(days: number, meanHours: number, latitudeDeg: number): number {
  const { declinationDeg, equationMinutes } = sunPlace(days + meanHours / 24);
  const [latitude, declination] = [latitudeDeg / deg, declinationDeg / deg];
  const hour = (15 * (meanHours + equationMinutes / 60 - 12)) / deg;
  const sine = Math.sin(latitude) * Math.sin(declination) + Math.cos(latitude) * Math.cos(declination) * Math.cos(hour);
  return Math.asin(sine) * deg;
}

interface Country {
  readonly latitudes: readonly [number, number];
  /** Hours that standard time is ahead of the sun, in its east and in its west. */
  readonly ahead: readonly [number, number];
  /** Months (1 to 12) in which clocks may be an hour further ahead: the first and the last. */
  readonly summer?: readonly [number, number];
}

const north = [3, 10] as const;

/** Ends of the countries, rounded outwards, and their time zones: from memory. Territories with codes of their own are not in them. */
const countries: Readonly<Record<string, Country>> = {
  AT: { latitudes: [46.3, 49.1], ahead: [-0.2, 0.4], summer: north },
  AU: { latitudes: [-43.7, -10], ahead: [-0.6, 0.95], summer: [9, 4] },
  BE: { latitudes: [49.4, 51.6], ahead: [0.55, 0.9], summer: north },
  CA: { latitudes: [41.6, 76], ahead: [-0.9, 2.5], summer: [3, 11] },
  CH: { latitudes: [45.8, 47.9], ahead: [0.25, 0.65], summer: north },
  CZ: { latitudes: [48.5, 51.1], ahead: [-0.3, 0.25], summer: north },
  DE: { latitudes: [47.2, 55.1], ahead: [-0.05, 0.65], summer: north },
  DK: { latitudes: [54.5, 57.8], ahead: [-0.05, 0.5], summer: north },
  EE: { latitudes: [57.5, 59.8], ahead: [0.1, 0.6], summer: north },
  ES: { latitudes: [27.6, 43.9], ahead: [0.65, 1.65], summer: north },
  FI: { latitudes: [59.6, 70.2], ahead: [-0.15, 0.65], summer: north },
  FR: { latitudes: [41.3, 51.2], ahead: [0.35, 1.4], summer: north },
  GB: { latitudes: [49.8, 60.9], ahead: [-0.15, 0.6], summer: north },
  GR: { latitudes: [34.7, 41.8], ahead: [0.1, 0.75], summer: north },
  HU: { latitudes: [45.7, 48.6], ahead: [-0.55, -0.05], summer: north },
  IE: { latitudes: [51.3, 55.5], ahead: [0.35, 0.75], summer: north },
  IN: { latitudes: [6.7, 37.1], ahead: [-1, 1] },
  IT: { latitudes: [35.4, 47.1], ahead: [-0.25, 0.6], summer: north },
  JP: { latitudes: [20, 45.6], ahead: [-1.3, 0.85] },
  KR: { latitudes: [33, 38.7], ahead: [0.2, 0.7] },
  LU: { latitudes: [49.4, 50.2], ahead: [0.5, 0.65], summer: north },
  NL: { latitudes: [50.7, 53.7], ahead: [0.5, 0.8], summer: north },
  NO: { latitudes: [57.9, 71.3], ahead: [-1.1, 0.75], summer: north },
  NZ: { latitudes: [-47.4, -34.3], ahead: [0.05, 0.95], summer: [9, 4] },
  PL: { latitudes: [49, 54.9], ahead: [-0.65, 0.1], summer: north },
  PT: { latitudes: [32.3, 42.2], ahead: [0.4, 1.2], summer: north },
  SE: { latitudes: [55.3, 69.1], ahead: [-0.65, 0.3], summer: north },
  SI: { latitudes: [45.4, 46.9], ahead: [-0.15, 0.15], summer: north },
  SK: { latitudes: [47.7, 49.7], ahead: [-0.55, -0.1], summer: north },
  US: { latitudes: [18.9, 71.5], ahead: [-0.6, 2.5], summer: [3, 11] },
};

/**
 * The highest that the sun can stand anywhere in a country; undefined for one whose ends are not known here.
 * @param days since 1970-01-01
 * @param clockHours as clocks show it there; over 24 on the next day
 */
export function highestSunDeg(country: string, days: number, clockHours: number): number | undefined {
  const known = countries[country];
  if (!known) return undefined;
  const { latitudes, ahead, summer } = known;
  const mostAhead = ahead[1] + (summer && isBetween(new Date(days * 86_400_000).getUTCMonth() + 1, summer) ? 1 : 0);
  const heights = steps(latitudes).flatMap((latitude) =>
    steps([ahead[0], mostAhead]).map((hours) => sunHeightDeg(days, clockHours - hours, latitude)),
  );
  return Math.max(...heights);
}

function isBetween(month: number, [first, last]: readonly [number, number]): boolean {
  return first <= last ? first <= month && month <= last : month >= first || month <= last;
}

/** Neither end need be the highest. */
function steps([from, to]: readonly [number, number]): number[] {
  return [0, 0.25, 0.5, 0.75, 1].map((share) => from + share * (to - from));
}
