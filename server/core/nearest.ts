/** The word that was most likely meant. */

/** Edits between two words, a swap of neighbours counted as one; more than `most` is not told apart. */
export function distance(a: string, b: string, most: number): number {
  if (Math.abs(a.length - b.length) > most) return most + 1;
  let before: number[] = [];
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1];
      let cost = Math.min(row[j]! + 1, next[j - 1]! + 1, row[j - 1]! + (same ? 0 : 1));
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) cost = Math.min(cost, before[j - 2]! + 1);
      next.push(cost);
    }
    before = row;
    row = next;
  }
  return row[b.length]!;
}

/** `whiteBalance`, `White balance`, `white_balance` as `white-balance`. */
export function asKey(text: string): string {
  return text
    .replace(/([a-z0-9])([A-Z])/g, '$1-$2')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '');
}

/** Do two names have a word of three letters or more in common: `hq-mark` and `mark`? */
export function shareWord(a: string, b: string): boolean {
  const words = new Set(asKey(a).split('-'));
  return asKey(b)
    .split('-')
    .some((word) => word.length >= 3 && words.has(word));
}

export interface Near {
  readonly word: string;
  /** True when the slip is so small that nothing else can be meant. */
  readonly sure: boolean;
}

/** A word that can be written as it is; a name with other signs has its own finding, and is not spread. */
export function isPlain(word: string): boolean {
  return /^\w[\w./-]*$/.test(word);
}

/** The nearest of the words to a text, where one is near enough to be meant. */
export function nearest(text: string, words: readonly string[]): Near | undefined {
  if (text.length > 40) return undefined;
  const key = asKey(text);
  if (isPlain(key) && words.includes(key)) return { word: key, sure: true };
  const most = key.length <= 2 ? 0 : key.length <= 4 ? 1 : key.length <= 7 ? 2 : 3;
  const ranked: { word: string; edits: number }[] = [];
  for (const word of words) {
    const edits = distance(key, word, most);
    if (edits <= most && isPlain(word)) ranked.push({ word, edits });
  }
  ranked.sort((a, b) => a.edits - b.edits);
  const [first, second] = ranked;
  if (!first) return undefined;
  // Another figure is another thing: nobody can tell which of `h264` and `h265` was meant by `h266`.
  const sameDigits = key.replace(/\D/g, '') === first.word.replace(/\D/g, '');
  const small = first.edits <= (key.length >= 6 ? 2 : 1) && key.length >= 4;
  const sure = small && sameDigits && second?.edits !== first.edits;
  return { word: first.word, sure };
}
