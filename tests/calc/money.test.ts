/** Sums of money against Python's decimal module (ROUND_HALF_UP), and decimals of currencies against ISO 4217. */
import { describe, expect, test } from 'vitest';
import { amountText, decimalsOf, minorUnits, partOf, percentOf } from '../../server/calc/money.ts';

/** ISO 4217:2015, list one: the column "minor unit". From memory, and the same in ECMA-402. */
test.each([
  ['EUR', 2],
  ['JPY', 0],
  ['KWD', 3],
  ['€', 2],
  [undefined, 2],
])('%s has %i decimals', (currency, decimals) => {
  expect(decimalsOf(currency)).toBe(decimals);
});

// Made with Python 3.11: Decimal(fee) * quarters / 4 and * tax / 100, quantize(…, ROUND_HALF_UP).
test.each([
  [2, '197.73', 203, '10 034.80', '19', '1 906.61'],
  [2, '8.41', 275, '578.19', '7.7', '44.52'],
  [2, '763.88', 30, '5 729.10', '5.5', '315.10'],
  [2, '0.89', 223, '49.62', '0', '0.00'],
  [2, '8.47', 290, '614.08', '7.7', '47.28'],
  [0, '9552', 32, '76 416', '0', '0'],
  [0, '1000', 114, '28 500', '19', '5 415'],
  [3, '2234.303', 149, '83 227.787', '0', '0.000'],
  [3, '8.859', 61, '135.100', '8.875', '11.990'],
])('with %i decimals %s for %i quarters of an hour is %s, and the tax on it of %s % is %s', (...row) => {
  const [decimals, fee, quarters, part, tax, taxed] = row;
  const amount = partOf(minorUnits(fee, decimals)!, BigInt(quarters), 4n);
  expect(amountText(amount, decimals)).toBe(part);
  expect(amountText(percentOf(amount, tax), decimals)).toBe(taxed);
});

describe('an amount', () => {
  test('of ten cents, three times, is thirty cents, which floats do not make of it', () => {
    expect(0.1 + 0.1 + 0.1).not.toBe(0.3);
    const ten = minorUnits('0.1', 2)!;
    expect(amountText(ten + ten + ten, 2)).toBe('0.30');
  });

  test('half a cent goes away from nothing, a discount too', () => {
    expect([percentOf(50n, '1'), percentOf(-50n, '1'), percentOf(49n, '1')]).toEqual([1n, -1n, 0n]);
    expect(amountText(minorUnits('-12.5', 2)!, 2)).toBe('-12.50');
  });

  test.each(['1.250', '12,50', '1e3', '', '.5', '5.', '0x10', '12 EUR'])('%j is none with two decimals', (written) => {
    expect(minorUnits(written, 2)).toBeUndefined();
  });
});
