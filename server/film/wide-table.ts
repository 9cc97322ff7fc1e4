/** The table by which what is BT.709 (drawings, words, takes) goes into a film of high dynamic range. */
import { graphicsWhiteNits, hlgSignal, inBt2020, pqSignal } from '../calc/hdr.ts';

/** Points along each side; between them the curves are as good as straight. */
const steps = 49;

/** As BT.709 is shown (a power of 2.4, ITU-R BT.1886), with its white at that of graphics (ITU-R BT.2408). */
export function wideTable(space: 'hlg' | 'pq'): string {
  const light = (index: number) => graphicsWhiteNits * (index / (steps - 1)) ** 2.4;
  const lines: string[] = [];
  for (let blue = 0; blue < steps; blue++)
    for (let green = 0; green < steps; green++)
      for (let red = 0; red < steps; red++) {
        const shown = inBt2020({ r: light(red), g: light(green), b: light(blue) });
        const { r, g, b } =
          space === 'hlg' ? hlgSignal(shown) : { r: pqSignal(shown.r), g: pqSignal(shown.g), b: pqSignal(shown.b) };
        lines.push(`${r.toFixed(6)} ${g.toFixed(6)} ${b.toFixed(6)}`);
      }
  return `LUT_3D_SIZE ${steps}\n${lines.join('\n')}\n`;
}

/** Its name in the working folder. */
export const wideName = 'wide.cube';
