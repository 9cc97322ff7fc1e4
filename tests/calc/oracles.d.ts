/** The parts of two untyped libraries that serve as oracles. */
declare module 'culori' {
  export function wcagContrast(one: string, other: string): number;
  export function wcagLuminance(colour: string): number;
}

declare module 'smpte-timecode' {
  interface Timecode {
    readonly frameCount: number;
    toString(): string;
  }
  export default function Timecode(code: number | string, rate: number | [number, number], drop?: boolean): Timecode;
}
