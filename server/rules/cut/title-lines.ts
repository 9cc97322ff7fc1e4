/** The words of a title in lines. */

/**
 * The ways to set the words in two lines, best first: behind a colon or another mark between two thoughts, then with
 * lines of about the same length. None where they have lines already or can't be parted.
 */
export function inTwoLines(text: string): string[] {
  const words = text.trim().split(/ +/);
  if (words.length < 2 || text.includes('\n')) return [];
  const breaks = words
    .slice(1)
    .map((_, index) => [words.slice(0, index + 1).join(' '), words.slice(index + 1).join(' ')] as const);
  const longest = ([a, b]: readonly [string, string]) => Math.max(a.length, b.length);
  const isAtMark = ([first]: readonly [string, string]) => /[:;,.!?–—]$/.test(first);
  return breaks
    .sort((a, b) => Number(isAtMark(b)) - Number(isAtMark(a)) || longest(a) - longest(b))
    .map((lines) => lines.join('\n'));
}
