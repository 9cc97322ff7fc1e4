/** Words in the letters of a font, as outlines in their place: shaped by the font, in the direction of their script. */
import cyrillic from '@fontsource/inter/files/inter-cyrillic-500-normal.woff';
import greek from '@fontsource/inter/files/inter-greek-500-normal.woff';
import latin from '@fontsource/inter/files/inter-latin-500-normal.woff';
import latinMore from '@fontsource/inter/files/inter-latin-ext-500-normal.woff';
import bidiFactory from 'bidi-js';
import { create, type Font, type Glyph } from 'fontkit';
import type { Ink } from './ink.ts';

/** One font, in several files where it comes so. */
export type Face = readonly Font[];

/** The font that is shipped. */
export const shippedFont = 'Inter';

export function shippedFace(): Face {
  return [latin, latinMore, greek, cyrillic].map((bytes) => create(bytes) as Font);
}

/** Undefined for bytes that are no font. */
export function faceOf(bytes: Uint8Array): Face | undefined {
  try {
    const made = create(bytes);
    const font = 'fonts' in made ? made.fonts[0] : made;
    return font && font.unitsPerEm > 0 && capHeight(font) > 0 ? [font] : undefined;
  } catch {
    return undefined;
  }
}

/** The letters of a text that no file of the font has, each once. */
export function missingIn(text: string, face: Face): string[] {
  return [...new Set([...text].filter((letter) => !isSilent(letter) && !fontFor(letter, face)))];
}

/** Spaces, line ends, and marks that say the direction. */
function isSilent(letter: string): boolean {
  return /^[\s\u200b-\u200f\u202a-\u202e\u2060-\u2069\ufe00-\ufe0f]$/u.test(letter);
}

function fontFor(letter: string, face: Face): Font | undefined {
  return face.find((font) => font.hasGlyphForCodePoint(letter.codePointAt(0)!));
}

interface Placed {
  readonly glyph: Glyph;
  readonly font: Font;
  /** In heights of a capital, from the start of the line and from its foot. */
  readonly x: number;
  readonly y: number;
}

/** One line of words; lengths are counted in heights of a capital. */
export interface Line {
  readonly glyphs: readonly Placed[];
  readonly width: number;
}

const bidi = bidiFactory();

export function lineOf(text: string, face: Face): Line {
  const glyphs: Placed[] = [];
  let x = 0;
  for (const { text: words, font, isRightToLeft } of inOrder(runsOf(text, face))) {
    const scale = 1 / capHeight(font);
    const { glyphs: shaped, positions } = font.layout(
      words,
      undefined,
      undefined,
      undefined,
      isRightToLeft ? 'rtl' : 'ltr',
    );
    shaped.forEach((glyph, at) => {
      const { xAdvance, xOffset, yOffset } = positions[at]!;
      glyphs.push({ glyph, font, x: x + xOffset * scale, y: yOffset * scale });
      x += xAdvance * scale;
    });
  }
  return { glyphs, width: x };
}

export function inkLine(ink: Ink, { glyphs }: Line, capitalPx: number, x: number, footY: number): void {
  for (const { glyph, font, x: atX, y: atY } of glyphs) {
    const scale = capitalPx / capHeight(font);
    ink.add(glyph.path.commands, scale, x + atX * capitalPx, footY - atY * capitalPx);
  }
}

function capHeight(font: Font): number {
  return font.capHeight > 0 ? font.capHeight : font.glyphForCodePoint(72).bbox.maxY;
}

// -- direction -------------------------------------------------------------------------------------------------------

interface TextRun {
  readonly text: string;
  readonly font: Font;
  readonly level: number;
  readonly isRightToLeft: boolean;
}

/** Letters that go one way and are of one file, in the order in which they are read. */
function runsOf(text: string, face: Face): TextRun[] {
  const embedding = bidi.getEmbeddingLevels(text);
  const mirrored = bidi.getMirroredCharactersMap(text, embedding);
  const runs: TextRun[] = [];
  let at = 0;
  for (const letter of text) {
    const level = embedding.levels[at]!;
    const last = runs.at(-1);
    const shown = mirrored.get(at) ?? letter;
    const font = isSilent(letter) && last ? last.font : (fontFor(shown, face) ?? face[0]!);
    at += letter.length;
    if (last && last.level === level && last.font === font)
      runs[runs.length - 1] = { ...last, text: last.text + shown };
    else runs.push({ text: shown, font, level, isRightToLeft: level % 2 === 1 });
  }
  return runs;
}

/** As they stand from left to right: from the innermost level out, what is of it is turned round (UAX #9, L2). */
function inOrder(runs: readonly TextRun[]): TextRun[] {
  let ordered = [...runs];
  const most = Math.max(0, ...runs.map(({ level }) => level));
  for (let level = most; level > 0; level--) {
    const next: TextRun[] = [];
    for (let at = 0; at < ordered.length;) {
      let end = at;
      while (end < ordered.length && ordered[end]!.level >= level) end++;
      if (end === at) next.push(ordered[at++]!);
      else {
        next.push(...ordered.slice(at, end).reverse());
        at = end;
      }
    }
    ordered = next;
  }
  return ordered;
}
