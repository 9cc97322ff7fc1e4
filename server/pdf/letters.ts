/** The built-in type of a PDF has the letters of Western Europe; the rest of a text has to do without. */

const stands: Readonly<Record<string, string>> = { '−': '-', '′': "'", '″': '"', '→': 'to', '\t': ' ' };
/** Beyond Latin-1 it has these (WinAnsi, PDF 32000-1 annex D). */
const more = new Set('€‚ƒ„…†‡ˆ‰Š‹ŒŽ‘’“”•–—˜™š›œžŸ');

/** Words as they can be printed; a letter that is missing is `?`. */
export function printable(words: string): { readonly words: string; readonly lost: boolean } {
  let lost = false;
  const kept = [...words.normalize('NFC')].map((letter) => {
    const other = stands[letter];
    if (other !== undefined) return other;
    const code = letter.codePointAt(0)!;
    if ((code >= 0x20 && code < 0x7f) || (code >= 0xa0 && code <= 0xff) || more.has(letter) || letter === '\n')
      return letter;
    lost = true;
    return '?';
  });
  return { words: kept.join(''), lost };
}
