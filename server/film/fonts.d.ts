/** The parts of the libraries of letters that we use. */
declare module '*.woff' {
  const bytes: Uint8Array;
  export default bytes;
}

declare module 'fontkit' {
  export interface PathCommand {
    readonly command: 'moveTo' | 'lineTo' | 'quadraticCurveTo' | 'bezierCurveTo' | 'closePath';
    readonly args: readonly number[];
  }

  export interface Glyph {
    readonly codePoints: readonly number[];
    readonly id: number;
    readonly path: { readonly commands: readonly PathCommand[] };
  }

  export interface Position {
    readonly xAdvance: number;
    readonly xOffset: number;
    readonly yOffset: number;
  }

  export interface GlyphRun {
    readonly glyphs: readonly Glyph[];
    readonly positions: readonly Position[];
    readonly advanceWidth: number;
  }

  export interface Font {
    readonly unitsPerEm: number;
    readonly capHeight: number;
    layout(text: string, features?: unknown, script?: string, language?: string, direction?: 'ltr' | 'rtl'): GlyphRun;
    hasGlyphForCodePoint(codePoint: number): boolean;
    glyphForCodePoint(codePoint: number): Glyph & { readonly bbox: { readonly maxY: number } };
  }

  export interface Collection {
    readonly fonts: readonly Font[];
  }

  export function create(bytes: Uint8Array): Font | Collection;
}

declare module 'bidi-js' {
  export interface Levels {
    readonly levels: Uint8Array;
  }

  export interface Bidi {
    getEmbeddingLevels(text: string): Levels;
    getMirroredCharactersMap(text: string, levels: Levels): Map<number, string>;
  }

  export default function bidiFactory(): Bidi;
}
