import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { applyEdits } from '../../server/core/document/edits.ts';
import { findings, fixed, marked, messages, severities } from '../helpers/findings.ts';
import { checkSpec, spec } from '../helpers/workspace.ts';

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
      `\`waltz\`: no paper is named in \`proof\`, and it is used in \`film\` (on the web, in DE and AT). Name it there, or say \`owner: own\` for your own work. ${closing}`,
    ]);
    expect(marked(waltz(''), rule)).toEqual(['waltz']);
  });

  test('a paper of its name that is there is offered, and none is made up', () => {
    expect(fixed(waltz(''), rule, { 'rights/waltz.pdf': 'x' })).toEqual({
      'Name its paper: `rights/waltz.pdf`': waltz(', proof: rights/waltz.pdf'),
      'It is my own: say `owner: own`': waltz(', owner: own'),
    });
  });

  test('what is in the public domain needs none', () => {
    expect(messages(waltz(', owner: public-domain'), rule)).toEqual([]);
  });

  test('the paper must be there, inside this folder', () => {
    const named = waltz(', proof: rights/waltz.pdf');
    expect(messages(named, rule, { 'rights/waltz.pdf': 'x' })).toEqual([]);
    expect(messages(named, rule)).toEqual([
      `\`waltz\`: there is no file \`rights/waltz.pdf\` in this folder, so nothing shows that it may be used in \`film\` (on the web, in DE and AT). ${closing}`,
    ]);
    for (const path of ['../waltz.pdf', '/home/waltz.pdf', '"https://tinnabel.example/waltz.pdf"', '~/waltz.pdf']) {
      const found = findings(waltz(`, proof: ${path}`), rule, { 'rights/waltz.pdf': 'x' });
      expect(found.map((one) => one.message)).toEqual([expect.stringContaining('the path of its paper')]);
    }
  });

  test('papers with one cause are missing once: a folder that holds none of them, or one file for all', () => {
    const text = (...proofs: readonly string[]) =>
      spec(`${heard}music: { track: waltz, tempo: 96 bpm }
sounds:
  - { track: ratchet, at: 2 s, length: 1 s }
  - { track: bell, at: 5 s, length: 1 s }
rights:
${['waltz', 'ratchet', 'bell'].map((name, index) => `  ${name}: { kind: sound, proof: ${proofs[index]}, shown-on: web, territory: EEA }\n`).join('')}`);
    const apart = text('papers/1.pdf', 'papers/2.pdf', 'papers/3.pdf');
    const where = '`film` (on the web, in DE and AT)';
    expect(messages(apart, rule)).toEqual([
      `None of the papers that are named in \`papers\` is there: those of \`waltz\`, \`ratchet\` and \`bell\`. So nothing shows that they may be used in ${where}. Put them there, or name them where they are. ${closing}`,
    ]);
    // Where one of them lies there, each of the others has to be got for itself.
    expect(marked(apart, rule, { 'papers/2.pdf': 'x' })).toEqual(['papers/1.pdf', 'papers/3.pdf']);
    expect(messages(text('all.pdf', 'all.pdf', 'bell.pdf'), rule, { 'bell.pdf': 'x' })).toEqual([
      `\`waltz\` and \`ratchet\`: there is no file \`all.pdf\` in this folder, so nothing shows that they may be used in ${where}. ${closing}`,
    ]);
    // One that is found under the name of its right makes it less.
    const [fix] = Object.entries(fixed(apart, rule, { 'rights/bell.pdf': 'x' }));
    expect(fix?.[0]).toBe('Name its paper: `rights/bell.pdf`');
    expect(messages(fix![1], rule, { 'rights/bell.pdf': 'x' })).toEqual([
      expect.stringContaining('those of `waltz` and `ratchet`'),
    ]);
  });

  test('music and sounds without a track, where a deliverable has sound', () => {
    const music = 'music: { tempo: 96 bpm }\nsounds:\n  - { length: 2 s }\n';
    expect(messages(spec(`${heard}${music}`), rule)).toEqual([
      `The music names no \`track\`, so no paper covers it in \`film\` (on the web, in DE and AT). ${closing}`,
      `The sound names no \`track\`, so no paper covers it in \`film\` (on the web, in DE and AT). ${closing}`,
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
    const pieces = ['shot: box', 'shot: screen', 'footage: slow-clouds'];
    const found = pieces.map((piece) => messages(text(`  - { ${piece}, length: 10 s }`), rule).length);
    expect(found).toEqual([0, 1, 1]);
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
    expect(['0 s to 6 s', '0 s to 7 s'].map((section) => messages(text(section), rule).length)).toEqual([0, 1]);
  });

  test("the client's own mark comes with the brief, unless the brief asks for a paper", () => {
    const text = (brief: string) =>
      spec(`${brief}shots:
  box: { record: 12 s, shows: name-plate }
rights:
  name-plate: { kind: mark, shown-on: web, territory: worldwide }
`);
    const briefs = ['client: Tinnabel', 'purpose: Show it.', 'client: Tinnabel, needs-rights: name-plate'];
    const found = briefs.map((brief) => messages(text(`brief: { ${brief} }\n`), rule).length);
    expect(found).toEqual([0, 1, 1]);
  });

  test('what is licensed is not called own work', () => {
    expect(fixed(waltz(''), rule)).toEqual({ 'It is my own: say `owner: own`': waltz(', owner: own') });
    expect(findings(waltz(', owner: licensed'), rule)).toMatchObject([
      { message: expect.not.stringContaining('owner: own'), fixes: [] },
    ]);
  });

  test('own work says neither where it may be shown nor in which countries', () => {
    const text = (right: string) =>
      spec(`${heard}music: { track: waltz, tempo: 96 bpm }\nrights:\n  waltz: { kind: music${right} }\n`);
    for (const owner of ['own', 'public-domain'])
      expect(checkSpec(text(`, owner: ${owner}`)).findings.map((one) => one.rule)).toEqual([]);
    for (const right of ['', ', owner: licensed'])
      expect(messages(text(right), rule)).toEqual([
        expect.stringContaining('Nor does it say its `shown-on` and `territory`.'),
      ]);
  });

  test('no finding says twice that it is no legal advice', () => {
    const [finding] = findings(waltz(''), rule);
    const page = readFileSync(new URL('../../server/rules/rights/licence-missing.md', import.meta.url), 'utf8');
    expect([...`${finding!.message}${page}`.matchAll(/legal advice/g)]).toHaveLength(1);
  });
});

describe('licence-expired', () => {
  const rule = 'licence-expired';
  const summer = '2026-05-01 to 2026-08-31';
  const tune = (published: string, dates: string, owner = 'licensed') =>
    spec(`deliver:
  film: { raster: 1920x1080, rate: 25, length: 10 s, codec: h264, published: ${published} }
  story: { like: film, raster: 1080x1920 }
music: { track: tune, tempo: 96 bpm }
rights:
  tune: { kind: music, owner: ${owner}, proof: rights/tune.pdf, shown-on: web, territory: worldwide, ${dates} }
`);

  test('30 June to 31 August is 62 days; own work does not end', () => {
    expect(messages(tune(summer, 'until: 2026-06-30'), rule)).toEqual([
      `\`tune\` may be shown until 2026-06-30, but \`film\` and \`story\` run to 2026-08-31: 62 days short. ${closing}`,
    ]);
    const fine = [
      tune(summer, 'until: 2026-08-31'),
      tune(summer, 'notes: no end'),
      tune(summer, 'until: 2026-06-30', 'own'),
    ];
    expect(fine.flatMap((text) => messages(text, rule))).toEqual([]);
  });

  test('a film that goes out before its paper starts', () => {
    expect(messages(tune(summer, 'from: 2026-05-02'), rule)).toEqual([
      `\`tune\` may be shown from 2026-05-02 on, but \`film\` and \`story\` go out on 2026-05-01: 1 day too early. ${closing}`,
    ]);
    expect(messages(tune(summer, 'from: 2026-05-01'), rule)).toEqual([]);
  });

  test('from after until is no day at all, whoever owns it and whether it is used or not', () => {
    const text = tune(summer, 'from: 2026-09-01, until: 2026-04-01', 'own');
    expect(messages(text, rule)).toEqual([
      `\`tune\` may be shown from 2026-09-01 on and until 2026-04-01, which is 153 days before that: on no day at all. Swap the two, or look them up. ${closing}`,
    ]);
    expect(Object.entries(fixed(text, rule))).toEqual([
      [
        'Swap the two: from 2026-04-01 until 2026-09-01',
        text.replace('from: 2026-09-01, until: 2026-04-01', 'from: 2026-04-01, until: 2026-09-01'),
      ],
    ]);
    const licensed = tune('2026-05-01', 'from: 2026-09-01, until: 2026-04-01');
    expect(messages(licensed, rule)).toHaveLength(1);
    expect(messages(licensed.replace('music: { track: tune, tempo: 96 bpm }', ''), rule)).toHaveLength(1);
    expect(messages(tune('2026-05-01', 'from: 2026-05-01, until: 2026-05-01', 'own'), rule)).toEqual([]);
  });

  test('one day of publication asks for thirty days', () => {
    expect(messages(tune('2026-05-01', 'until: 2026-05-30'), rule)).toEqual([
      expect.stringContaining('only 29 days after'),
    ]);
    const ends = ['2026-04-30', '2026-05-30', '2026-05-31'];
    const graded = ends.flatMap((end) => severities(tune('2026-05-01', `until: ${end}`), rule));
    expect(graded).toEqual(['error', 'warning']);
  });

  test('a film is taken down when its paper ends, or goes out when it begins', () => {
    const until = tune(summer, 'until: 2026-06-30');
    expect(fixed(until, rule)).toEqual({
      'Show `film` and `story` until 2026-06-30 only': until.replace('2026-08-31', '2026-06-30'),
    });
    const from = tune(summer, 'from: 2026-05-02');
    expect(fixed(from, rule)).toEqual({
      'Put `film` and `story` out on 2026-05-02': from.replace('2026-05-01', '2026-05-02'),
    });
    expect(fixed(tune(summer, 'until: 2026-04-30'), rule)).toEqual({});
  });
});

describe('licence-does-not-cover', () => {
  const rule = 'licence-does-not-cover';
  const tune = (deliver: string, right: string, rest = '') =>
    spec(`deliver:
  film: { raster: 1920x1080, rate: 25, length: 10 s, codec: h264, ${deliver} }
music: { track: tune, tempo: 96 bpm }
rights:
  tune: { kind: music, proof: rights/tune.pdf, ${right} }
${rest}`);

  test('uses and countries that lie outside', () => {
    expect(messages(tune('shown-on: broadcast, territory: US', 'shown-on: web, territory: EEA'), rule)).toEqual([
      `\`tune\` may be shown on the web, but \`film\` is shown in broadcast. ${closing}`,
      `\`tune\` may be shown in the EEA, but \`film\` is shown in US. ${closing}`,
    ]);
    const inside = tune('shown-on: web, territory: [DE, NO]', 'shown-on: [web, social], territory: EEA');
    expect(messages(inside, rule)).toEqual([]);
  });

  test('a country that is none is told of by itself, and nothing is made of it', () => {
    const text = tune('shown-on: web, territory: GB', 'shown-on: web, territory: UK');
    expect(messages(text, rule)).toEqual([]);
    expect(messages(text, 'unknown-word')).toEqual(['There is no country `UK`: write `GB` (United Kingdom).']);
  });

  test('no territory is worldwide, and that is said', () => {
    expect(messages(tune('shown-on: web', 'shown-on: web, territory: [DE, AT]'), rule)).toEqual([
      `\`tune\` may be shown in DE and AT, but \`film\` is shown worldwide (taken so, no \`territory\` is said). ${closing}`,
    ]);
  });

  test('a film is shown only where its paper covers it', () => {
    const uses = tune('shown-on: [web, social], territory: AT', 'shown-on: web, territory: EEA');
    expect(fixed(uses, rule)).toEqual({
      'Show `film` on the web only': uses.replace('[web, social]', 'web'),
    });
    const countries = tune('shown-on: web, territory: [DE, US]', 'shown-on: web, territory: EEA');
    expect(fixed(countries, rule)).toEqual({
      'Show `film` in DE only': countries.replace('[DE, US]', 'DE'),
    });
    const unsaid = tune('shown-on: web', 'shown-on: web, territory: EEA');
    expect(fixed(unsaid, rule)).toEqual({
      'Show `film` in the EEA only': unsaid.replace('shown-on: web }', 'shown-on: web, territory: EEA }'),
    });
    expect(fixed(tune('shown-on: broadcast', 'shown-on: web, territory: worldwide'), rule)).toEqual({});
  });

  test('only deliverables that have it count', () => {
    const text = tune('shown-on: broadcast, sound: none', 'shown-on: web, territory: worldwide');
    expect(messages(text, rule)).toEqual([]);
  });

  test('the credit must stand in a title of each deliverable', () => {
    const right = 'shown-on: web, territory: worldwide, credit: "Music by Ilse Farnow"';
    const title = (text: string, more = '') => `titles:\n  - { text: "${text}", at: 6 s, hold: 3 s${more} }\n`;
    const found = findings(tune('shown-on: web', right), rule);
    expect(found.map((one) => [one.severity, one.message])).toEqual([
      [
        'warning',
        `\`tune\` asks for \`Music by Ilse Farnow\` to be seen, and no title says that in \`film\`. ${closing}`,
      ],
    ]);
    expect(fixed(tune('shown-on: web', right), rule)).toEqual({
      'Name them at the end: `Music by Ilse Farnow`, at 7.5 s for 2.5 s': tune(
        'shown-on: web',
        right,
        'titles:\n  - { text: "Music by Ilse Farnow", at: 7.5 s, hold: 2.5 s }\n',
      ),
    });
    const other = [
      tune('shown-on: web', right, title('MUSIC by  Ilse Farnow, 2026')),
      tune('shown-on: web', right, title('Music by Ilse Farnow', ', only-in: story')),
      tune('shown-on: web, section: 0 s to 5 s', right, title('Music by Ilse Farnow')),
    ];
    expect(other.map((text) => messages(text, rule).length)).toEqual([0, 1, 1]);
  });
});

describe('release-missing', () => {
  const rule = 'release-missing';
  const hands = (rights = '', cut = '  - { shot: box, length: 10 s }\n') =>
    spec(`shots:\n  box: { record: 12 s, people: [hands, voice] }\n  table: { record: 12 s }\ncut:\n${cut}${rights}`);
  const law = 'For a child, whoever has custody signs. Local law decides; this is not legal advice.';

  test('everybody who can be recognised needs one', () => {
    expect(messages(hands(), rule)).toEqual([
      `\`hands\` can be recognised in \`film\` (on the web, worldwide), and there is no right of that name with \`kind: release\`. For yourself \`owner: own\` is enough. ${law}`,
      `\`voice\` can be recognised in \`film\` (on the web, worldwide), and there is no right of that name with \`kind: release\`. For yourself \`owner: own\` is enough. ${law}`,
    ]);
    expect(marked(hands(), rule)).toEqual(['hands', 'voice']);
  });

  test('a voice is heard, and a hand is seen', () => {
    const plan = (rights: string) =>
      spec(`deliver:
  film: { raster: 1920x1080, rate: 25, codec: h264, bitrate: 16 Mb/s }
sounds: [{ track: voice, at: 1 s, length: 4 s, words: It stops when you do. }]
shots: { box: { record: 12 s, people: hands } }
rights:
${rights}`);
    const paper = (name: string) => `  ${name}: { kind: release, proof: rights/${name}.pdf, shown-on: web }\n`;
    expect(
      messages(plan('  voice: { kind: release, shown-on: web }\n  hands: { kind: release, owner: own }\n'), rule),
    ).toEqual([expect.stringContaining('it is heard in `film`')]);
    expect(messages(plan(paper('voice') + paper('hands')), rule)).toEqual([
      expect.stringContaining('those of `voice` and `hands`, who are seen or heard in `film`'),
    ]);
  });

  test('your own are added under `rights`, or said to be yours, and no paper is made up', () => {
    const title = 'It is me: add `hands` under `rights`, with `owner: own`';
    const added = (paper: string) =>
      hands(`rights:\n  hands: { kind: release, ${paper}shown-on: web, territory: worldwide }\n`);
    const needed = 'Add `hands` under `rights` as the film needs it (on the web, worldwide)';
    expect(fixed(hands(), rule)).toEqual({
      [title]: hands('rights:\n  hands: { kind: release, owner: own }\n'),
      [`${needed}, its paper still to be named`]: added(''),
    });
    expect(fixed(hands(), rule, { 'rights/hands.pdf': 'x' })).toMatchObject({
      [`${needed}, if \`rights/hands.pdf\` says so`]: added('proof: rights/hands.pdf, '),
    });
    const lines = 'rights:\n  voice: { kind: release, owner: own } # mine\n';
    expect(fixed(hands(lines), rule)).toMatchObject({
      [title]: hands(`${lines}  hands: { kind: release, owner: own }\n`),
    });
    const right = (rest = '') =>
      hands(`rights:\n  hands: { kind: release, shown-on: web, territory: worldwide${rest} }\n`);
    const said = findings(right(), rule).find(({ start }) => right().slice(start).startsWith('hands: {'));
    expect(said?.message).toContain('or say `owner: own` if it is you');
    expect(applyEdits(right(), said!.fixes[0]!.edits)).toBe(right(', owner: own'));
  });

  test('not where the shot is in no deliverable', () => {
    expect(messages(hands('', '  - { shot: table, length: 10 s }\n'), rule)).toEqual([]);
  });

  test('a release with its paper, or your own hands', () => {
    const rights = `rights:
  hands: { kind: release, owner: own }
  voice: { kind: release, proof: rights/voice.pdf, shown-on: web, territory: worldwide }
`;
    expect(messages(hands(rights), rule, { 'rights/voice.pdf': 'x' })).toEqual([]);
    expect(messages(hands(rights), rule)).toEqual([expect.stringContaining('there is no file `rights/voice.pdf`')]);
    expect(messages(hands(rights), 'licence-missing')).toEqual([]);
  });

  test('a draft that nobody has signed proves nothing', () => {
    const draft = 'rights/hands.draft.md';
    const rights = `rights:
  hands: { kind: release, proof: ${draft}, shown-on: web, territory: worldwide }
  voice: { kind: release, owner: own }
`;
    expect(messages(hands(rights), rule, { [draft]: 'x' })).toEqual([
      `\`hands\`: \`${draft}\` is a draft that nobody has signed, so nothing shows the release for \`film\` (on the web, worldwide). Name the signed one, once you have it. ${law}`,
    ]);
    expect(fixed(hands(rights), rule, { [draft]: 'x', 'rights/hands.pdf': 'x' })).toEqual({
      'Name its paper: `rights/hands.pdf`': hands(rights.replace(draft, 'rights/hands.pdf')),
    });
  });

  test('a paper of another kind is no release', () => {
    const rights = 'rights:\n  hands: { kind: artwork, owner: own, shown-on: web, territory: worldwide }\n';
    expect(messages(hands(rights), rule)[1]).toContain('is about `artwork`, not a release');
  });
});
