/**
 * More than a hundred texts that are meant to act (on a terminal, a page, a log, a reader of Markdown), written into every
 * place of a spec where somebody may write one, and looked for in everything that the project gives out; what becomes a
 * page is opened in a browser. The panel's own page is tried in tests/client.
 */
import MarkdownIt from 'markdown-it';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { CheckResult } from '../../server/core/checker.ts';
import { quote } from '../../server/core/document/edits.ts';
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
import type { Picture } from '../../server/views/picture.ts';
import { sheetText } from '../../server/views/sheet.ts';
import { audience } from '../helpers/audience.ts';
import { actionsFor } from '../helpers/actions.ts';
import { hasBrowser, openBrowser, WatchedPage } from '../helpers/browser.ts';
import { acting, actingTexts, logCommand } from '../helpers/hostile.ts';
import { checkerFor } from '../helpers/workspace.ts';
import { readXml } from '../helpers/xml.ts';
import { seed, times } from './sound.ts';

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
const markdown = new MarkdownIt({ html: true, linkify: true });
// Bare `example.org` is no link where Markdown is read; `www.` is, and is looked for by itself.
markdown.linkify.set({ fuzzyLink: false });
const page = (rule: string) => `# ${rule}\n\n## Why\nBecause.\n\n## Wrong\n`;

function targetOf({ doc }: CheckResult): Target {
  return {
    uri: 'file:///repo/a.shoot.yaml',
    version: 1,
    lines: doc.lines,
    units: 'utf-16',
    uriOf: (path = '') => `file:///repo/${path}`,
    audience,
    linesOf: () => doc.lines,
  };
}

let browser: Browser | undefined;
let watched: WatchedPage;
beforeAll(async () => {
  if (!hasBrowser) return;
  browser = await openBrowser();
  watched = await WatchedPage.open(browser);
});
afterAll(() => browser?.close());

/** One in three; another seed takes others, and `FUZZ_RUNS` all of them. */
const some = actingTexts
  .map((text, index) => ({ text, index }))
  .filter(({ index }) => times > 1 || (index + seed) % 3 === 0);

describe.each(some)('$text', ({ text, index }) => {
  const spec = specWith(text);
  const result = checker.checkAs('shoot', spec);
  const report = reportOf(result, {
    file: 'a.shoot.yaml',
    failAt: 'error',
    fileOf: (path) => path,
    fixesOf: (finding) => finding.fixes,
  });

  let known: readonly string[] | undefined;
  const hovers = () => (known ??= hoversOf(result));
  let drawn: readonly Picture[] | undefined;
  const pictures = () => (drawn ??= views.flatMap(({ name }) => draw(name, result) ?? []));

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
      ...actionsFor({ ...result, findings: result.findings.slice(0, 3) }, { start: 0, end: 1e9 }, (now) =>
        checker.checkAs('shoot', now),
      ).map((action) => toCodeAction({ ...action, edits: [] }, target)),
    ];
    expect(acting.exec(everyText(shown))?.[0]).toBeUndefined();
    expect(hovers().length).toBeGreaterThan(10);
    for (const hover of hovers()) {
      expect(acting.exec(hover)?.[0]).toBeUndefined();
      expect(marksOf(hover, false), hover).toEqual([]);
    }
  });

  test('is only text in a picture', () => {
    for (const picture of pictures()) {
      const svg = pictureText(picture);
      expect(acting.exec(svg)?.[0], picture.view).toBeUndefined();
      // Every element and attribute is of those that we draw with.
      const strange = [...svg.matchAll(/<([^\s/>!?]+)/g)]
        .map(([, element]) => element!)
        .filter((one) => !elements.has(one));
      expect(strange).toEqual([]);
      expect(svg).not.toMatch(/<[^>]*\s(?:on\w+|(?:xlink:)?href|src)\s*=\s*["']?(?!#)/i);
    }
  });

  // Opening a sheet takes long; what acts is looked for as text in all of them.
  test.runIf(hasBrowser && index % 4 === 0)(
    'does nothing in a browser: in the sheet and its pictures, hovers and the summary',
    async () => {
      const parts = [...hovers(), toGithub([report], true).summary].map((one) => markdown.render(one));
      // The sheet holds the pictures; the panel, which is themed, is tried by itself.
      expect(await watched.deedsOf(sheetText(result)! + parts.join('\n'))).toEqual([]);
    },
  );
});

/** Every different hover, at all keys and values. */
function hoversOf(result: CheckResult): string[] {
  const places = [...result.doc.text.matchAll(/[{,] |\n(?=\S)|\n {2}/g)];
  const offsets = places.map(({ index, 0: match }) => index + match.length);
  return [
    ...new Set(offsets.map((offset) => hoverAt(result, offset, (rule) => ({ text: page(rule) }))?.markdown ?? '')),
  ];
}

test.runIf(hasBrowser)('what acts in a browser would be noticed', async () => {
  const deeds = (html: string) => watched.deedsOf(html);
  expect(await deeds('<script>alert(1)</script>')).toContain('asks 1');
  // What a script fetches is told a moment after the page stands.
  const fetching = "<script>fetch('https://example.org')</script>";
  await expect.poll(() => deeds(fetching), { timeout: 20_000 }).toContain('loads https://example.org/');
  expect(await deeds('<script>document.title=1</script>')).toContain('changes its title');
  expect(await deeds('<svg onload="x"><a href="javascript:x">x</a></svg>')).toHaveLength(2);
});

test('there are more than a hundred', () => {
  expect(actingTexts.length).toBeGreaterThanOrEqual(100);
});

const elements: ReadonlySet<string> = new Set(
  'svg g path rect circle ellipse line polyline polygon text tspan title desc defs marker pattern clipPath style use mask linearGradient stop'.split(
    ' ',
  ),
);

/** What a reader of Markdown makes of a text that is more than text: links, pictures, markup, headings. */
function marksOf(text: string, withHtml: boolean): string[] {
  const found: string[] = [...(text.match(/www\.\w/gi) ?? [])];
  const walk = (tokens: readonly ReturnType<MarkdownIt['parse']>[number][]): void => {
    for (const token of tokens) {
      // An empty comment is how we break what would become a link.
      const isOurs = withHtml && /^(?:<!-- -->|<\/?(?:details|summary|br)>?)/.test(token.content);
      if (/link|image|html|code_block|fence/.test(token.type) && !isOurs) found.push(`${token.type} ${token.content}`);
      if (token.children) walk(token.children);
    }
  };
  walk(markdown.parse(text, {}));
  return found;
}

/** Every text in a value, whatever holds it. */
function everyText(value: unknown): string {
  if (typeof value === 'string') return value;
  return value !== null && typeof value === 'object' ? Object.values(value).map(everyText).join('\n') : '';
}
