/** Tables of colour that a film goes through. */
import { bt709Linear, bt709Signal } from '../calc/tone.ts';

const steps = 4096;

/** A table of one dimension for BT.709 signals: brighter by so many stops in linear light, white where it reaches over. */
export function brightenTable(stops: number): string {
  const lines = Array.from({ length: steps }, (_, index) => {
    const brighter = Math.min(1, bt709Linear(index / (steps - 1)) * 2 ** stops);
    const value = bt709Signal(brighter).toFixed(7);
    return `${value} ${value} ${value}\n`;
  });
  return `LUT_1D_SIZE ${steps}\n${lines.join('')}`;
}
