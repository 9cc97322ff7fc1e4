/** Whether a value lies in the bounds that its quantity has. */
import { quantityNamed } from '../quantities/table.ts';
import { quoted } from '../say.ts';

/** Each side of a size, and each end of a change. */
function parts(text: string): string[] {
  const size = /^([\d.]+ x [\d.x ]+) ([a-z]+)$/.exec(text);
  return size ? size[1]!.split(' x ').map((side) => `${side} ${size[2]}`) : text.split(' to ');
}

/** What is longer is no quantity. */
const longest = 120;

/** Why a value is out of bounds, to stand after what it can't be; undefined where it is not, or is no such quantity. */
export function outOfBounds(quantity: string, text: string): string | undefined {
  const bounds = quantityNamed(quantity)?.bounds ?? [];
  if (bounds.length === 0 || text.length > longest) return undefined;
  for (const part of parts(text)) {
    for (const { read, least, most, from, to } of bounds) {
      const value = Math.abs(read(part) ?? 0);
      if (value !== 0 && (value < from || value > to)) return `it is from ${quoted(least)} to ${quoted(most)}`;
    }
  }
  return undefined;
}
