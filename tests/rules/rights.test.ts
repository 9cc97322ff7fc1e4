import { describe, expect, test } from 'vitest';
import { findings, marked, messages } from '../helpers/findings.ts';
import { spec } from '../helpers/workspace.ts';

const closing = 'Ask whoever holds the right; this is not legal advice.';

describe('licence-missing', () => {
  const rule = 'licence-missing';
  const heard = 'deliver:\n  film: { raster: 1920x1080, rate: 25, length: 10 s, codec: h264, territory: [DE, AT] }\n';
  const waltz = (right: string, rest = '') =>
    spec(
      `${heard}music: { track: waltz, tempo: 96 bpm }\nrights:\n  waltz: { kind: music, shown-on: web, territory: EEA${right} }\n${rest}`,
    );

  test('no paper named', () => {
    expect(messages(waltz(''), rule)).toEqual([
      `\`waltz\`: no paper is named in \`proof\`, and it is used in \`film\` (web, DE and AT). ${closing}`,
    ]);
    expect(marked(waltz(''), rule)).toEqual(['waltz']);
  });

  test('own work and the public domain need none', () => {
    expect(messages(waltz(', owner: own'), rule)).toEqual([]);
    expect(messages(waltz(', owner: public-domain'), rule)).toEqual([]);
  });

  test('the paper must be there, inside this folder', () => {
    const named = waltz(', proof: rights/waltz.pdf');
    expect(messages(named, rule, { 'rights/waltz.pdf': 'x' })).toEqual([]);
    expect(messages(named, rule)).toEqual([
      `\`waltz\`: there is no file \`rights/waltz.pdf\` in this folder, so nothing shows that it may be used in \`film\` (web, DE and AT). ${closing}`,
    ]);
    for (const path of ['../waltz.pdf', '/home/waltz.pdf', '"https://tinnabel.example/waltz.pdf"', '~/waltz.pdf']) {
      const found = findings(waltz(`, proof: ${path}`), rule, { 'rights/waltz.pdf': 'x' });
      expect(found.map((one) => one.message)).toEqual([expect.stringContaining('the path of its paper')]);
    }
  });

  test('music and sounds without a track, where a deliverable has sound', () => {
    const music = 'music: { tempo: 96 bpm }\nsounds:\n  - { length: 2 s }\n';
    expect(messages(spec(`${heard}${music}`), rule)).toEqual([
      `The music names no \`track\`, so no paper covers it in \`film\` (web, DE and AT). ${closing}`,
      `The sound names no \`track\`, so no paper covers it in \`film\` (web, DE and AT). ${closing}`,
    ]);
    const silent = 'deliver:\n  film: { raster: 1920x1080, rate: 25, length: 10 s, codec: h264, sound: none }\n';
    expect(messages(spec(`${silent}${music}`), rule)).toEqual([]);
  });

  test('what is not in any deliverable needs no paper', () => {
    const text = (cut: string) =>
      spec(`shots:
  box: { record: 12 s }
  screen: { record: 12 s, backdrop: { use: monitor, behind: 70 cm, footage: slow-clouds } }
cut:
${cut}
rights:
  slow-clouds: { kind: footage, shown-on: web, territory: worldwide }
`);
    expect(messages(text('  - { shot: box, length: 10 s }'), rule)).toEqual([]);
    expect(messages(text('  - { shot: screen, length: 10 s }'), rule)).toHaveLength(1);
    expect(messages(text('  - { footage: slow-clouds, length: 10 s }'), rule)).toHaveLength(1);
  });

  test('a section hears and shows only its own part', () => {
    const text = (section: string) =>
      spec(`deliver:
  teaser: { raster: 1920x1080, rate: 25, codec: h264, section: ${section} }
sounds:
  - { track: click, at: 6 s, length: 1 s }
rights:
  click: { kind: sound, shown-on: web, territory: worldwide }
`);
    expect(messages(text('0 s to 6 s'), rule)).toEqual([]);
    expect(messages(text('0 s to 7 s'), rule)).toHaveLength(1);
  });

  test("the client's own mark comes with the brief, unless the brief asks for a paper", () => {
    const text = (brief: string) =>
      spec(`${brief}shots:
  box: { record: 12 s, shows: name-plate }
rights:
  name-plate: { kind: mark, shown-on: web, territory: worldwide }
`);
    expect(messages(text('brief: { client: Tinnabel }\n'), rule)).toEqual([]);
    expect(messages(text('brief: { purpose: Show it. }\n'), rule)).toHaveLength(1);
    expect(messages(text('brief: { client: Tinnabel, needs-rights: name-plate }\n'), rule)).toHaveLength(1);
  });

  test('no fixes are offered', () => {
    expect(findings(waltz(''), rule).flatMap((one) => one.fixes)).toEqual([]);
  });
});
