/** In the place of the library of all 2,000 entities of HTML: the server writes those of numbers and the five of XML. */
const named: Readonly<Record<string, string>> = { amp: '&', lt: '<', gt: '>', quot: '"', apos: "'" };

export function decodeHTML(text: string): string {
  return text.replace(/&(?:#(\d+)|#x([0-9a-f]+)|([a-z]+));/gi, (whole, decimal, hex, name) => {
    if (name) return named[name as string] ?? whole;
    return String.fromCodePoint(Math.min(Number.parseInt(decimal ?? hex, decimal ? 10 : 16), 0x10ffff));
  });
}

export function decodeHTMLStrict(text: string): string {
  return decodeHTML(text);
}
