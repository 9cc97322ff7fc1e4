/** The few functions of the colour library that the panel uses; the library brings no types. */
declare module 'culori/fn' {
  interface Colour {
    readonly mode: string;
  }
  export const modeRgb: unknown;
  export const modeLrgb: unknown;
  export function useMode(mode: unknown): void;
  export function parse(text: string): Colour | undefined;
  export function blend(colours: readonly (Colour | string)[], type?: string, mode?: string): Colour;
  export function interpolate(colours: readonly (Colour | string)[], mode?: string): (part: number) => Colour;
  export function formatHex(colour: Colour | string | undefined): string;
  export function wcagContrast(one: Colour | string, other: Colour | string): number;
}
