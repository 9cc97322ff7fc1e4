/** What a plan says in the words of somebody who makes no films. */
import type { Deliverable, Film } from '../../core/film.ts';
import { runsS } from '../../core/derived/edit.ts';
import * as say from '../../core/say.ts';
import type { Ends, Raster, Seconds } from '../../core/units.ts';

/** A name of the spec as words: `hand-turns` is `hand turns`. */
export function plain(name: string): string {
  return name.replaceAll('-', ' ');
}

/** Marked as the user's own. */
export function called(name: string): string {
  return `“${plain(name)}”`;
}

const days = new Intl.DateTimeFormat('en-GB', { timeZone: 'UTC', dateStyle: 'full' });

const dates = new Intl.DateTimeFormat('en-GB', { timeZone: 'UTC', dateStyle: 'long' });

/** `2 December 2026`. */
function dateText(day: number): string {
  return dates.format(new Date(day * 86_400_000));
}

/** `Wednesday 2 December 2026`, from days since 1970-01-01. */
export function dayText(day: number): string {
  return days.format(new Date(day * 86_400_000)).replace(',', '');
}

/** `24 seconds`, `1 minute 30 seconds`. */
export function durationText(seconds: Seconds): string {
  const tenths = Math.round(seconds * 10) / 10;
  const [minutes, rest] = [Math.floor(tenths / 60), Math.round((tenths % 60) * 10) / 10];
  const parts = [minutes > 0 && counted(minutes, 'minute'), (rest > 0 || minutes === 0) && counted(rest, 'second')];
  return parts.filter(Boolean).join(' ');
}

function counted(count: number, one: string): string {
  return `${count} ${one}${count === 1 ? '' : 's'}`;
}

/** `wide picture, 16:9`. */
export function shapeText({ width, height }: Raster): string {
  const shape = width === height ? 'square' : width > height ? 'wide' : 'upright';
  const whole = Array.from({ length: 21 }, (_, index) => index + 1).find(
    (one) => Math.abs((height * one) / width - Math.round((height * one) / width)) < 0.002 * one,
  );
  const ratio =
    whole === undefined ? `${say.num(width / height, 2)}:1` : `${whole}:${Math.round((height * whole) / width)}`;
  return `${shape} picture, ${ratio}`;
}

const places: Readonly<Record<string, string>> = {
  web: 'on the web',
  social: 'in social media',
  broadcast: 'on television',
  cinema: 'in cinemas',
  event: 'at events',
  internal: 'inside the company',
};

export function placesText(shownOn: readonly string[]): string {
  return say.listText(shownOn.map((one) => places[one] ?? plain(one)));
}

export function territoryText(territory: readonly string[]): string {
  if (territory.includes('worldwide')) return 'worldwide';
  return say.listText(territory.map((one) => (one === 'EEA' ? 'the European Economic Area' : countryName(one))));
}

const countries = new Intl.DisplayNames('en-GB', { type: 'region' });

function countryName(code: string): string {
  return /^[A-Z]{2}$/.test(code) ? (countries.of(code) ?? code) : code;
}

/** One deliverable in a few sentences, of what is known alone. */
export function deliverableText(one: Deliverable, film: Film): string {
  const runs = one.lengthS ?? runsS(one, film);
  const sound = one.sound === 'none' ? 'without sound' : 'with sound';
  const form = [one.raster && shapeText(one.raster.value), runs !== undefined && durationText(runs), sound];
  const where = [
    one.fields.said('shown-on') && placesText(one.shownOn),
    one.fields.said('territory') && territoryText(one.territory),
    one.published && periodText(one.published.value),
  ];
  const leftOut = one.needNotShow.map(({ value }) => plain(value));
  return [
    form,
    where.some(Boolean) && ['shown', ...where],
    one.preview && ['a still stands in its place before it plays'],
    one.loop && ['it runs on without a jump where it starts again'],
    leftOut.length > 0 && [`it need not show ${say.listText(leftOut)}`],
  ]
    .flatMap((parts) => (parts ? sentence(parts) : []))
    .join(' ');
}

/** One day alone is the first. */
function periodText({ from, to }: Ends): string {
  return from === to ? `from ${dateText(from)}` : `from ${dateText(from)} to ${dateText(to)}`;
}

/** What there is of it, after its first word with commas between. */
function sentence(parts: readonly (string | false | undefined)[]): string {
  const said = parts
    .filter(Boolean)
    .join(', ')
    .replace(/^shown, /, 'shown ');
  return `${capital(said)}.`;
}

export function capital(words: string): string {
  return words.slice(0, 1).toUpperCase() + words.slice(1);
}

/** What each word of `on-purpose` means to somebody who looks at the film. */
export const purposeWords: Readonly<Record<string, string>> = {
  'staccato-motion': 'movement is crisp and a little jerky',
  'smeared-motion': 'movement is drawn out softly',
  'frozen-motion': 'movement is frozen sharp',
  'flowing-motion': 'movement flows into soft streaks',
  'stuttering-speed': 'the slowed movement stutters',
  'shallow-focus': 'only a thin part is sharp, and the rest is soft',
  'deep-focus': 'all is sharp from front to back',
  'soft-picture': 'the picture is a little soft',
  'sharp-backdrop': 'what lies behind is sharp too',
  'mixed-light': 'lights of different colours are mixed',
  'warm-cast': 'colours are warmer than in daylight',
  'cool-cast': 'colours are cooler than in daylight',
  'low-key': 'the picture is dark, and little in it is bright',
  'high-key': 'the picture is bright, almost without shadows',
  silhouette: 'the product is a dark outline',
  'uneven-light': 'light falls unevenly',
  'flat-grade': 'contrast and colours are held back',
  grain: 'the picture has a grain',
  'tight-framing': 'the product comes close to the edge of the picture, or over it',
  'small-in-frame': 'the product is small in the picture',
  'wide-near': 'the product is seen from very near, which exaggerates its shape',
  'fast-push-in': 'the picture closes in fast',
  'off-beat': 'the film cuts against the beat of the music',
  'jump-cuts': 'the picture jumps from one view to nearly the same',
};
