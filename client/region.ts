import { region } from '../server/core/units.ts';
export function mainsHzOf(text: string): number | undefined {
  const read = region(text);
  return read && (read.mainsHz ?? 50);
}
