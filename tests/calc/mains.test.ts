import { describe, expect, it } from 'vitest';
import {
  apparentVa,
  circuitLimitVa,
  isContinuousLoad,
  isRateOfMains,
  mainsOfCountry,
  ratesOfMains,
  televisionOfCountry,
} from '../../server/calc/mains.ts';
import { rate, rateFps } from '../../server/calc/rate.ts';

const letters = [...'ABCDEFGHIJKLMNOPQRSTUVWXYZ'];
const allCodes = letters.flatMap((first) => letters.map((second) => first + second));

describe('mains by country', () => {
  // IEC World Plugs list (2017).
  it('is 60 Hz in the countries of the published list', () => {
    const listed =
      'AG AI AS AW BM BR BS BZ CA CO CR CU DO EC FM GT GU GY HN HT KN KR KY MF MS MX NI PA PE PH PR PW SA SR SV TC TT TW US VE VG VI';
    expect(listed.split(' ')).toHaveLength(42);
    for (const code of listed.split(' ')) expect(mainsOfCountry(code)?.hz).toEqual([60]);
  });

  it('is both in Japan, North Korea and Liberia (same list)', () => {
    for (const code of ['JP', 'KP', 'LR']) expect(mainsOfCountry(code)?.hz).toEqual([50, 60]);
  });

  it('is 50 Hz elsewhere', () => {
    for (const code of 'DE AT CH GB FR IT ES PL AU NZ CN IN ZA AR JM BB'.split(' ')) {
      expect(mainsOfCountry(code)?.hz).toEqual([50]);
    }
    expect(allCodes.filter((code) => mainsOfCountry(code)?.hz[0] === 60)).toHaveLength(46);
  });

  // Saint-Barthélemy's tourist office: 220 V, 60 Hz; Sint Maarten's grid is kept at 60 Hz by its operator.
  it.each(['BL', 'SX'])('is 60 Hz in %s, which the list lacks', (code) => {
    expect(mainsOfCountry(code)?.hz).toEqual([60]);
  });

  it('knows the codes that the platform’s own country names know', () => {
    const names = new Intl.DisplayNames('en', { type: 'region', fallback: 'none' });
    const notCountries = new Set(['AC', 'CP', 'CQ', 'DG', 'EA', 'EU', 'EZ', 'IC', 'QO', 'TA', 'UN', 'XA', 'XB', 'ZZ']);
    // Withdrawn codes still have a name; a name that another code already has is one of those.
    const seen = new Set<string>();
    const current = allCodes.filter((code) => mainsOfCountry(code));
    for (const code of current) {
      expect(names.of(code), code).toBeDefined();
      seen.add(names.of(code)!);
    }
    expect(seen.size).toBe(current.length);
    // ISO 3166-1 has 249, and Kosovo writes XK.
    expect(current).toHaveLength(250);
    for (const code of allCodes) {
      const name = names.of(code);
      if (name !== undefined && !notCountries.has(code) && !mainsOfCountry(code))
        expect(seen.has(name), code).toBe(true);
    }
  });

  // Travel reference tables: Japan 100 V; 220 to 240 V at 60 Hz in KR, PE, PH, SA; Brazil has 127 and 220 V.
  it('has the volts of the published tables where there is one', () => {
    expect(mainsOfCountry('JP')?.volts).toBe(100);
    for (const code of ['KR', 'PE', 'PH', 'SA']) {
      expect(mainsOfCountry(code)?.volts).toBeGreaterThanOrEqual(220);
      expect(mainsOfCountry(code)?.volts).toBeLessThanOrEqual(240);
    }
    expect(mainsOfCountry('BR')?.volts).toBeUndefined();
    expect(mainsOfCountry('US')?.volts).toBe(120);
    expect(mainsOfCountry('DE')?.volts).toBe(230);
    expect(mainsOfCountry('XX')).toBeUndefined();
    expect(mainsOfCountry('de')).toBeUndefined();
  });
});

describe('frame rates of a mains frequency (rates: ITU-R BT.709-6; the split by region from memory)', () => {
  it('lists them', () => {
    expect(ratesOfMains(50).map(rateFps)).toEqual([25, 50]);
    expect(ratesOfMains(60)).toHaveLength(6);
    expect(isRateOfMains(rate(24000, 1001), 60)).toBe(true);
    expect(isRateOfMains(rate(25), 60)).toBe(false);
    expect(isRateOfMains(rate(25), 50)).toBe(true);
    expect(isRateOfMains(rate(24), 50)).toBe(false);
  });
});

describe('television and mains', () => {
  // 50 Hz in the IEC list. Tables of television systems: Burma and Barbados, NTSC M; the DVB Project of Curaçao: NTSC;
  // Saint Vincent's regulator: sets from the United States receive its stations; the other islands from memory.
  it.each(['MM', 'BB', 'CW', 'VC', 'DM', 'GD', 'LC', 'JM'])('%s has 50 Hz and television of 60', (code) => {
    expect(mainsOfCountry(code)?.hz).toEqual([50]);
    expect(televisionOfCountry(code)).toBe(60);
  });

  it.each(['GF', 'GP', 'MQ', 'FK', 'AR', 'DE'])('%s has both of 50', (code) => {
    expect(televisionOfCountry(code)).toBe(50);
  });
});

describe('load on a circuit', () => {
  // V·A, and 80 % for a continuous load: NEC 210.19(A)(1), 210.20(A), 3 hours by Article 100. IEC 60364: load ≤ rating.
  it.each([
    [120, 15, 1800, 1440],
    [120, 20, 2400, 1920],
  ])('%i V, %i A in the US', (volts, amperes, full, continuous) => {
    expect(circuitLimitVa(volts, amperes, isContinuousLoad('US', 2.9))).toBe(full);
    expect(circuitLimitVa(volts, amperes, isContinuousLoad('US', 3))).toBeCloseTo(continuous, 9);
  });

  it.each([
    ['JP', 100, 15, 1500],
    ['AU', 230, 10, 2300],
    ['GB', 230, 13, 2990],
    ['DE', 230, 16, 3680],
    [undefined, 230, 16, 3680],
  ])('the rating itself in %s', (country, volts, amperes, va) => {
    expect(circuitLimitVa(volts, amperes, isContinuousLoad(country, 8))).toBe(va);
  });

  it('draws 3.48 A of 230 V and 6.67 A of 120 V at 720 W and power factor 0.9', () => {
    expect(apparentVa(720, 0.9)).toBeCloseTo(800, 9);
  });
});
