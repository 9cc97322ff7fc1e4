/** Short names for texts, the same on every machine; not for anything that somebody could want to forge. */

/** 16 hexadecimal digits from texts in an order (two FNV-1a hashes of 32 bits, from different starting values). */
export function fingerprint(...texts: readonly string[]): string {
  let [a, b] = [0x811c9dc5, 0x9747b28c];
  for (const text of texts) {
    for (let index = 0; index <= text.length; index++) {
      // A code that no text has ends each of them, so that `ab`, `c` and `a`, `bc` differ.
      const code = index === text.length ? 0x10000 : text.charCodeAt(index);
      a = Math.imul(a ^ code, 0x01000193);
      b = Math.imul(b ^ code ^ (a >>> 13), 0x85ebca6b);
    }
  }
  return hex(a ^ (a >>> 16)) + hex(b ^ (b >>> 15));
}

function hex(value: number): string {
  return (value >>> 0).toString(16).padStart(8, '0');
}
