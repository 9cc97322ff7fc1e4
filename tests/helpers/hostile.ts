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

/** A character that a terminal or a reader of text acts on. */
export const acting =
  // eslint-disable-next-line no-control-regex -- these are what must not be there
  /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f\u200e\u200f\u2028\u2029\u202a-\u202e\u2066-\u2069]|\p{Cs}/u;

/** A line that a build server would take for a command. */
export const logCommand = /^\s*::|##\[|##vso\[|##teamcity\[/m;
