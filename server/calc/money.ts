/** Money in whole numbers of a currency's smallest unit (cents), so that sums are exact: no amount is ever a float. */

/**
 * How many decimals the amounts of a currency have: those of ISO 4217 for one of its codes, which every JavaScript knows
 * (ECMA-402, CurrencyDigits), and 2 for a sign or a word.
 */
export function decimalsOf(currency: string | undefined): number {
  if (currency === undefined || !/^[A-Z]{3}$/.test(currency)) return 2;
  return new Intl.NumberFormat('en', { style: 'currency', currency }).resolvedOptions().maximumFractionDigits ?? 2;
}

/** `12.5` as 1250 where there are two decimals; undefined for what is no plain number or has more of them. */
export function minorUnits(text: string, decimals: number): bigint | undefined {
  const [, sign, whole, rest = ''] = /^([+-]?)(\d{1,12})(?:\.(\d+))?$/.exec(text) ?? [];
  if (whole === undefined || rest.length > decimals) return undefined;
  const units = BigInt(whole + rest.padEnd(decimals, '0'));
  return sign === '-' ? -units : units;
}

/** `1 234.50`, with all decimals of its currency. */
export function amountText(units: bigint, decimals: number): string {
  const digits = String(units < 0n ? -units : units).padStart(decimals + 1, '0');
  const whole = digits.slice(0, digits.length - decimals).replace(/\B(?=(\d{3})+$)/g, ' ');
  return `${units < 0n ? '-' : ''}${whole}${decimals > 0 ? `.${digits.slice(-decimals)}` : ''}`;
}

/** A share of an amount, rounded to whole units, halves away from nothing (DIN 1333, 4.5.1). */
export function partOf(units: bigint, numerator: bigint, denominator: bigint): bigint {
  const [size, sign] = units < 0n ? [-units, -1n] : [units, 1n];
  return (sign * (2n * size * numerator + denominator)) / (2n * denominator);
}

/** So much of an amount as a percentage says, which is a plain number such as `7.7`. */
export function percentOf(units: bigint, percent: string): bigint {
  const [whole = '0', rest = ''] = percent.split('.');
  return partOf(units, BigInt(whole + rest), 100n * 10n ** BigInt(rest.length));
}
