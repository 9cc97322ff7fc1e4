/** What lies in parts.js: a page that is opened from a folder may fetch nothing, so it comes as a script, packed. */

import { decoded } from './seven-bits.ts';

/** Each as deflated bytes in characters of seven bits. */
export interface Packed {
  /** The script of the page. */
  readonly page: string;
  readonly server: string;
  readonly pages: string;
  readonly setScript: string;
  readonly setStyle: string;
  /** JSON of `Samples`. */
  readonly samples: string;
}

export interface Samples {
  /** Texts by path. */
  readonly files: Readonly<Record<string, string>>;
  readonly rules: readonly string[];
}

declare global {
  var shootSpecParts: Packed;
}

export function unpacked(part: string): Promise<string> {
  return inflated(decoded(part));
}

export function inflated(bytes: Uint8Array<ArrayBuffer>): Promise<string> {
  return new Response(new Blob([bytes]).stream().pipeThrough(new DecompressionStream('deflate-raw'))).text();
}
