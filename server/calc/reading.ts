/** Titles: how long reading takes and how tall letters must be where the film is watched. */

/** Words of a text, split at blanks; a figure and its unit (`11 oz`) are read as one. */
export function countWords(text: string): number {
  return text
    .replace(/(\d)\s+(?=\p{L}{1,3}(?![\p{L}\p{N}]))/gu, '$1')
    .split(/\s+/u)
    .filter((word) => /[\p{L}\p{N}]/u.test(word)).length;
}

/**
 * What readers see as one character: a flag of two letters, else one with its marks, skin colours and whatever is joined
 * to it. (The engine's own segmenter takes minutes for a long text.)
 */
const seenAsOne = /\p{Regional_Indicator}{2}|[^](?:[\p{M}\p{Cf}\p{Emoji_Modifier}]|(?<=\u200d)[^])*/gu;

/** Characters of a text as readers see them; runs of blanks and line breaks count as one. */
export function countCharacters(text: string): number {
  return (text.trim().replace(/\s+/gu, ' ').normalize('NFC').match(seenAsOne) ?? []).length;
}

export interface ReadingSpeed {
  readonly wordsPerMinute: number;
  readonly charactersPerS: number;
  /** Shortest time that any text is up, in all, s. */
  readonly floorS: number;
  /** What is added, s: at a published pace people look at the picture too, so that finding the words is in it. */
  readonly noticeS: number;
}

/** 160 words a minute (BBC subtitle guidelines 160 to 180), 15 characters a second and 5/6 s (subtitling practice). */
export const usualReading: ReadingSpeed = { wordsPerMinute: 160, charactersPerS: 15, floorS: 5 / 6, noticeS: 0 };

/** A second more: what nobody has to hurry for (common practice, no source). */
export const easyReading: ReadingSpeed = { ...usualReading, noticeS: 1 };

/** Seconds that a text must stand, fades not counted: max(words × 60 ÷ 160, characters ÷ 15), 5/6 at least. */
export function holdS(text: string, speed: ReadingSpeed = usualReading): number {
  const words = (countWords(text) * 60) / speed.wordsPerMinute;
  return Math.max(Math.max(words, countCharacters(text) / speed.charactersPerS) + speed.noticeS, speed.floorS);
}

/** Seconds that saying a text takes at a pace, pauses within it included. */
export function sayingS(text: string, wordsPerMinute: number): number {
  return (countWords(text) * 60) / wordsPerMinute;
}

/** Words that can be read in `seconds`, by their number alone; 0 when there is not even time to notice. */
export function wordsReadIn(seconds: number, speed: ReadingSpeed = usualReading): number {
  return Math.max(0, Math.floor(((seconds - speed.noticeS) * speed.wordsPerMinute) / 60 + 1e-9));
}

/** Where a film is watched: the screen and how far it is, in one unit of length. */
export interface Viewing {
  readonly screenWidth: number;
  readonly screenHeight: number;
  readonly distance: number;
}

export type ViewedOn = 'phone-upright' | 'phone-sideways' | 'desk' | 'television' | 'cinema';

/**
 * Viewing by place. Phone: 68 × 147 mm at 35 cm; desk: 531 × 299 mm at 60 cm; both common practice, no source.
 * Television and cinema: three picture heights (the design distance of 1080 lines, ITU-R BT.709 practice).
 */
export const viewings: Readonly<Record<ViewedOn, Viewing>> = {
  'phone-upright': { screenWidth: 68, screenHeight: 147, distance: 350 },
  'phone-sideways': { screenWidth: 147, screenHeight: 68, distance: 350 },
  desk: { screenWidth: 531, screenHeight: 299, distance: 600 },
  television: { screenWidth: 16, screenHeight: 9, distance: 27 },
  cinema: { screenWidth: 16, screenHeight: 9, distance: 27 },
};

/** Height of a letter seen under `minutes` of arc from a distance, in the distance's unit: h = 6.283·D·MA ÷ 21600 (NUREG-0700 1.3.1-4). */
export function letterHeight(distance: number, minutes: number): number {
  return (2 * Math.PI * distance * minutes) / 21600;
}

/** Picture pixels for each unit of length when a picture fills a screen as far as its shape lets it. */
export function pixelsPerUnit(widthPx: number, heightPx: number, viewing: Viewing): number {
  return Math.max(widthPx / viewing.screenWidth, heightPx / viewing.screenHeight);
}

/** Smallest letters that can be read, in minutes of arc (ISO 9241-3 as quoted). */
export const leastLetterMinutes = 16;

/** Capital height in picture pixels that is seen under `minutes` of arc. */
export function capitalHeightPx(widthPx: number, heightPx: number, viewing: Viewing, minutes: number): number {
  return letterHeight(viewing.distance, minutes) * pixelsPerUnit(widthPx, heightPx, viewing);
}

/** Minutes of arc under which capitals of `capitalPx` are seen; the inverse. */
export function capitalMinutes(capitalPx: number, widthPx: number, heightPx: number, viewing: Viewing): number {
  return (capitalPx / pixelsPerUnit(widthPx, heightPx, viewing) / viewing.distance / (2 * Math.PI)) * 21600;
}

/** Width of a line in pixels, about 0.6 of the capital height a letter (common practice, no source). */
export function lineWidthPx(text: string, capitalPx: number): number {
  return countCharacters(text) * 0.6 * capitalPx;
}
