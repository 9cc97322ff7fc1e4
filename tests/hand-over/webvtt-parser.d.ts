/** What the tests use of it; it ships no types. */
declare module 'webvtt-parser' {
  interface Cue {
    readonly startTime: number;
    readonly endTime: number;
    readonly text: string;
  }

  export class WebVTTParser {
    parse(text: string, mode?: string): { readonly cues: Cue[]; readonly errors: readonly unknown[] };
  }
}
