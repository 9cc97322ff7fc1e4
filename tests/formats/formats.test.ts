/** Every output: its form, and that nothing in a spec acts in it. */
import MarkdownIt from 'markdown-it';
import { describe, expect, test } from 'vitest';
import { harmless, json, logLines, markdown, xml } from '../../server/formats/escape.ts';
import { toGithub } from '../../server/formats/github.ts';
import { toGitlab } from '../../server/formats/gitlab.ts';
import { toJson } from '../../server/formats/json.ts';
import { toJunit } from '../../server/formats/junit.ts';
import { toPatch } from '../../server/formats/patch.ts';
import { toSarif } from '../../server/formats/sarif.ts';
import { toText } from '../../server/formats/text.ts';
import type { FileReport } from '../../server/formats/report.ts';
import { acting, hostileTexts, logCommand } from '../helpers/hostile.ts';
import { finding, report, withFix } from '../helpers/report.ts';
import { published, sarifFaults } from '../helpers/sarif.ts';
import { readXml } from '../helpers/xml.ts';

const info = () => ({ family: 'time', severity: 'warning', summary: 'Too short.', page: '# a page\n' }) as const;
const sarif = (reports: readonly FileReport[]) => toSarif(reports, '1.2.3', info);

const silenced = {
  ...finding({ message: 'meant' }),
  why: { kind: 'accepted', text: 'the client asked for it' },
} as const;

describe('text', () => {
  test('names the fixes below the line that they are of', () => {
    expect(toText([report([withFix])])).toMatch(/\^\n {2}fix: Set shutter/);
  });
});

describe('GitHub', () => {
  // Form and escapes: GitHub Docs, "Workflow commands for GitHub Actions", and the runner's own table of escapes
  // (actions/toolkit, packages/core/src/command.ts): % CR LF in data, and : , too in properties.
  test('an annotation has its place and its rule, and is escaped as GitHub reads it back', () => {
    const odd = finding({ message: '50 % of it,\r\nso: there', rule: 'a:b,c%d' });
    const { annotations } = toGithub([report([odd], { file: 'films/a,b:c.shoot.yaml' })], false);
    expect(annotations.split('\n')[0]).toBe(
      '::warning file=films/a%2Cb%3Ac.shoot.yaml,line=3,endLine=3,col=5,endColumn=12,title=a%3Ab%2Cc%25d::50 %25 of it,%0D%0Aso: there',
    );
  });

  test('columns are left out where a finding ends on another line', () => {
    const { annotations } = toGithub([report([finding({ endLine: 4, endColumn: 1 })])], false);
    expect(annotations).toMatch(/^::warning file=[^,]*,line=3,endLine=4,title=/);
  });

  test('ten of each kind are annotations, the most serious of all files first, the rest is the summary', () => {
    const many = (severity: 'error' | 'warning' | 'info' | 'hint', count: number) =>
      Array.from({ length: count }, (_, index) => finding({ severity, message: `${severity} ${index}` }));
    const reports = [
      report([...many('hint', 4), ...many('warning', 12)]),
      report([...many('error', 13), ...many('info', 8)], { file: 'films/b.shoot.yaml' }),
    ];
    const { annotations, summary } = toGithub(reports, true);
    const kinds = annotations.split('\n').map((line) => /^::(\w+)/.exec(line)?.[1]);
    const count = (kind: string) => kinds.filter((one) => one === kind).length;
    expect([count('error'), count('warning'), count('notice')]).toEqual([10, 10, 10]);
    expect(kinds.slice(0, 10)).toEqual(Array.from({ length: 10 }, () => 'error'));
    // 8 info and 2 of 4 hints are notices; 3 errors, 2 warnings and 2 hints are left.
    expect(summary.split('\n').filter((line) => line.startsWith('| films/'))).toHaveLength(7);
    expect(annotations).toContain('2 files: 13 errors, 12 warnings, 8 info, 4 hints.');
  });

  test('without a place for a summary everything is an annotation', () => {
    const many = Array.from({ length: 14 }, (_, index) => finding({ message: `${index}` }));
    const { annotations, summary } = toGithub([report(many)], false);
    expect(annotations.match(/^::warning/gm)).toHaveLength(14);
    expect(summary).toBe('');
  });
});

describe('SARIF', () => {
  test('the schema is the published one, and knows a wrong log', () => {
    expect(published).toEqual([expect.stringContaining('sarif-2.1.0'), expect.stringContaining('draft-04')]);
    expect(sarifFaults('{"version":"2.1.0","runs":[{}]}')).not.toEqual([]);
  });

  test('is valid: none, some, with fixes, silenced, of a rule without a page', () => {
    const baseline = { ...silenced, why: { kind: 'baseline', text: '' } } as const;
    const reports = [report([withFix, finding({ severity: 'hint' })], { silenced: [silenced, baseline] })];
    expect(sarifFaults(sarif([]))).toEqual([]);
    expect(sarifFaults(sarif(reports))).toEqual([]);
    expect(sarifFaults(toSarif(reports, '1.2.3', () => undefined))).toEqual([]);
  });

  test('holds rules with help, fixes as edits, and what is accepted as suppressed', () => {
    const text = sarif([report([withFix], { silenced: [silenced], file: 'films/ä b%.shoot.yaml' })]);
    const run = (JSON.parse(text) as { runs: Record<string, never>[] }).runs[0]!;
    expect(run).toMatchObject({
      columnKind: 'utf16CodeUnits',
      tool: { driver: { rules: [{ id: 'shutter-off-half-frame', help: { text: '# a page\n' } }] } },
      results: [
        {
          ruleId: 'shutter-off-half-frame',
          ruleIndex: 0,
          level: 'warning',
          locations: [{ physicalLocation: { artifactLocation: { uri: 'films/%C3%A4%20b%25.shoot.yaml' } } }],
          relatedLocations: [{ message: { text: 'as the kit says' } }, { message: { text: 'here too' } }],
          fixes: [
            {
              description: { text: 'Set shutter to 1/50 s (180°)' },
              artifactChanges: [
                {
                  replacements: [
                    {
                      deletedRegion: { startLine: 3, startColumn: 14, endLine: 3, endColumn: 21 },
                      insertedContent: { text: '1/50 s' },
                    },
                  ],
                },
              ],
            },
          ],
        },
        { suppressions: [{ kind: 'inSource', justification: 'accepted: the client asked for it' }] },
      ],
    });
  });

  test('nothing in a message is a link or a placeholder', () => {
    const text = sarif([report([finding({ message: 'see [here](1) and {0}' })])]);
    expect((JSON.parse(text) as { runs: { results: unknown[] }[] }).runs[0]!.results[0]).toMatchObject({
      message: { text: 'see \\[here](1) and {{0}}' },
    });
  });

  test('is valid whatever a spec says', () => {
    expect(sarifFaults(sarif([report(hostileTexts.map((message) => finding({ message, rule: message })))]))).toEqual(
      [],
    );
  });
});

describe('JUnit', () => {
  test('failures are what is at least as serious as the threshold of the file', () => {
    const some = [finding({ severity: 'error' }), finding({ severity: 'warning' }), finding({ severity: 'info' })];
    const text = toJunit([
      report(some, { failAt: 'warning', silenced: [silenced] }),
      report([], { file: 'b.kit.yaml' }),
    ]);
    const suites = readXml(text);
    expect(suites.attributes).toEqual({ name: 'shootspec', tests: '5', failures: '2', errors: '0' });
    expect(suites.children.map((one) => one.attributes['name'])).toEqual(['films/a.shoot.yaml', 'b.kit.yaml']);
    const inner = suites.children[0]!.children.map((one) => one.children[0]!.name);
    expect(inner).toEqual(['failure', 'failure', 'system-out', 'skipped']);
    expect(suites.children[1]!.children[0]!.attributes).toEqual({ name: 'no findings', classname: 'b.kit.yaml' });
  });

  test('is well-formed whatever a spec says, and says it', () => {
    const text = toJunit([report(hostileTexts.map((message) => finding({ message, severity: 'error' })))]);
    const cases = readXml(text).children[0]!.children;
    expect(cases.map((one) => one.children[0]!.attributes['message'])).toEqual(hostileTexts.map(harmless));
  });
});

describe('GitLab', () => {
  test('has the fields of a code quality report', () => {
    // GitLab Docs, "Code Quality": description, check_name, fingerprint, severity, location.path, location.lines.begin.
    const [one] = JSON.parse(toGitlab([report([finding()])])) as object[];
    expect(one).toEqual({
      description: 'spin: 1/200 s is 45°.',
      check_name: 'shutter-off-half-frame',
      fingerprint: expect.stringMatching(/^[0-9a-f]{16}$/),
      severity: 'major',
      location: { path: 'films/a.shoot.yaml', lines: { begin: 3, end: 3 } },
    });
  });
});

describe('nothing in a spec acts in an output', () => {
  const all = hostileTexts.map((text) =>
    finding({
      message: text,
      rule: text,
      source: { text: text.split('\n')[0]!, column: 1 },
      fixes: [{ title: text, safe: true, edits: [{ line: 1, column: 1, endLine: 1, endColumn: 1, text }] }],
      related: [{ file: text, message: text }],
    }),
  );
  const reports = hostileTexts.map((file) =>
    report(all, { file, silenced: all.map((one) => ({ ...one, why: { kind: 'accepted', text: file } })) }),
  );
  const unused = hostileTexts.map((text) => ({ file: text, rule: text, fingerprint: text, count: 1 }));

  const outputs: Readonly<Record<string, string>> = {
    text: toText(reports, { unused }),
    json: toJson(reports, unused),
    sarif: sarif(reports),
    junit: toJunit(reports),
    gitlab: toGitlab(reports),
    summary: toGithub(reports, true).summary,
    patch: hostileTexts.map((text) => toPatch(text, `a\n${text}\nb\n`, `a\n${text}\nc\n`)).join(''),
  };

  test.each(Object.entries(outputs))('%s', (_, output) => {
    expect(output.replaceAll('\r\n', '\n')).not.toMatch(acting);
    expect(output).not.toMatch(logCommand);
  });

  test('annotations: a line for each, and no other command', () => {
    const { annotations } = toGithub(reports, false);
    expect(annotations).not.toMatch(acting);
    const lines = annotations.trimEnd().split('\n');
    expect(lines).toHaveLength(hostileTexts.length ** 2 + 1);
    expect(lines.slice(0, -1).every((line) => /^::warning file=[^:,]*,line=3,/.test(line))).toBe(true);
    expect(annotations).not.toMatch(/##\[|##vso\[|##teamcity\[/);
  });

  test('JSON reads back the same, character for character', () => {
    const { findings } = JSON.parse(outputs['json']!) as { findings: { message: string }[] };
    const messages = findings.slice(0, hostileTexts.length).map((one) => one.message);
    expect(messages).toEqual(hostileTexts);
  });
});

describe('Markdown', () => {
  const reader = new MarkdownIt({ html: true, linkify: true });
  // GitHub makes links of addresses with `http` or `www` and of mail addresses, not of every word with a full stop.
  reader.linkify.set({ fuzzyLink: false });

  test.each(hostileTexts)('%j is only its own letters', (text) => {
    // In a list, in a heading and in a table, where other marks count.
    for (const page of [
      `- ${markdown(text)}`,
      `### ${markdown(text)}`,
      `| a | b |\n|---|---|\n| ${markdown(text)} | x |`,
    ]) {
      const tokens = reader.parse(page, {}).flatMap((token) => [token, ...(token.children ?? [])]);
      const types = new Set(tokens.map((token) => token.type));
      for (const type of ['link_open', 'image', 'strong_open', 'em_open', 's_open', 'html_block', 'fence'])
        expect(types).not.toContain(type);
      const html = tokens.filter((token) => token.type === 'html_inline').map((token) => token.content);
      expect(html.every((one) => one === '<!-- -->')).toBe(true);
      expect(tokens.filter((token) => token.type === 'list_item_open').length).toBe(page.startsWith('-') ? 1 : 0);
      expect(tokens.filter((token) => token.type === 'td_open').length).toBe(page.startsWith('|') ? 2 : 0);
      const said = tokens
        .filter((token) => ['text', 'text_special', 'code_inline'].includes(token.type))
        .map(({ type, content }) => (type === 'code_inline' ? `\`${content}\`` : content));
      expect(said.join('')).toContain(harmless(text.replaceAll('\n', ' ')).trim());
    }
  });

  test('what is quoted is code, and what is broken by quoting is not', () => {
    expect(markdown('title `Old *one*` → `New #2`')).toBe('title `Old *one*` → `New #2`');
    expect(markdown('`@one` at `//two`')).toBe('\\`@<!-- -->one\\` at \\`/<!-- -->/two\\`');
    expect(markdown('`a|b` and `c')).toBe('\\`a\\|b\\` and \\`c');
    expect(markdown('``two`` and $`x`$')).toBe('\\`\\`two\\`\\` and \\$\\`x\\`\\$');
  });

  test('mentions and numbers of issues are broken', () => {
    expect(markdown('@somebody #12')).toBe('@<!-- -->somebody #<!-- -->12');
    expect(markdown('https://example.org')).toBe('https:<!-- -->/<!-- -->/example.org');
  });
});

describe('escapes', () => {
  test('plain text stays as it is', () => {
    const plain = 'spin: 1/50 s at 25 is 180° (“usual”), 50 % — fine';
    expect([harmless(plain), logLines(plain), xml(plain)]).toEqual([plain, plain, plain]);
    expect(JSON.parse(json(plain))).toBe(plain);
  });
});

describe('the patch', () => {
  test('is a unified diff with three lines around', () => {
    const text = Array.from({ length: 9 }, (_, index) => `line ${index}\n`).join('');
    expect(toPatch('films/a.shoot.yaml', text, text.replace('line 4', 'other'))).toBe(
      `--- a/films/a.shoot.yaml\n+++ b/films/a.shoot.yaml\n@@ -2,7 +2,7 @@\n line 1\n line 2\n line 3\n-line 4\n+other\n line 5\n line 6\n line 7\n`,
    );
  });

  test('is empty where nothing changes', () => {
    expect(toPatch('a', 'x\n', 'x\n')).toBe('');
  });
});
