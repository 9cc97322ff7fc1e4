/** The parts of an untyped library that the panel uses. Colours go in and out as CSS writes them. */
declare module 'culori/fn' {
  interface Mode {
    readonly mode: string;
  }
  interface Colour {
    readonly mode: string;
  }
  export const modeRgb: Mode;
  export const modeLrgb: Mode;
  export function useMode(mode: Mode): void;
  export function parse(colour: string): Colour | undefined;
  export function formatHex(colour: Colour | string): string;
  export function blend(colours: readonly (Colour | string)[]): Colour;
  export function interpolate(colours: readonly (Colour | string)[], mode: string): (share: number) => Colour;
  export function wcagContrast(one: Colour | string, other: Colour | string): number;
}
