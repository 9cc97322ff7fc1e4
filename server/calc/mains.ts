/** Mains by country, the load that a circuit takes, and the frame rates that belong to a mains frequency. */
import { type Rate, rate, sameRate } from './rate.ts';

/** ISO 3166-1 two-letter codes, and XK for Kosovo, one of those that the standard leaves to its users. */
const countries = new Set(
  (
    'AD AE AF AG AI AL AM AO AQ AR AS AT AU AW AX AZ BA BB BD BE BF BG BH BI BJ BL BM BN BO BQ BR BS BT BV BW BY BZ ' +
    'CA CC CD CF CG CH CI CK CL CM CN CO CR CU CV CW CX CY CZ DE DJ DK DM DO DZ EC EE EG EH ER ES ET FI FJ FK FM FO ' +
    'FR GA GB GD GE GF GG GH GI GL GM GN GP GQ GR GS GT GU GW GY HK HM HN HR HT HU ID IE IL IM IN IO IQ IR IS IT JE ' +
    'JM JO JP KE KG KH KI KM KN KP KR KW KY KZ LA LB LC LI LK LR LS LT LU LV LY MA MC MD ME MF MG MH MK ML MM MN MO ' +
    'MP MQ MR MS MT MU MV MW MX MY MZ NA NC NE NF NG NI NL NO NP NR NU NZ OM PA PE PF PG PH PK PL PM PN PR PS PT PW ' +
    'PY QA RE RO RS RU RW SA SB SC SD SE SG SH SI SJ SK SL SM SN SO SR SS ST SV SX SY SZ TC TD TF TG TH TJ TK TL TM ' +
    'TN TO TR TT TV TW TZ UA UG UM US UY UZ VA VC VE VG VI VN VU WF WS XK YE YT ZA ZM ZW'
  ).split(' '),
);

/**
 * 60 Hz countries and territories (IEC World Plugs list, 2017). BL and SX, which it lacks, as their tourist office and
 * their grid say; MP and MH from memory, as neighbours supplied alike.
 */
const sixtyHz = new Set(
  (
    'AG AI AS AW BL BM BR BS BZ CA CO CR CU DO EC FM GT GU GY HN HT KN KR KY MF MH MP MS MX NI PA PE PH PR PW SA SR SV ' +
    'SX TC TT TW US VE VG VI'
  ).split(' '),
);

/** Both frequencies (the same list): Japan 50 Hz in the east, 60 Hz in the west. */
const bothHz = new Set(['JP', 'KP', 'LR']);

/** Nominal volts at a socket of countries that have one, from memory but for JP, KR and SA (travel reference tables). */
const voltsByCountry = new Map<string, number>([
  ['JP', 100],
  ['TW', 110],
  ...'AS CA CR GT GU MP NI PR US VI'.split(' ').map((code): [string, number] => [code, 120]),
  ['MX', 127],
  ...'AR CL CN EG HK KR PE PH PY VN'.split(' ').map((code): [string, number] => [code, 220]),
  ['SA', 230],
  ...(
    'AD AE AT AU BD BE BG CH CY CZ DE DK EE ES FI FO FR GB GG GH GI GL GR HR HU ID IE IL IM IN IS IT JE LI LK LT LU ' +
    'LV MC MK MT NG NL NO NP NZ OM PK PL PT RO RS SE SG SI SK SM TH TR UA UY VA ZA ZM'
  )
    .split(' ')
    .map((code): [string, number] => [code, 230]),
  ['KE', 240],
  ['KW', 240],
  ['MY', 240],
]);

export interface Mains {
  /** One frequency, or both where the code alone does not tell. */
  readonly hz: readonly number[];
  /** Absent where a country has several or it is not in the list. */
  readonly volts?: number;
}

/** Mains of a country by its ISO 3166-1 code in capitals: 50 Hz unless listed; `undefined` for no such code. */
export function mainsOfCountry(code: string): Mains | undefined {
  if (!countries.has(code)) return undefined;
  const volts = voltsByCountry.get(code);
  const hz = bothHz.has(code) ? [50, 60] : [sixtyHz.has(code) ? 60 : 50];
  return volts === undefined ? { hz } : { hz, volts };
}

/** The rates that broadcasters of a mains frequency take: 25, 50; or 24, 30, 60 and these ÷ 1.001 (ITU-R BT.709-6; the split is from memory). */
export function ratesOfMains(mainsHz: number): Rate[] {
  if (mainsHz === 50) return [rate(25), rate(50)];
  return [24, 30, 60].flatMap((fps) => [rate(fps), rate(fps * 1000, 1001)]);
}

export function isRateOfMains(r: Rate, mainsHz: number): boolean {
  return ratesOfMains(mainsHz).some((known) => sameRate(known, r));
}

/**
 * Countries whose television does not run at their mains frequency (list of television systems, ITU-R BT.470; from
 * memory, but for MM, which tables of television systems list, and the Caribbean, where system M was usual).
 */
const televisionHz = new Map<string, number>([
  ...'JP CL BO BB CW DM GD JM LC MM VC'.split(' ').map((code): [string, number] => [code, 60]),
  ...['SA', 'KP', 'LR'].map((code): [string, number] => [code, 50]),
]);

/** Family of frame rates that a country's broadcasters use: 50 (25, 50) or 60 (24, 30, 60 and ÷ 1.001); `undefined` for no such code. */
export function televisionOfCountry(code: string): 50 | 60 | undefined {
  const hz = televisionHz.get(code) ?? mainsOfCountry(code)?.hz[0];
  return hz === undefined ? undefined : hz === 60 ? 60 : 50;
}

/** VA that a load draws: watts ÷ power factor. */
export function apparentVa(watts: number, powerFactor: number): number {
  return watts / powerFactor;
}

/** Countries under NEC 210.19(A)(1), 210.20(A), or codes of its kin (CA, MX, PH; from memory). */
const continuousLoadCountries = new Set(['US', 'AS', 'GU', 'MP', 'PR', 'VI', 'CA', 'MX', 'PH']);

/** Whether a load is continuous: expected to last 3 hours or more (NEC Art. 100), where that rule holds. */
export function isContinuousLoad(country: string | undefined, hours: number): boolean {
  return country !== undefined && continuousLoadCountries.has(country) && hours >= 3;
}

/**
 * VA that a circuit takes: volts × amperes, and 80 % of it for a continuous load where the NEC's 125 % rule holds.
 * Elsewhere (IEC 60364: load ≤ rating) the rating itself.
 */
export function circuitLimitVa(volts: number, ratingA: number, continuous: boolean): number {
  return volts * ratingA * (continuous ? 0.8 : 1);
}
