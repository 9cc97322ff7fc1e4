/**
 * From a value that can't be read to the value meant, where only its spelling is wrong. What counts as right is
 * decided by the pattern of the field and nowhere here: a repair that does not fit it is no repair.
 */
import { countryMeant, isCountry } from './country.ts';
import { unitMeant, withUnit } from '../quantities/families.ts';
import { quantityNamed } from '../quantities/table.ts';
import { isNumber, type RawField } from './fields.ts';

export interface Repair {
  readonly text: string;
  /** False when the value meant had to be guessed. */
  readonly safe: boolean;
  /** What is wrong with the spelling, as the end of "`x` …". */
  readonly why: string;
  /** What else may be meant. */
  readonly others?: readonly string[];
}

/** The unit that somebody meant by a word, in one kind of quantity. */
function unitOf(quantity: string, word: string): string | undefined {
  // A small b is a bit and a big B a byte: eight times as much, and so no matter of spelling.
  if (quantity === 'bit-rate' && word.includes('B')) return undefined;
  if (quantity === 'byte-rate' && !word.includes('B')) return undefined;
  if (quantity === 'bytes' && /[kKMGT]i?b$/.test(word) && word !== 'kb') return undefined;
  for (const family of quantityNamed(quantity)?.families ?? []) {
    const unit = unitMeant(family, word);
    if (unit) return unit;
  }
  return undefined;
}

/** The value meant, where there is one that the field takes. */
export function repair(field: RawField, text: string): Repair | undefined {
  if (text.length > 80) return undefined;
  for (const candidate of candidates(field, text)) {
    if (candidate.text !== text && fits(field, candidate.text)) return candidate;
  }
  return undefined;
}

/**
 * `iso: 12.800`, `5.600 K`: a number that fits but is a thousandth of what is meant, as nobody writes three decimals of
 * what is counted in hundreds and thousands.
 */
export function thousandsMeant(field: RawField, text: string): string | undefined {
  const isLarge =
    field['x-quantity'] === 'kelvin' || (field['x-quantity'] === 'number' && (field.maximum ?? 0) >= 1_000_000);
  if (!isLarge || !fits(field, text)) return undefined;
  const meant = text.replace(/(?<![\d.])([1-9]\d{0,2})\.(\d{3})(?![\d.])/g, '$1$2');
  return meant !== text && fits(field, meant) ? meant : undefined;
}

/** Why a number alone is not enough. */
export const noUnit = 'has no unit';

const plainNumber = /^[+-]?\d+(?:\.\d+)?$/;

/** Whether a text is a value that the field takes. */
export function fits(field: RawField, text: string): boolean {
  const types = typeof field.type === 'string' ? [field.type] : (field.type ?? []);
  if ((types.includes('number') || types.includes('integer')) && isNumber(field, text)) {
    const value = Number(text);
    if (types.includes('integer') && !Number.isInteger(value)) return false;
    if (field.minimum !== undefined && value < field.minimum) return false;
    if (field.exclusiveMinimum !== undefined && value <= field.exclusiveMinimum) return false;
    return field.maximum === undefined || value <= field.maximum;
  }
  if (!types.includes('string')) return false;
  if (field.pattern !== undefined) return new RegExp(field.pattern, 'u').test(text);
  return field.enum?.includes(text) ?? false;
}

/** Quotes that only people take for quotes: curly, low and pointed ones. */
const otherQuotes = /^[“”„‟«»‘’‚‛‹›]\s*(.*?)\s*[“”„‟«»‘’‚‛‹›]$/;

function* candidates(field: RawField, written: string): Generator<Repair> {
  const inQuotes = otherQuotes.exec(written)?.[1];
  if (inQuotes !== undefined) {
    const why = 'stands in quotes that YAML takes for letters';
    if (fits(field, inQuotes)) yield { text: inQuotes, safe: true, why };
    for (const one of candidates(field, inQuotes)) yield { ...one, why };
  }
  const quantity = field['x-quantity'] ?? '';
  const plain = written
    .replace(/[\u00a0\u2000-\u200a\u202f\u3000]/g, ' ')
    .replace(/[−‐‑]/g, '-')
    .replace(/[º˚]/g, '°')
    .replace(/[⁄∕／]/g, '/')
    .replace(/\s+/g, ' ')
    .trim();
  yield { text: plain, safe: true, why: 'has a sign or space that looks right and is another one' };
  const exact = plain.replace(/^(?:[~≈] ?|about |approx\.? |c(?:irc)?a\.? )(?=\d)/i, '');
  if (exact !== plain)
    for (const one of [exact, repairOne(quantity, exact, field)?.text ?? exact])
      yield { text: one, safe: true, why: 'is written without a word for about' };
  const special = specials[alike[quantity] ?? quantity];
  if (special) yield* special(plain, field);
  const lower = plain.toLowerCase();
  for (const word of field['x-special'] ?? []) {
    if (word === lower) yield { text: word, safe: true, why: 'is written in small letters' };
  }
  if (field['x-ends']) yield* twoEnds(quantity, plain, field);
  const one = repairOne(quantity, plain, field);
  if (one) yield one;
}

/** `50-60 cm`, `50 cm - 60 cm`, `50 to 60 cm`, `50 cm..60 cm`. */
function* twoEnds(quantity: string, text: string, field: RawField): Generator<Repair> {
  const match = /^(.+?)\s*(?: to | until | - |–|—|\.{2,3}|->|→|(?<=\S)-(?=\d))\s*(.+)$/.exec(text);
  if (!match) return;
  const [first, second] = [match[1]!, match[2]!];
  const end = right(quantity, second, field);
  if (end === undefined) return;
  const bare = plainNumber.test(first);
  const start =
    bare && quantity !== 'number' && quantity !== 'times'
      ? right(quantity, `${first} ${unitBehind(end)}`, field)
      : right(quantity, first, field);
  if (start === undefined) return;
  const why = text.includes(' to ')
    ? bare
      ? 'needs a unit at both ends'
      : 'needs its ends in the same form'
    : 'needs the word `to` between its ends';
  yield { text: `${start} to ${end}`, safe: true, why };
}

function unitBehind(text: string): string {
  return text.replace(/^[+-]?[\d.]+ ?/, '');
}

function right(quantity: string, text: string, field: RawField): string | undefined {
  const found = repairOne(quantity, text, field);
  return found?.safe ? found.text : undefined;
}

/** One value without an `A to B`. */
function repairOne(quantity: string, text: string, field: RawField): Repair | undefined {
  const fraction = quantity === 'shutter' ? /^1 ?\/ ?(\d+(?:[.,]\d+)?)(?:th)?(.*)$/.exec(text) : null;
  if (fraction) return oneOver(fraction[1]!, fraction[2]!.trim(), text);
  const match = /^([+-]?\.?\d[\d.,'’_ ]*?)\s*([^\d\s.,'’_].*)?$/.exec(text);
  const number = match && numberMeant(match[1]!);
  if (!number) return undefined;
  const word = match[2]?.trim();
  if (quantityNamed(quantity)?.behindNumber) return bareNumber(quantity, number, word);
  if (quantity === 'aperture') return { text: `f/${number.text}`, safe: !word, why: 'is no f-number as it is written' };
  if (quantity === 'light-output' && /at|@|\//.test(text)) return lightOutput(text, field);
  return word ? otherUnit(quantity, number, word, text) : withoutUnit(quantity, number, field);
}

/** `1/50`, `1/50s`, `1/50th sec`. */
function oneOver(number: string, unit: string, text: string): Repair | undefined {
  if (unit && unitMeant('time', unit) !== 's') return undefined;
  return { text: `1/${number.replace(',', '.')} s`, safe: true, why: unit ? spacing(text) : noUnit };
}

function otherUnit(quantity: string, number: NumberMeant, word: string, text: string): Repair | undefined {
  const unit = unitOf(quantity, word);
  const near = unit ? undefined : quantityNamed(quantity)?.near;
  if (near?.for.test(word)) return { text: withUnit(number.text, near.unit), safe: false, why: near.why };
  if (!unit) return undefined;
  const isSame = unit === word || unit === `${word}s`;
  const why = number.why ?? (isSame ? spacing(text) : 'has its unit written in another way');
  return { text: withUnit(number.text, unit), safe: true, why };
}

function spacing(text: string): string {
  return /°/.test(text) ? 'needs its degree sign right behind the number' : 'needs one space before its unit';
}

interface NumberMeant {
  readonly text: string;
  readonly why?: string;
}

/** Thousands marks, decimal commas and missing noughts. */
function numberMeant(written: string): NumberMeant | undefined {
  const text = written.trim();
  if (plainNumber.test(text)) return { text };
  if (/^[+-]?\d{1,3}(?:[,'’_ ]\d{3})+(?:\.\d+)?$/.test(text)) {
    return { text: text.replace(/[,'’_ ]/g, ''), why: 'has a mark between its thousands' };
  }
  if (/^[+-]?\d+,\d+$/.test(text)) return { text: text.replace(',', '.'), why: 'has a decimal comma' };
  if (/^[+-]?\.\d+$/.test(text)) return { text: text.replace('.', '0.'), why: 'needs a 0 before its point' };
  if (/^[+-]?\d+\.$/.test(text)) return { text: text.slice(0, -1), why: 'ends in a point' };
  if (/^[+-]?\d+(?:_\d+)+$/.test(text)) return { text: text.replaceAll('_', ''), why: 'has a mark between its digits' };
  return undefined;
}

function bareNumber(quantity: string, number: NumberMeant, word: string | undefined): Repair | undefined {
  if (!word)
    return number.why
      ? { text: number.text, safe: true, why: number.why }
      : { text: number.text, safe: true, why: 'is written bare' };
  if (quantityNamed(quantity)?.behindNumber?.test(word))
    return { text: number.text, safe: true, why: 'is written without a unit here' };
  if (quantity === 'times' && word === '%') {
    return {
      text: String(Number((Number(number.text) / 100).toFixed(4))),
      safe: true,
      why: 'is a share, and times are wanted',
    };
  }
  return undefined;
}

/** Of several units the one that the example of the field has: offered, never taken for granted. */
function exampleUnit(field: RawField): string | undefined {
  const [first] = field.examples ?? [];
  return typeof first === 'string' ? / ([a-zA-Z/]+)$/.exec(first)?.[1] : undefined;
}

function withoutUnit(quantity: string, number: NumberMeant, field: RawField): Repair | undefined {
  const only = quantityNamed(quantity)?.onlyUnit;
  const why = noUnit;
  if (quantity === 'share' && Math.abs(Number(number.text)) < 1 && Number(number.text) !== 0) {
    return { text: `${Number((Number(number.text) * 100).toFixed(4))} %`, safe: false, why };
  }
  if (quantity === 'shutter') {
    const value = Number(number.text);
    if (value > 0 && value < 1) return { text: `${number.text} s`, safe: true, why };
    return {
      text: value >= 90 && value <= 360 && value % 45 === 0 ? withUnit(number.text, '°') : `1/${number.text} s`,
      safe: false,
      why,
    };
  }
  if (only) return { text: withUnit(number.text, only), safe: true, why };
  const usual = exampleUnit(field);
  if (!usual || !unitOf(quantity, usual)) return undefined;
  // Beats are counted from the music, and there may be none.
  const others = usual === 'beats' ? { others: [withUnit(number.text, 's')] } : {};
  return { text: withUnit(number.text, usual), safe: false, why, ...others };
}

/** `2600lx at 1m`, `2600 lux @ 1 m`, `2600 lx/1m`. */
function lightOutput(text: string, field: RawField): Repair | undefined {
  const parts = /^(.+?)\s*(?: at |@|\/)\s*(\d.*)$/.exec(text);
  if (!parts) return undefined;
  const light = right('lux', parts[1]!, field);
  const place = right('length', parts[2]!, field);
  return light && place
    ? { text: `${light} at ${place}`, safe: true, why: 'is not written as light at a distance' }
    : undefined;
}

type Special = (text: string, field: RawField) => Generator<Repair>;

const known: Readonly<Record<string, string>> = {
  '720p': '1280x720',
  '1080p': '1920x1080',
  '1440p': '2560x1440',
  '4k': '3840x2160',
  uhd: '3840x2160',
  hd: '1920x1080',
  '8k': '7680x4320',
};

/** `20.12.2026`; with strokes only where it is plain which is the month. As the whole, year, month and day. */
function dayFirst(text: string): string[] | undefined {
  const match = /^(\d{1,2})([./-])(\d{1,2})\2 ?(\d{4})$/.exec(text.replace(/\. /g, '.'));
  if (!match) return undefined;
  const [whole, a, sign, b, year] = match as unknown as [string, string, string, string, string];
  if (Number(b) > 12 && sign === '/' && Number(a) <= 12) return [whole, year, a, b];
  return sign === '.' || Number(a) > 12 ? [whole, year, b, a] : undefined;
}

const months = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec'];

/** `2 December 2026`, `Dec 2 2026`. As the whole, year, month and day. */
function monthNamed(text: string): string[] | undefined {
  const [, a, b, year] = /^(\d{1,2}|[a-z]{3,9})\.? (\d{1,2}|[a-z]{3,9})\.?,? (\d{4})$/i.exec(text) ?? [];
  const [name, day] = [a, b].sort((one) => (Number.isNaN(Number(one)) ? -1 : 1));
  const month = months.indexOf(name?.slice(0, 3).toLowerCase() ?? '') + 1;
  return month > 0 && day !== undefined && /^\d+$/.test(day) ? [text, year!, String(month), day] : undefined;
}

/** `1 h 30 min`, `1 min 30 s`: in the smallest of its units. */
function* severalUnits(text: string): Generator<Repair> {
  const parts = /^(?:(\d+) ?h)? ?(?:(\d+) ?min)? ?(?:(\d+(?:\.\d+)?) ?s)?$/.exec(text)?.slice(1) ?? [];
  if (parts.filter((part) => part !== undefined).length < 2) return;
  const [h, min, s] = parts.map((part) => Number(part ?? 0)) as [number, number, number];
  const isFine = parts[2] !== undefined;
  const sum = isFine ? `${(h * 60 + min) * 60 + s} s` : `${h * 60 + min} min`;
  yield { text: sum, safe: true, why: 'has several units, and one is wanted' };
}

/** `de`, `Germany`: the two letters of a country that is meant. */
function countryIn(text: string): Repair | undefined {
  const upper = text.toUpperCase();
  if (isCountry(upper)) return { text: upper, safe: true, why: 'is written in capitals' };
  const meant = countryMeant(text);
  return meant && { text: meant.code, safe: meant.sure, why: 'is no country code of two letters' };
}

/** Quantities that are misspelt like another. */
const alike: Readonly<Record<string, string>> = { box: 'size', direction: 'angle' };

/** Kinds of quantity that are no number with a unit. */
const specials: Readonly<Record<string, Special>> = {
  'real-time': severalUnits,
  'film-time': severalUnits,
  *size(text, field) {
    const match =
      /^([^a-z]+?)\s*([a-z"']+)?\s*(?:x|×|\*|\/|by)\s*([\d.,]+)\s*([a-z"']+)?(?:\s*(?:x|×|\*|\/|by)\s*([\d.,]+)\s*([a-z"']+)?)?$/i.exec(
        text,
      );
    if (!match) return;
    const units = [match[2], match[4], match[6]].filter((unit) => unit !== undefined);
    const numbers = [match[1]!, match[3]!, match[5]]
      .filter((part) => part !== undefined)
      .map((part) => numberMeant(part)?.text);
    if (new Set(units).size > 1 || numbers.includes(undefined)) return;
    const unit = units[0] === undefined ? undefined : unitMeant('length', units[0]);
    if (units[0] !== undefined && !unit) return;
    yield {
      text: `${numbers.join(' x ')} ${unit ?? exampleUnit(field)}`,
      safe: unit !== undefined,
      why: unit ? 'is not written as `9 x 6 x 7 cm` is' : noUnit,
    };
  },
  *raster(text) {
    const match = /^(\d+)\s*(?:x|×|\*|by)\s*(\d+)\s*(?:px|pixels)?$/i.exec(text);
    if (match) yield { text: `${match[1]}x${match[2]}`, safe: true, why: 'is written without spaces and unit' };
    const points = /^\d{1,2}\.\d{3} ?[x×] ?\d{1,2}\.\d{3}$/i.test(text);
    if (points) {
      const plain = text.replaceAll('.', '').replace(/ ?[x×] ?/i, 'x');
      yield { text: plain, safe: true, why: 'has a mark between its thousands' };
    }
    const name = known[text.toLowerCase()];
    if (name) yield { text: name, safe: false, why: 'is a name, and pixels are wanted' };
  },
  *aperture(text) {
    const match = /^(?:[fƒ] ?[/:]? ?|1:)(\d+(?:[.,]\d+)?)$/i.exec(text);
    if (match) yield { text: `f/${match[1]!.replace(',', '.')}`, safe: true, why: 'is no f-number as it is written' };
    const ends = /^(?:[fƒ] ?[/:]? ?)(\d+(?:[.,]\d+)?)\s*(?:to|-|–|\.\.)\s*(?:[fƒ] ?[/:]? ?)?(\d+(?:[.,]\d+)?)$/i.exec(
      text,
    );
    if (ends)
      yield {
        text: `f/${ends[1]!.replace(',', '.')} to f/${ends[2]!.replace(',', '.')}`,
        safe: true,
        why: 'is not written as `f/1.7 to f/22` is',
      };
  },
  *number(text) {
    const match = /^(?:iso|asa) ?(\d+)$/i.exec(text);
    if (match) yield { text: match[1]!, safe: true, why: 'is written without a unit here' };
  },
  *colour(text) {
    const six = /^(?:#|0x)?([0-9a-f]{6})(?:ff)?$/i.exec(text);
    if (six) yield { text: `#${six[1]!.toLowerCase()}`, safe: true, why: 'is no colour as it is written' };
    const three = /^#?([0-9a-f])([0-9a-f])([0-9a-f])$/i.exec(text);
    if (three)
      yield {
        text: `#${three
          .slice(1, 4)
          .map((digit) => digit + digit)
          .join('')
          .toLowerCase()}`,
        safe: true,
        why: 'has three digits, and six are wanted',
      };
  },
  *date(text) {
    const one = (day: string) => {
      const plain = day.trim();
      const match = /^(\d{4})[-/. ]?(\d{1,2})[-/. ]?(\d{1,2})$/.exec(plain) ?? dayFirst(plain) ?? monthNamed(plain);
      return match ? `${match[1]}-${match[2]!.padStart(2, '0')}-${match[3]!.padStart(2, '0')}` : undefined;
    };
    const ends = text.split(/\s+(?:to|until|-|–|—)\s+|–|\.{2,3}/).map(one);
    if (!ends.includes(undefined)) yield { text: ends.join(' to '), safe: true, why: 'is written as year-month-day' };
  },
  *hours(text) {
    const one = (hour: string) => {
      const match = /^(\d{1,2})(?:[:.h](\d{2})?)? ?([ap]m)?$/i.exec(hour.trim());
      if (!match) return undefined;
      const half = match[3]?.toLowerCase();
      const from12 = half === undefined ? Number(match[1]) : (Number(match[1]) % 12) + (half === 'pm' ? 12 : 0);
      return `${String(from12).padStart(2, '0')}:${match[2] ?? '00'}`;
    };
    const ends = text.split(/\s*(?: to | until |-|–|—|\.{2,3})\s*/).map(one);
    if (!ends.includes(undefined))
      yield { text: ends.join(' to '), safe: true, why: 'is written with two digits for hours and minutes' };
  },
  *region(text) {
    const match = /^([^\d,/]*?)[ ,/]*(?:(\d+) ?v)?[ ,/]*(?:(\d+) ?hz)?$/i.exec(text);
    if (!match) return;
    const country = countryIn(match[1]!);
    if (match[1] && !country) return;
    const parts = [country?.text, match[2] && `${match[2]} V`, match[3] && `${match[3]} Hz`].filter(Boolean);
    const why = 'is written as country, volts and hertz';
    yield {
      text: parts.join(' '),
      safe: country?.safe ?? true,
      why: match[2] || match[3] ? why : (country?.why ?? why),
    };
  },
  *country(text) {
    const word = ['EEA', 'worldwide'].find((one) => one.toLowerCase() === text.toLowerCase());
    if (word) yield { text: word, safe: true, why: 'is not written as it is here' };
    const country = countryIn(text);
    if (country) yield country;
  },
  *chroma(text) {
    const match = /^4[:\-/. ]?([024])[:\-/. ]?([024])$/.exec(text);
    if (match) yield { text: `4:${match[1]}:${match[2]}`, safe: true, why: 'is written with colons' };
  },
  *angle(text) {
    const side = /^(\d+(?:\.\d+)?) ?(?:°|deg|degrees?)?,? ?(?:camera[- ])?(left|right)$/i.exec(text);
    if (side)
      yield { text: `${side[1]}° ${side[2]!.toLowerCase()}`, safe: true, why: 'is not written as `50° left` is' };
  },
};
