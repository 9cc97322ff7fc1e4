/** Text that somebody writes into a spec to make an output do something, and what must then not be in any output. */

export const hostileTexts: readonly string[] = [
  '\u001b[31mred\u001b]0;title\u0007',
  '\u009b2Jgone',
  'a\u202ednuora\u2066b',
  '::error file=a.ts::made up',
  ' ::set-output name=x::y',
  '##[error]made up ##vso[task.complete]x ##teamcity[message]',
  '%0A::warning::x',
  '<script>alert(1)</script><!-- " \' &amp; ]]>',
  '[link](https://example.org) ![picture](https://example.org/a.png)',
  '`code` **bold** _it_ ~~gone~~ | cell | $x$',
  '@somebody #12 GH-7 :smile: www.example.org https://example.org',
  '# heading',
  '- item',
  '1. item',
  '{0} [text](1) {{x}}',
  'a\r\nb\nc\u2028d\ud800e',
];

const escape = '\u001b';
const scripts = ['alert(1)', "fetch('https://example.org')", 'document.title=1'];

/** A script in all the places from which one may run; of three scripts each is tried in a third of them. */
const scripted = (script: string) => [
  `<script>${script}</script>`,
  `</script><script>${script}</script>`,
  `<img src=x onerror="${script}">`,
  `<svg onload=${script}>`,
  `<svg><script>${script}</script></svg>`,
  `" onmouseover="${script}" x="`,
  `' onfocus='${script}' autofocus='`,
  `<a href="javascript:${script}">x</a>`,
  `[x](javascript:${script})`,
  `<details open ontoggle=${script}>`,
  `]]><script>${script}</script><![CDATA[`,
  `--><script>${script}</script><!--`,
  `<style>@import 'https://example.org';</style>`,
  `</title><script>${script}</script>`,
  `</text><foreignObject><body onload="${script}"/></foreignObject>`,
  `&lt;script&gt;${script}&lt;/script&gt;`,
  `&#60;script&#62;${script}`,
];

/** More than a hundred: these too, and whatever else acts on a page, a terminal, a log or a reader of Markdown. */
export const actingTexts: readonly string[] = distinct([
  ...hostileTexts,
  // Markup that runs or loads something.
  ...scripts.flatMap((script, index) => scripted(script).filter((_, at) => at % scripts.length === index)),
  '<iframe src="https://example.org"></iframe>',
  '<object data="https://example.org"></object>',
  '<meta http-equiv="refresh" content="0;url=https://example.org">',
  '<base href="https://example.org/">',
  '<form action="https://example.org"><input>',
  '<!DOCTYPE x [<!ENTITY y SYSTEM "file:///etc/passwd">]>&y;',
  '<?xml-stylesheet href="https://example.org"?>',
  '<use href="https://example.org/a.svg#b"/>',
  // Markdown that links, loads or asks to be pressed.
  '![x](https://example.org/a.png)',
  '![x][y]\n\n[y]: https://example.org',
  '[x]: https://example.org "y"',
  '<https://example.org>',
  '<somebody@example.org>',
  'https://example.org/a_b_c',
  'www.example.org',
  'x_www.example.org',
  'a_mailto:somebody@example.org',
  'somebody@example.org',
  'mailto:somebody@example.org',
  'xmpp:somebody@example.org',
  'command:workbench.action.quit',
  '[press](command:workbench.action.quit)',
  '[press](command:workbench.action.terminal.sendSequence?%7B%22text%22%3A%22x%22%7D)',
  '$(alert) $(trash~spin)',
  '```\ncode\n```',
  '~~~',
  '---',
  '# x',
  '> x',
  '| a | b |\n|---|---|',
  '- [ ] x',
  '[^1]: x',
  '\\[x\\](https://example.org)',
  '`](https://example.org)',
  '``` [x](https://example.org)',
  '[x\\](https://example.org)',
  '*x* __y__ ~~z~~',
  '\\',
  '`',
  // Terminals.
  ...['[2J', '[31m', ']0;x\u0007', ']8;;https://example.org\u0007x', 'P+q', '[6n', 'c', '(0', '[?1049h'].map(
    (one) => escape + one,
  ),
  '\u009b31m',
  '\u0090x\u009c',
  '\u0008\u0008\u0008ok',
  '\rok',
  '\u000b\u000c',
  '\u0007',
  '\u007f',
  '\u0085next',
  // Writing direction, and what cannot be seen.
  ...[
    '\u202a',
    '\u202b',
    '\u202c',
    '\u202d',
    '\u202e',
    '\u2066',
    '\u2067',
    '\u2068',
    '\u2069',
    '\u200e',
    '\u200f',
    '\u061c',
  ].map((one) => `a${one}b`),
  'a\u2028b\u2029c',
  '\ufeffa',
  '\ud800',
  '\udc00x',
  // Logs of build servers, and formats of messages.
  '::warning::x',
  '\n::error::x',
  '::stop-commands::x',
  '::add-mask::a',
  '##vso[task.setvariable variable=a]b',
  "##teamcity[buildProblem description='x']",
  '\n##[group]x',
  '%0A::error::x',
  '{shot} {0} {{x}} ${x} #{x} <%= x %>',
  '%s %n %d %x',
  "$& $1 $` $' $$",
  '__proto__',
  'constructor',
  '=1+1',
  "'; DROP TABLE x; --",
  '`touch x` $(touch x) ; touch x',
  '../../x',
]);

function distinct(texts: readonly string[]): readonly string[] {
  return [...new Set(texts)];
}

/** A character that a terminal or a reader of text acts on. */
export const acting =
  // eslint-disable-next-line no-control-regex -- these are what must not be there
  /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f\u061c\u200e\u200f\u2028\u2029\u202a-\u202e\u2066-\u2069]|\p{Cs}/u;

/** A line that a build server would take for a command. */
export const logCommand = /^\s*::|##\[|##vso\[|##teamcity\[/m;
