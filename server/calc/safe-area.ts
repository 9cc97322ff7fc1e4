/** Safe areas of broadcast pictures: SMPTE ST 2046-1, EBU R 95, ITU-R BT.1848. */
import type { PixelSize } from './framing.ts';

export type SafeArea = 'action' | 'title';

/**
 * The centred safe box. Action 93 %, title 90 % of each side, to the nearest whole number (SMPTE ST 2046-1 §5); from
 * 2160 lines on the margins of 3.5 % and 5 % are whole even numbers, 134 and 76 of 3840 × 2160 (EBU R 95 v1.1 fig. 5).
 * For tall pictures there is no standard: the same shares, by analogy.
 */
export function safeBox({ widthPx, heightPx }: PixelSize, area: SafeArea): PixelSize {
  const inside = area === 'action' ? 93 : 90;
  if (Math.min(widthPx, heightPx) < 2160) {
    return { widthPx: Math.round((widthPx * inside) / 100), heightPx: Math.round((heightPx * inside) / 100) };
  }
  const evenMargin = (side: number) => 2 * Math.round((side * (100 - inside)) / 400);
  return { widthPx: widthPx - 2 * evenMargin(widthPx), heightPx: heightPx - 2 * evenMargin(heightPx) };
}

/** Safe margin in pixels at each side and at top and bottom. */
export function safeMargins(size: PixelSize, area: SafeArea): { readonly sidePx: number; readonly linePx: number } {
  const box = safeBox(size, area);
  return { sidePx: (size.widthPx - box.widthPx) / 2, linePx: (size.heightPx - box.heightPx) / 2 };
}
