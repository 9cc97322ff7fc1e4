/** Colour on the screen: "#rrggbb", linear light, luminance, contrast, and what a coloured lamp does to one channel. */

/** Red, green, blue as shares 0 to 1. Whether they are encoded (sRGB) or linear is said where they are used. */
export interface Rgb {
  readonly r: number;
  readonly g: number;
  readonly b: number;
}

/** Encoded sRGB of "#rrggbb" or "#rgb" (any case); `undefined` for anything else. */
export function parseHex(text: string): Rgb | undefined {
  const short = /^#([0-9a-f])([0-9a-f])([0-9a-f])$/i.exec(text);
  const full = short
    ? `#${short
        .slice(1)
        .map((digit) => digit + digit)
        .join('')}`
    : text;
  const found = /^#([0-9a-f]{2})([0-9a-f]{2})([0-9a-f]{2})$/i.exec(full);
  if (!found) return undefined;
  const [r = 0, g = 0, b = 0] = found.slice(1).map((pair) => Number.parseInt(pair, 16) / 255);
  return { r, g, b };
}

/** "#rrggbb" of encoded sRGB; values outside 0 to 1 are held at the ends. */
export function toHex({ r, g, b }: Rgb): string {
  const pair = (value: number) =>
    Math.round(Math.min(1, Math.max(0, value)) * 255)
      .toString(16)
      .padStart(2, '0');
  return `#${pair(r)}${pair(g)}${pair(b)}`;
}

function each({ r, g, b }: Rgb, change: (value: number) => number): Rgb {
  return { r: change(r), g: change(g), b: change(b) };
}

/** Linear light of encoded sRGB (IEC 61966-2-1; knee 0.04045 as in WCAG 2.2). */
export function linearFromSrgb(encoded: Rgb): Rgb {
  return each(encoded, (value) => (value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4));
}

/** Encoded sRGB of linear light (IEC 61966-2-1). */
export function srgbFromLinear(linear: Rgb): Rgb {
  return each(linear, (value) => (value <= 0.0031308 ? value * 12.92 : 1.055 * value ** (1 / 2.4) - 0.055));
}

/** Luminance of linear RGB with the BT.709 weights .2126 .7152 .0722; 1 for white. */
export function luminance({ r, g, b }: Rgb): number {
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

/** WCAG 2.x relative luminance of encoded sRGB, 0 to 1. */
export function relativeLuminance(encoded: Rgb): number {
  return luminance(linearFromSrgb(encoded));
}

/** WCAG contrast ratio (L1 + 0.05) ÷ (L2 + 0.05) of two encoded colours, either way round, 1 to 21. */
export function contrastRatio(one: Rgb, other: Rgb): number {
  const [a, b] = [relativeLuminance(one), relativeLuminance(other)];
  return (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
}

/**
 * The encoded colour nearest to `text` that reaches `wanted` contrast on `behind`, going toward black or white in
 * 1/255 steps of the mix, rounded to 8 bits; the way with less change wins. `undefined` when neither end reaches it.
 */
export function colourForContrast(text: Rgb, behind: Rgb, wanted: number): Rgb | undefined {
  for (let step = 0; step <= 255; step++) {
    for (const end of [0, 1]) {
      const mixed = each(text, (value) => Math.round((value + (end - value) * (step / 255)) * 255) / 255);
      if (contrastRatio(mixed, behind) >= wanted) return mixed;
    }
  }
  return undefined;
}

/** Share of red in linear RGB, R ÷ (R + G + B); 0 for black. */
export function redShare({ r, g, b }: Rgb): number {
  const sum = r + g + b;
  return sum > 0 ? r / sum : 0;
}

/** WCAG 2.3.1 saturated red: R ÷ (R + G + B) of at least 0.8 in linear light. */
export function isSaturatedRed(linear: Rgb): boolean {
  return redShare(linear) >= 0.8;
}

/** CIE 1976 u′, v′ of linear sRGB (primaries BT.709, white D65; CIE 15). `undefined` for black, which has no colour. */
export function chromaticityUv76({ r, g, b }: Rgb): { readonly u: number; readonly v: number } | undefined {
  const x = 0.4123908 * r + 0.3575843 * g + 0.1804808 * b;
  const y = 0.212639 * r + 0.7151687 * g + 0.0721923 * b;
  const z = 0.0193308 * r + 0.1191948 * g + 0.9505322 * b;
  const sum = x + 15 * y + 3 * z;
  return sum > 0 ? { u: (4 * x) / sum, v: (9 * y) / sum } : undefined;
}

/** Red, green, blue mixed with their shares of the light: Σ share × colour, colours scaled to luminance 1. */
export function mixLight(parts: readonly { readonly linear: Rgb; readonly share: number }[]): Rgb {
  const sum = { r: 0, g: 0, b: 0 };
  for (const { linear, share } of parts) {
    const y = luminance(linear);
    if (y <= 0) continue;
    sum.r += (share * linear.r) / y;
    sum.g += (share * linear.g) / y;
    sum.b += (share * linear.b) / y;
  }
  return sum;
}
