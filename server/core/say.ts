/** Numbers as the trade writes them, for messages, fixes and hovers. A fix writes what these give, so they parse back. */

/** Numbers beyond are said as this one: from 1e21 on they would be written with an exponent, and in the end as Infinity. */
const largest = 1e15;

/** At most `digits` decimals, without trailing zeros; never with an exponent. */
export function num(value: number, digits = 1): string {
  const rounded = Number(Math.min(largest, Math.max(-largest, value)).toFixed(Math.min(digits, 6)));
  return String(Object.is(rounded, -0) ? 0 : rounded);
}

/** `1/50 s`, `0.5 s`, `2 s`. */
export function shutterText(seconds: number): string {
  if (seconds >= 0.3) return `${num(seconds, 2)} s`;
  const inverse = 1 / seconds;
  const digits = Math.abs(inverse - Math.round(inverse)) < 0.005 || inverse >= 1000 ? 0 : inverse >= 100 ? 1 : 2;
  return `1/${num(inverse, digits)} s`;
}

/** `20 000`: whole numbers in groups of three. */
export function groupedText(value: number): string {
  return num(value, 0).replace(/\B(?=(\d{3})+$)/g, ' ');
}

/** `180°`, `172.8°`. */
export function angleText(degrees: number, digits = 1): string {
  return `${num(degrees, digits)}°`;
}

/** `12 mm`, `45 cm`, `2.5 m`: the unit that reads best. */
export function lengthText(mm: number): string {
  const size = Math.abs(mm);
  if (size < 1) return `${num(mm, 2)} mm`;
  if (size < 100) return `${num(mm, size < 10 ? 1 : 0)} mm`;
  if (size < 10_000) return `${num(mm / 10, size < 1000 ? 1 : 0)} cm`;
  return `${num(mm / 1000, 1)} m`;
}

/** Two lengths that are held against each other, in the unit of the longer one. */
export function lengthPair(a: number, b: number): [string, string] {
  const most = Math.max(Math.abs(a), Math.abs(b));
  if (most < 100) return [lengthText(a), lengthText(b)];
  const [each, unit] = most < 10_000 ? [10, 'cm'] : [1000, 'm'];
  const text = (mm: number) => `${num(mm / each, Math.abs(mm) < 1000 ? 1 : 0)} ${unit}`;
  return [text(a), text(b)];
}

/** `13.8 m x 7.8 m`, `45 cm x 25 cm`: both in the unit that reads best for the larger. */
export function lengthsText(widthMm: number, heightMm: number): string {
  const largest = lengthText(Math.max(widthMm, heightMm)).replace(/^[-\d.]+ /, '');
  const text = (mm: number) => {
    if (largest === 'm') return `${num(mm / 1000, 1)} m`;
    return largest === 'cm' && mm >= 10 ? `${num(mm / 10, 1)} cm` : lengthText(mm);
  };
  return `${text(widthMm)} x ${text(heightMm)}`;
}

/** More than lies between the sun and starlight, so that the number itself tells nothing. */
const mostStops = 40;

/** `0.3 stop`, `1 stop`, `2.5 stops`. */
export function stopsText(stops: number): string {
  if (Math.abs(stops) > mostStops) return `more than ${mostStops} stops`;
  const text = num(Math.abs(stops), 1);
  return `${text} ${Number(text) > 1 ? 'stops' : 'stop'}`;
}

/** Half of the third of a stop in which cameras are set: no setting comes nearer to what is planned. */
export const asPlannedStops = 1 / 6;

/** `0.3 stop brighter`, `1 stop darker`, `as bright`. */
export function brighterText(stops: number): string {
  if (Math.abs(stops) < 0.05) return 'as bright';
  return `${stopsText(stops)} ${stops > 0 ? 'brighter' : 'darker'}`;
}

/** `5600 K`. */
export function kelvinText(kelvin: number): string {
  return `${Math.round(kelvin)} K`;
}

/** `once`, `twice`, `3 times`, `0.5 times`. */
export function timesText(times: number, digits = 1): string {
  const text = num(times, digits);
  return text === '1' ? 'once' : text === '2' ? 'twice' : `${text} times`;
}

/** `1 pixel`, `1.5 pixels`. */
export function pixelsText(pixels: number, digits = 1): string {
  const text = num(pixels, digits);
  return `${text} ${text === '1' ? 'pixel' : 'pixels'}`;
}

/** `60 %` from 0.6. */
export function percentText(share: number, digits = 0): string {
  return `${num(share * 100, digits)} %`;
}

/** `1.5 s`, `90 s`: as a spec may have it. */
export function secondsText(seconds: number, digits = 2): string {
  return `${num(seconds, digits)} s`;
}

/** `09:50`; after midnight the hours go on from 0. */
export function clockText(minutes: number): string {
  const whole = Math.round(minutes);
  const [hours, rest] = [Math.floor(whole / 60) % 24, ((whole % 60) + 60) % 60];
  return `${String(hours).padStart(2, '0')}:${String(rest).padStart(2, '0')}`;
}

/** Hours and minutes for a day's work: `9 h 40 min`, `25 min`. */
export function hoursText(seconds: number): string {
  const minutes = Math.round(seconds / 60);
  const hours = Math.floor(minutes / 60);
  return [hours ? `${hours} h` : '', minutes % 60 || !hours ? `${minutes % 60} min` : ''].filter(Boolean).join(' ');
}

/** `f/2.8`. */
export function apertureText(n: number): string {
  return `f/${num(n, n < 10 ? 1 : 0)}`;
}

/** `20 Mb/s`. */
export function bitRateText(bitsPerSecond: number): string {
  if (bitsPerSecond >= 1e9) return `${num(bitsPerSecond / 1e9, 2)} Gb/s`;
  return bitsPerSecond >= 1e6 ? `${num(bitsPerSecond / 1e6, 1)} Mb/s` : `${num(bitsPerSecond / 1e3, 0)} kb/s`;
}

/** `80 MB`, `1.2 GB` (powers of 1000). */
export function bytesText(bytes: number): string {
  if (bytes >= 1e12) return `${num(bytes / 1e12, 2)} TB`;
  if (bytes >= 1e9) return `${num(bytes / 1e9, 1)} GB`;
  return bytes >= 1e6 ? `${num(bytes / 1e6, 1)} MB` : `${num(bytes / 1e3, 0)} kB`;
}

/** `1920x1080`. */
export function rasterText(raster: { width: number; height: number }): string {
  return `${raster.width}x${raster.height}`;
}

/** Starlight. */
const leastLux = 0.001;

/** `800 lx`, to three figures. */
export function luxText(lux: number): string {
  if (lux > 0 && lux < leastLux) return `less than ${leastLux} lx`;
  return `${num(Number(lux.toPrecision(3)), 6)} lx`;
}

/** `2026-12-02` from days since 1970-01-01. */
export function dateText(days: number): string {
  return new Date(days * 86_400_000).toISOString().slice(0, 10);
}

/** So much of a value is quoted: the finding points at all of it. */
const mostQuoted = 80;

/** A piece of the user's text, cut where it would fill the screen. */
export function shown(text: string, most = mostQuoted): string {
  return text.length <= most ? text : `${text.slice(0, most - 1).replace(/[\ud800-\udbff]$|\s+$/, '')}…`;
}

/** The user's own words, marked so that they stand out and can't be taken for ours. */
export function quoted(text: string): string {
  return `\`${shown(text).replaceAll('`', "'")}\``;
}

/** A message as it is printed, where what is quoted stands in quotation marks. */
export function inPrint(message: string): string {
  return message.replace(/`([^`]*)`/g, '“$1”');
}

/** No clause of our own is longer. */
const mostWords = 2 * mostQuoted;

/** Words for a message, in which lists may be; each of their items is cut. */
export function shownEach(text: string): string {
  if (text.length <= mostWords) return text;
  const parts = text.split(/(, | and | or |; )/);
  return shown(parts.map((part) => shown(part, mostWords)).join(''), mostQuoted * 5);
}

/** `a`, `a and b`, `a, b and c`. */
export function listText(items: readonly string[], last = 'and'): string {
  if (items.length < 2) return items[0] ?? '';
  return `${items.slice(0, -1).join(', ')} ${last} ${items.at(-1)}`;
}

/** The first `most` of them, and how many more there are: `a, b and 3 more`. */
export function listFirst(items: readonly string[], most: number): string {
  const more = items.length > most ? [`${items.length - most} more`] : [];
  return listText([...items.slice(0, most), ...more]);
}
