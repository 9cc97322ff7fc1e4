/** A plan in an address: its text, deflated, in base64url behind `#plan=`. It never leaves the browser by itself. */
import { inflated } from './parts.ts';

const name = '#plan=';
/** Longer ones are cut off by what passes them on. */
export const longestLink = 30_000;
/** No plan is larger; what is packed may unpack to anything. */
const largestText = 1024 * 1024;

export async function linkOf(text: string): Promise<string> {
  const packed = new Blob([text]).stream().pipeThrough(new CompressionStream('deflate-raw'));
  const bytes = new Uint8Array(await new Response(packed).arrayBuffer());
  const signs = Array.from(bytes, (byte) => String.fromCharCode(byte)).join('');
  return name + btoa(signs).replaceAll('+', '-').replaceAll('/', '_').replaceAll('=', '');
}

/** The plan of an address; undefined where it has none, `broken` where it can't be read. */
export async function planOf(hash: string): Promise<string | 'broken' | undefined> {
  if (!hash.startsWith(name)) return undefined;
  try {
    const signs = atob(hash.slice(name.length).replaceAll('-', '+').replaceAll('_', '/'));
    const text = await inflated(Uint8Array.from(signs, (sign) => sign.charCodeAt(0)));
    return text.length > largestText ? 'broken' : text;
  } catch {
    return 'broken';
  }
}
