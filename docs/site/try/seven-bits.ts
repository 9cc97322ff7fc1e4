/**
 * Bytes in a string of a script, seven bits in each character: in UTF-8 that takes less than base64, an eighth and some more
 * than the bytes. What may not stand between quotation marks has other characters in its place.
 */
const forbidden = [0, 10, 13, 34, 92];
const instead = 0x80;

export function encoded(bytes: Uint8Array): string {
  const signs: string[] = [];
  let [held, count] = [0, 0];
  const put = (bits: number) => {
    const at = forbidden.indexOf(bits);
    signs.push(String.fromCharCode(at < 0 ? bits : instead + at));
  };
  for (const byte of bytes) {
    held = (held << 8) | byte;
    for (count += 8; count >= 7; held &= (1 << count) - 1) put(held >> (count -= 7));
  }
  if (count > 0) put(held << (7 - count));
  return signs.join('');
}

export function decoded(text: string): Uint8Array<ArrayBuffer> {
  const bytes = new Uint8Array(Math.floor((text.length * 7) / 8));
  let [held, count, at] = [0, 0, 0];
  for (let index = 0; index < text.length; index++) {
    const code = text.charCodeAt(index);
    held = (held << 7) | (code < instead ? code : forbidden[code - instead]!);
    count += 7;
    if (count < 8) continue;
    count -= 8;
    bytes[at++] = held >> count;
    held &= (1 << count) - 1;
  }
  return bytes;
}
