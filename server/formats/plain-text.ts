/** Our own Markdown for what shows none: marks go, words stay, and a link is its words. */

const entities: Readonly<Record<string, string>> = { amp: '&', lt: '<', gt: '>', quot: '"' };

/** Takes the Markdown that `markdownWords`, the fields and the pages of rules are written in. */
export function plainText(markdown: string): string {
  return markdown
    .split('\n')
    .filter((line) => !/^(?:```|---$)/.test(line))
    .map((line) => words(line.replace(/^#+ /, '')))
    .join('\n')
    .replace(/\n{3,}/g, '\n\n')
    .trim();
}

/** What stands between backticks is left alone. */
function words(line: string): string {
  return line
    .split(/(`[^`]*`)/)
    .map((part, index) => (index % 2 === 1 ? part.slice(1, -1) : unmarked(part)))
    .join('');
}

function unmarked(text: string): string {
  return text
    .replace(/\[((?:[^\]\\]|\\.)*)\]\([^)]*\)/g, '$1')
    .replace(/(?<!\\)\*\*/g, '')
    .replace(/(?<![\\\w*])\*(?=\S)([^*]*?)(?<=[^\s\\])\*(?![\w*])/g, '$1')
    .replace(/&#(\d+);/g, (_, code: string) => String.fromCodePoint(Number(code)))
    .replace(/&(amp|lt|gt|quot);/g, (_, name: string) => entities[name]!)
    .replace(/\\([\\`*_{}[\]<>#!|~&$^+.()-])/g, '$1');
}
