/**
 * More than a hundred texts that are meant to act (on a terminal, a page, a log, a reader of Markdown), written into every
 * place of a spec where somebody may write one, and looked for in everything that the project gives out. What becomes of
 * them in a browser is tried in tests/views.
 */
import MarkdownIt from 'markdown-it';
import { describe, expect, test } from 'vitest';
import type { CheckResult } from '../../server/core/checker.ts';
import { quote } from '../../server/core/document/edits.ts';
import { actionsAt } from '../../server/features/actions.ts';
import { hoverAt } from '../../server/features/hover.ts';
import { outline } from '../../server/features/outline.ts';
import { toGithub } from '../../server/formats/github.ts';
import { toGitlab } from '../../server/formats/gitlab.ts';
import { toJson } from '../../server/formats/json.ts';
import { toJunit } from '../../server/formats/junit.ts';
import { reportOf } from '../../server/formats/report.ts';
import { toSarif } from '../../server/formats/sarif.ts';
import { toText } from '../../server/formats/text.ts';
import { type Target, toCodeAction, toDiagnostic, toSymbol } from '../../server/protocol.ts';
import { draw, pictureText, views } from '../../server/views/index.ts';
import { acting, hostileTexts, logCommand } from '../helpers/hostile.ts';
import { checkerFor } from '../helpers/workspace.ts';
import { readXml } from '../helpers/xml.ts';

const escape = '\u001b';
const scripts = ['alert(1)', "fetch('https://example.org')", 'document.title=1'];

const texts: readonly string[] = [
  ...hostileTexts,
  // Markup that runs or loads something.
  ...scripts.flatMap((script) => [
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
  ]),
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
  ...['\u202a', '\u202b', '\u202c', '\u202d', '\u202e', '\u2066', '\u2067', '\u2068', '\u2069', '\u200e', '\u200f'].map(
    (one) => `a${one}b`,
  ),
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
];

const list = [...new Set(texts)];

/** The text in every place where a text or a name may stand. */
function specWith(text: string): string {
  const t = quote(text);
  const comment = text.replace(/[\r\n\u0085\u2028\u2029]/g, ' ');
  return `title: ${t}
kit: [kits/camera.kit.yaml, ${t}]
region: DE
brief: { client: ${t}, purpose: ${t}, must-show: [${t}], needs-rights: ${t} }
product: { size: 9 x 6 x 7 cm, finish: satin, weight: 420 g, contents: ${t}, parts: { ${t}: { size: 1 x 1 x 1 cm, letters: 1 mm } } }
deliver:
  ${t}: { raster: 1921x1080, rate: 25, length: 3 s, codec: h264, bitrate: 1 Mb/s, sound: none }
camera: { lens: normal, support: ${t}, distance: 20 cm, height: 8 cm, raster: 3840x2160, rate: 25, shutter: 1/200 s, aperture: f/2, iso: 12800, white-balance: 3000 K }
backdrop: { material: ${t}, size: 20 x 20 cm, behind: 70 cm } # ${comment}
surface: { material: ${t}, finish: glossy, size: 20 x 20 cm, height: 75 cm }
lamps:
  ${t}: { use: panel, temperature: 5000 K, level: 40 %, distance: 60 cm, angle: 45°, height: 40 cm }
  other: { use: ${t}, temperature: 3000 K, filters: ${t} }
shots:
  ${t}: { record: 1 s, notes: ${t}, turn: { speed: 2 rpm }, shows: ${t}, on-purpose: ${t}, takes: ${t} } # accept depth-of-field-short: ${comment}
cut:
  - { shot: ${t}, length: 10 s, zoom: 9 }
  - { shot: ${t}, length: ${t} }
titles:
  - { text: ${t}, at: 0 s, hold: 0.2 s, height: 1 %, font: ${t} }
rights:
  ${t}: { kind: music, shown-on: web, proof: ${t}, credit: ${t} }
${t}: ${t}
`;
}

const checker = checkerFor();
const page = (rule: string) => `# ${rule}\n\n## Why\nBecause.\n\n## Wrong\n`;

function targetOf({ doc }: CheckResult): Target {
  return {
    uri: 'file:///repo/a.shoot.yaml',
    version: 1,
    lines: doc.lines,
    units: 'utf-16',
    root: '/repo',
    linesOf: () => doc.lines,
  };
}

describe.each(list)('%j', (text) => {
  const spec = specWith(text);
  const result = checker.checkAs('shoot', spec);
  const report = reportOf(result, {
    file: 'a.shoot.yaml',
    failAt: 'error',
    fileOf: (path) => path,
    fixesOf: (finding) => finding.fixes,
  });

  test('is in the findings, and acts in no output', () => {
    expect(result.doc.problems.filter(({ rule }) => rule === 'syntax')).toEqual([]);
    expect(result.findings.length).toBeGreaterThan(10);
    const { annotations, summary } = toGithub([report], true);
    const outputs = {
      text: toText([report]),
      json: toJson([report]),
      sarif: toSarif([report], '1.0.0', () => undefined),
      junit: toJunit([report]),
      gitlab: toGitlab([report]),
      annotations,
      summary,
    };
    for (const [name, output] of Object.entries(outputs)) {
      expect(acting.exec(output)?.[0], name).toBeUndefined();
      if (name !== 'annotations') expect(logCommand.exec(output)?.[0], name).toBeUndefined();
    }
    // Every command in the log is one of ours.
    const ours = /^::(?:error|warning|notice) file=a\.shoot\.yaml,line=\d+,[^:]*::/;
    for (const line of annotations.split('\n').filter((one) => logCommand.test(one))) expect(line).toMatch(ours);
    for (const name of ['json', 'sarif', 'gitlab'] as const) JSON.parse(outputs[name]);
    readXml(outputs.junit);
    expect(marksOf(summary, true)).toEqual([]);
  });

  test('acts in no message, symbol, action or hover of an editor', () => {
    const target = targetOf(result);
    const shown = [
      ...result.findings.map((finding) => toDiagnostic(finding, target)),
      ...outline(result.doc.root).map((entry) => toSymbol(entry, target)),
      ...actionsAt({ ...result, findings: result.findings.slice(0, 3) }, { start: 0, end: 1e9 }, (now) =>
        checker.checkAs('shoot', now),
      ).map((action) => toCodeAction({ ...action, edits: [] }, target)),
    ];
    expect(acting.exec(everyText(shown))?.[0]).toBeUndefined();
    const offsets = [...result.doc.text.matchAll(/[{,] |\n(?=\S)|\n {2}/g)].map(
      ({ index, 0: match }) => index + match.length,
    );
    const hovers = new Set(offsets.map((offset) => hoverAt(result, offset, page)?.markdown ?? ''));
    expect(hovers.size).toBeGreaterThan(10);
    for (const markdown of hovers) {
      expect(acting.exec(markdown)?.[0]).toBeUndefined();
      expect(marksOf(markdown, false), markdown).toEqual([]);
    }
  });

  test('is only text in a picture', () => {
    for (const { name } of views) {
      const picture = draw(name, result);
      if (!picture) continue;
      const svg = pictureText(picture);
      expect(acting.exec(svg)?.[0], name).toBeUndefined();
      // Every element and attribute is of those that we draw with.
      for (const [, element] of svg.matchAll(/<([^\s/>!?]+)/g)) expect(drawn.has(element!), element).toBe(true);
      expect(svg).not.toMatch(/<[^>]*\s(?:on\w+|(?:xlink:)?href|src)\s*=\s*["']?(?!#)/i);
    }
  });
});

test('there are more than a hundred', () => {
  expect(list.length).toBeGreaterThanOrEqual(100);
});

const drawn: ReadonlySet<string> = new Set(
  'svg g path rect circle ellipse line polyline polygon text tspan title desc defs marker pattern clipPath style use mask linearGradient stop'.split(
    ' ',
  ),
);

/** What a reader of Markdown makes of a text that is more than text: links, pictures, markup, headings. */
function marksOf(text: string, withHtml: boolean): string[] {
  const reader = new MarkdownIt({ html: true, linkify: true });
  // Bare `example.org` is no link where Markdown is read; `www.` is, and is looked for by itself.
  reader.linkify.set({ fuzzyLink: false });
  const found: string[] = [...(text.match(/\bwww\.\w/gi) ?? [])];
  const walk = (tokens: readonly ReturnType<MarkdownIt['parse']>[number][]): void => {
    for (const token of tokens) {
      // An empty comment is how we break what would become a link.
      const isOurs = withHtml && /^(?:<!-- -->|<\/?(?:details|summary|br)>?)/.test(token.content);
      if (/link|image|html|code_block|fence/.test(token.type) && !isOurs) found.push(`${token.type} ${token.content}`);
      if (token.children) walk(token.children);
    }
  };
  walk(reader.parse(text, {}));
  return found;
}

/** Every text in a value, whatever holds it. */
function everyText(value: unknown): string {
  if (typeof value === 'string') return value;
  return value !== null && typeof value === 'object' ? Object.values(value).map(everyText).join('\n') : '';
}
