/**
 * Text of specs, made harmless for what reads an output: terminals, the log of a build (which takes some lines for
 * commands), XML, Markdown, JSON. Nothing that somebody wrote into a spec may act anywhere.
 */

const acting =
  // eslint-disable-next-line no-control-regex -- control characters are what this looks for
  /[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u061c\u200e\u200f\u2028\u2029\u202a-\u202e\u2066-\u2069\ufeff]|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g;

/** Control characters, marks that turn text round and lone surrogates as `\u{…}`; tabs and line feeds stay. */
export function harmless(text: string): string {
  return text.replace(acting, (character) => `\\u{${character.charCodeAt(0).toString(16)}}`);
}

/** The same on one line. */
export function oneLine(text: string): string {
  return harmless(text.replace(/[\t\n]/g, ' '));
}

/**
 * Whole output for a log: lines that a build server would take for a command no longer look like one. Commands start
 * with `::` (after blanks), or hold `##[`, `##vso[` or `##teamcity[`.
 */
export function logLines(text: string): string {
  return text.replace(/^(\s*:):/gm, '$1\\u{3a}').replace(/##(?=(?:vso|teamcity)?\[)/g, '#\\u{23}');
}

/** JSON with two blanks for each step, all acting characters and log commands written as escapes: it reads back the same. */
export function json(value: unknown): string {
  const text = JSON.stringify(value, null, 2)
    .replace(acting, (character) => `\\u${character.charCodeAt(0).toString(16).padStart(4, '0')}`)
    .replace(/##(?=(?:vso|teamcity)?\[)/g, '#\\u0023');
  return `${text}\n`;
}

/** For text and attribute values of XML 1.0. */
export function xml(text: string): string {
  const entities: Readonly<Record<string, string>> = {
    '&': '&amp;',
    '<': '&lt;',
    '>': '&gt;',
    '"': '&quot;',
    "'": '&apos;',
  };
  return harmless(text)
    .replace(/[&<>"']/g, (character) => entities[character]!)
    .replace(/[\t\n]/g, (character) => `&#${character.charCodeAt(0)};`)
    .replace(/[\ufffe\uffff]/g, '\ufffd')
    .replace(/##(?=(?:vso|teamcity)?\[)/g, '#&#35;');
}

/**
 * For Markdown on one line: what is quoted between backticks is shown as code, and every other mark stands for itself.
 * What would become a link, a mention, a number of an issue or a picture of a face is broken by an empty comment.
 */
export function markdown(text: string): string {
  const parts = oneLine(text).trim().split(codeSpans);
  return parts
    .map((part, nth) => {
      if (nth % 2 === 0) return ownLetters(part, nth === 0);
      return actsInCode.test(part) ? ownLetters(`\`${part}\``, nth === 0) : `\`${part}\``;
    })
    .join('');
}

/** Addresses and commands to build servers, which other readers of the page may look for in code too. */
const actsInCode = /@|##|\/\/|www\./i;

/** Only those that every reader takes for code: bars would end the cell of a table, and `$` beside them makes formulas. */
const codeSpans = /(?<![`$])`([^\s`|](?:[^`|]*[^\s`|])?)`(?![`$])/;

function ownLetters(text: string, isStart: boolean): string {
  const marked = text.replace(/[\\`*_[\]~|$^]/g, '\\$&');
  return (
    // What would start a list or a heading.
    (isStart ? marked.replace(/^(\d*)([-+#=.)])/, '$1\\$2') : marked)
      .replace(/&/g, '&amp;')
      .replace(/</g, '&lt;')
      .replace(/>/g, '&gt;')
      .replace(/@|:(?=\S)|\/(?=\/)|#(?=\w)|(?<=www)\.|(?<=(?:\b|_)gh)-/gi, '$&<!-- -->')
  );
}

/** For Markdown on one line in which only what stands between backticks is marked up. */
export function markdownWords(text: string): string {
  return oneLine(text)
    .replace(/[\\*_{}[\]<>#!|~&]|`(?=``)/g, '\\$&')
    .replace(/@|:(?=\/\/)|(?<=www)\.|(?<=mailto):/gi, (sign) => `&#${sign.charCodeAt(0)};`);
}
