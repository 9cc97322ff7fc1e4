/** Signals of high dynamic range for light on a display (Rec. ITU-R BT.2100-2), and of BT.709 shown among them (BT.2408). */
import type { Rgb } from './colour.ts';

/** Luminance of white in words, cards and films of BT.709 within HLG and PQ: 75 % and 58 % of the signal (BT.2408-7, table 1). */
export const graphicsWhiteNits = 203;

/** PQ signal, 0 to 1, of light in cd/m², up to 10 000 (BT.2100-2, table 4: the inverse EOTF). */
export function pqSignal(nits: number): number {
  const [m1, m2] = [2610 / 16384, (2523 / 4096) * 128];
  const [c1, c2, c3] = [3424 / 4096, (2413 / 4096) * 32, (2392 / 4096) * 32];
  const y = Math.min(1, Math.max(0, nits / 10_000)) ** m1;
  return ((c1 + c2 * y) / (1 + c3 * y)) ** m2;
}

/** HLG is shown with this peak and system gamma where nothing else is known (BT.2100-2, table 5). */
const [peakNits, systemGamma] = [1000, 1.2];

/** HLG signals, 0 to 1, of light in cd/m² in the primaries of BT.2020: the inverse OOTF, then the OETF (BT.2100-2, table 5). */
export function hlgSignal({ r, g, b }: Rgb): Rgb {
  const luma = (0.2627 * r + 0.678 * g + 0.0593 * b) / peakNits;
  const scale = luma > 0 ? luma ** ((1 - systemGamma) / systemGamma) / peakNits : 0;
  return { r: hlgCode(r * scale), g: hlgCode(g * scale), b: hlgCode(b * scale) };
}

function hlgCode(scene: number): number {
  const [a, b] = [0.17883277, 0.28466892];
  const c = 0.5 - a * Math.log(4 * a);
  const held = Math.min(1, Math.max(0, scene));
  return held <= 1 / 12 ? Math.sqrt(3 * held) : a * Math.log(12 * held - b) + c;
}

/** Linear light in the primaries of BT.709 in those of BT.2020 (Rec. ITU-R BT.2087-0, 4.2). */
export function inBt2020({ r, g, b }: Rgb): Rgb {
  return {
    r: 0.6274 * r + 0.3293 * g + 0.0433 * b,
    g: 0.0691 * r + 0.9195 * g + 0.0114 * b,
    b: 0.0164 * r + 0.088 * g + 0.8956 * b,
  };
}
