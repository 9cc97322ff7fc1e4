/** What a meter says, as it is typed with a thumb. */

export interface Reading {
  readonly value?: number;
  /** Why it is no number that can be used, to be shown beside it. */
  readonly fault?: string;
}

/** The numbers that a take sheet takes. */
const limits = {
  lux: { least: 0.01, most: 200_000, unit: 'lx' },
  kelvin: { least: 1000, most: 40_000, unit: 'K' },
} as const;

/** Nothing at all for an empty field. A comma is a point, but not where it may part thousands: `1,140` is read by nobody. */
export function readingOf(typed: string, kind: keyof typeof limits): Reading {
  const { least, most, unit } = limits[kind];
  const text = typed
    .trim()
    .replace(/\s*(?:lx|lux|k)$/i, '')
    .replace(/(?<=\d) (?=\d{3})/g, '');
  if (text === '') return {};
  if (/^\d{1,3}[.,]\d{3}$/.test(text)) {
    const [whole, rest] = text.split(/[.,]/);
    return {
      fault: `Is that ${whole}${rest} ${unit} or ${whole}.${rest!.replace(/0+$/, '') || '0'} ${unit}? Write it without parting thousands.`,
    };
  }
  if (!/^\d{1,8}(?:[.,]\d{1,9})?$/.test(text))
    return { fault: `“${typed.trim()}” is no number. Write it like ${kind === 'lux' ? '1140' : '4900'}.` };
  const value = Number(text.replace(',', '.'));
  if (value < least || value > most)
    return { fault: `${value} ${unit} is outside what a meter says here, ${least} to ${most} ${unit}.` };
  return { value };
}
