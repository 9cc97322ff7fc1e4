import Color from 'colorjs.io';
import { wcagContrast, wcagLuminance } from 'culori';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  chromaticityUv76,
  colourForContrast,
  contrastRatio,
  isSaturatedRed,
  linearFromSrgb,
  luminance,
  mixLight,
  parseHex,
  redShare,
  relativeLuminance,
  srgbFromLinear,
  toHex,
} from '../../server/calc/colour.ts';

const hex = (text: string) => parseHex(text)!;
const anyHex = fc.integer({ min: 0, max: 0xffffff }).map((value) => `#${value.toString(16).padStart(6, '0')}`);

describe('colours as text', () => {
  it('reads long and short, and writes long', () => {
    expect(toHex(hex('#3A2'))).toBe('#33aa22');
    expect(toHex(hex('#3a2a20'))).toBe('#3a2a20');
    for (const wrong of ['3a2a20', '#3a2a2', '#gggggg', 'red', '#3a2a2000']) expect(parseHex(wrong)).toBeUndefined();
  });

  it('comes back from linear light', () => {
    fc.assert(fc.property(anyHex, (text) => toHex(srgbFromLinear(linearFromSrgb(hex(text)))) === text));
  });
});

describe('contrast (WCAG 2.2, relative luminance and contrast ratio)', () => {
  it.each([
    ['#777777', '#ffffff', 4.4781],
    ['#767676', '#ffffff', 4.5422],
    ['#949494', '#ffffff', 3.0335],
    ['#959595', '#ffffff', 2.9953],
    ['#595959', '#ffffff', 7.0047],
    ['#ffffff', '#0000ff', 8.5925],
    ['#ff0000', '#ffffff', 3.9985],
    ['#ffff00', '#ffffff', 1.0738],
    ['#000000', '#ffffff', 21],
  ])('%s on %s', (one, other, ratio) => {
    expect(contrastRatio(hex(one), hex(other))).toBeCloseTo(ratio, 4);
  });

  it('agrees with two colour libraries on any colours', () => {
    fc.assert(
      fc.property(anyHex, anyHex, (one, other) => {
        const ours = contrastRatio(hex(one), hex(other));
        expect(ours).toBeCloseTo(wcagContrast(one, other), 9);
        expect(Math.abs(ours / new Color(one).contrast(other, 'WCAG21') - 1)).toBeLessThan(5e-4);
        expect(relativeLuminance(hex(one))).toBeCloseTo(wcagLuminance(one), 9);
      }),
    );
  });

  it('no 8-bit code differs between the knees 0.03928 and 0.04045 (WCAG 2.0 and 2.2)', () => {
    for (let code = 0; code < 256; code++) {
      const value = code / 255;
      const old = value <= 0.03928 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
      expect(linearFromSrgb({ r: value, g: 0, b: 0 }).r).toBe(old);
    }
  });

  it('finds the nearest grey that passes: #949494 on white becomes #767676 for 4.5', () => {
    expect(toHex(colourForContrast(hex('#949494'), hex('#ffffff'), 4.5)!)).toBe('#767676');
    expect(colourForContrast(hex('#808080'), hex('#777777'), 10)).toBeUndefined();
  });

  it('always reaches what it promises, and keeps what passes', () => {
    fc.assert(
      fc.property(anyHex, anyHex, (one, other) => {
        const better = colourForContrast(hex(one), hex(other), 4.5);
        expect(better).toBeDefined();
        expect(contrastRatio(better!, hex(other))).toBeGreaterThanOrEqual(4.5);
        if (contrastRatio(hex(one), hex(other)) >= 4.5) expect(toHex(better!)).toBe(one);
      }),
    );
  });
});

describe('saturated red and chromaticity', () => {
  // WCAG 2.3.1: R ÷ (R + G + B) ≥ 0.8 in linear light.
  it('knows saturated red', () => {
    expect(isSaturatedRed(linearFromSrgb(hex('#ff0000')))).toBe(true);
    expect(isSaturatedRed(linearFromSrgb(hex('#ff7070')))).toBe(false);
    expect(redShare({ r: 0.6, g: 0.4, b: 0 })).toBeCloseTo(0.6, 12);
    expect(redShare({ r: 0, g: 0, b: 0 })).toBe(0);
  });

  it('has the primaries and white of ITU-R BT.709 (.640 .330, .300 .600, .150 .060, .3127 .3290)', () => {
    const points: [string, number, number][] = [
      ['#ff0000', 0.64, 0.33],
      ['#00ff00', 0.3, 0.6],
      ['#0000ff', 0.15, 0.06],
      ['#ffffff', 0.3127, 0.329],
    ];
    for (const [text, x, y] of points) {
      const uv = chromaticityUv76(linearFromSrgb(hex(text)))!;
      const divisor = -2 * x + 12 * y + 3;
      expect(uv.u).toBeCloseTo((4 * x) / divisor, 3);
      expect(uv.v).toBeCloseTo((9 * y) / divisor, 3);
    }
    expect(chromaticityUv76({ r: 0, g: 0, b: 0 })).toBeUndefined();
  });

  it('agrees with a colour library on u′v′ of any colour', () => {
    fc.assert(
      fc.property(anyHex, (text) => {
        if (text === '#000000') return;
        const uv = chromaticityUv76(linearFromSrgb(hex(text)))!;
        const [x = 0, y = 0, z = 0] = new Color(text).to('xyz-d65').coords.map(Number);
        expect(uv.u).toBeCloseTo((4 * x) / (x + 15 * y + 3 * z), 4);
        expect(uv.v).toBeCloseTo((9 * y) / (x + 15 * y + 3 * z), 4);
      }),
    );
  });
});

describe('coloured lamps', () => {
  it('mixes by share of the light', () => {
    const mix = mixLight([
      { linear: { r: 0, g: 0, b: 1 }, share: 0.5 },
      { linear: { r: 0.2, g: 0.2, b: 0.2 }, share: 0.5 },
      { linear: { r: 0, g: 0, b: 0 }, share: 0 },
    ]);
    expect(luminance(mix)).toBeCloseTo(1, 9);
    expect(mix.b).toBeCloseTo(0.5 / 0.0722 + 0.5, 9);
  });
});
