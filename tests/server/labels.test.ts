/** Names and values of a file that would do something to whoever shows them arrive as words that do nothing. */
import { describe, expect, test } from 'vitest';
import type { ClientCapabilities, CodeAction } from 'vscode-languageserver-protocol';
import { split } from '../helpers/cursor.ts';
import { acting } from '../helpers/hostile.ts';
import { client, repo, startsServer, uri } from '../helpers/open-near-server.ts';
import { kits, spec } from '../helpers/workspace.ts';

/** Turned round, then as it would be with the colours of a terminal and on two lines: in YAML's own escapes. */
const turned = 'a\u202ecba';
const escaped = '"a\\e[31mb\\nc\\u2028d"';
const harmlessTurned = 'a\\u{202e}cba';
const harmlessEscaped = 'a\\u{1b}[31mb c\\u{2028}d';

startsServer();

interface Place {
  readonly textDocument: { readonly uri: string };
  readonly position: { readonly line: number; readonly character: number };
}

/** Opens a text with a cursor mark in it. */
async function open(marked: string, capabilities: ClientCapabilities = {}): Promise<Place> {
  const { text, offset } = split(marked);
  const before = text.slice(0, offset).split('\n');
  await client.initialize(repo.root, capabilities);
  await client.open(uri, text);
  return { textDocument: { uri }, position: { line: before.length - 1, character: before.at(-1)!.length } };
}

/** Everything in an answer that a client shows on a line of its own. */
function shown(answer: unknown): string[] {
  if (Array.isArray(answer)) return answer.flatMap(shown);
  if (answer === null || typeof answer !== 'object') return [];
  return Object.entries(answer).flatMap(([key, value]) =>
    typeof value === 'string' ? (labelKeys.has(key) ? [value] : []) : shown(value),
  );
}

const labelKeys = new Set(
  'label detail name containerName title reason placeholder tooltip message description words'.split(' '),
);

/** Nothing shown acts, and the words in question were among it. */
function expectHarmless(answer: unknown, ...wanted: string[]): void {
  const labels = shown(answer);
  expect(labels.filter((label) => acting.test(label) || /[\t\n\r]/.test(label))).toEqual([]);
  for (const words of wanted) expect(labels.join('\n')).toContain(words);
}

const complete = (at: Place) => client.request('textDocument/completion', at);
const actions = ({ textDocument, position }: Place, only?: string[]) =>
  client.request('textDocument/codeAction', {
    textDocument,
    range: { start: position, end: position },
    context: { diagnostics: [], only, triggerKind: 1 },
  });

const lamp = 'use: panel, temperature: 5000 K, level: 40 %, distance: 60 cm, angle: 45°, height: 40 cm, role: key';
const named = (name: string) =>
  spec(`lamps:
  ${name}: { ${lamp} }
shots:
  ${name}: { record: 12 s }
cut:
  - { shot: ${name}, length: 10 s }
`);

describe('completion', () => {
  test('of names', async () => {
    const at = await open(`${named(turned).replace(/cut:[^]*/, '')}cut:\n  - { shot: ‸ }\n`);
    expectHarmless(await complete(at), harmlessTurned);
  });

  test('of what a name stands for', async () => {
    repo.write(
      'kits/camera.kit.yaml',
      kits['kits/camera.kit.yaml']!.replace(/^lenses:\n/m, `$&  odd: { focal: ${escaped} }\n`),
    );
    const at = await open(spec('').replace('lens: normal', 'lens: ‸'));
    expectHarmless(await complete(at), harmlessEscaped);
  });

  test('of kits, by their paths and titles', async () => {
    repo.write(`kits/${turned}.kit.yaml`, `title: ${escaped}\n`);
    const at = await open(spec('').replace('kit: kits/camera.kit.yaml', 'kit: ‸'));
    expectHarmless(await complete(at), harmlessTurned, harmlessEscaped);
  });

  test('of values that a rule warns about in the words of the file', async () => {
    const at = await open(
      named(turned).replace('record: 12 s', 'record: 12 s, turn: { speed: 2 rpm }, camera: { shutter: ‸ }'),
    );
    expectHarmless(await complete(at), harmlessTurned);
  });
});

describe('renaming', () => {
  test('starts from a name', async () => {
    const at = await open(named(turned).replace(`shot: ${turned}`, `shot: ‸${turned}`));
    expectHarmless(await client.request('textDocument/prepareRename', at), harmlessTurned);
  });

  test('says why it is refused', async () => {
    const at = await open(named('box').replace('shot: box', 'shot: ‸box'));
    const refused = client.request('textDocument/rename', { ...at, newName: 'a\u001b[31m\u202eb\nc' });
    const { message } = await refused.then(
      () => ({ message: '' }),
      (error: Error) => error,
    );
    expectHarmless({ message }, 'a\\u{1b}[31m\\u{202e}b c');
  });
});

describe('symbols', () => {
  test('of the file', async () => {
    const at = await open(`‸${named(escaped)}notes: ${escaped}\n`);
    expectHarmless(await client.request('textDocument/documentSymbol', at), harmlessEscaped);
  });

  test('of the repo', async () => {
    repo.write('b.shoot.yaml', `title: ${escaped}\nshots:\n  ${turned}: { record: 12 s }\n`);
    await client.initialize(repo.root);
    expectHarmless(await client.request('workspace/symbol', { query: 'cba' }), harmlessTurned, harmlessEscaped);
  });
});

test('hints', async () => {
  const two = `deliver:
  ${escaped}: { raster: 1920x1080, rate: 25, length: 10 s, codec: h264, bitrate: 16 Mb/s, sound: none }
  b: { raster: 1280x720, rate: 25, length: 10 s, codec: h264, bitrate: 16 Mb/s, sound: none }
`;
  const { textDocument } = await open(`‸${spec(two)}`);
  const range = { start: { line: 0, character: 0 }, end: { line: 99, character: 0 } };
  const hints = await client.request('textDocument/inlayHint', { textDocument, range });
  expectHarmless(hints, harmlessEscaped);
});

describe('code actions', () => {
  test('fixes', async () => {
    const at = await open(named(turned).replace(`shot: ${turned}`, 'shot: ‸acba'));
    expectHarmless(await actions(at), harmlessTurned);
  });

  test('refactorings', async () => {
    const at = await open(named(turned).replace('use: panel', 'use: ‸panel'));
    expectHarmless(await actions(at), `Give \`${harmlessTurned}\` a lamp of its own`);
  });

  const dark = (name: string, more = '') =>
    named(name).replace('record: 12 s', `record: ‸12 s, camera: { iso: 100, aperture: f/16 }${more}`);
  const rewrites = ['refactor.rewrite'];

  test('settings that work', async () => {
    expectHarmless(await actions(await open(dark(escaped)), rewrites), `Make \`${harmlessEscaped}\` work`);
  });

  test('settings that are still looked for', async () => {
    const resolves = { textDocument: { codeAction: { resolveSupport: { properties: ['edit'] } } } };
    const { textDocument, position } = await open(dark(escaped), resolves);
    const asked = { diagnostics: [], only: rewrites, triggerKind: 2 };
    const range = { start: position, end: position };
    const offered = await client.request('textDocument/codeAction', { textDocument, range, context: asked });
    expectHarmless(offered, `Find settings that work for \`${harmlessEscaped}\``);
  });

  const camera = 'lens: macro, distance: 20 cm, aperture: f/2.8, iso: 200';
  const hopeless = named(turned)
    .replace('role: key }', '$& # fixed: level')
    .replace('record: 12 s }', `record: ‸12 s, camera: { ${camera} } } # fixed: distance, aperture`);
  const noSettings = `No settings make all of \`${harmlessTurned}\` work`;
  const why = `Marked as fixed: \`aperture\`, \`distance\` and \`${harmlessTurned} level\``;

  test('why no settings work, as a message', async () => {
    const offered = (await actions(await open(hopeless))) as CodeAction[];
    expectHarmless(offered, noSettings);
    const said = new Promise((done) => {
      client.connection.onRequest('window/showMessageRequest', (params) => (done(params), null));
    });
    await client.request('workspace/executeCommand', offered.find(({ command }) => command)!.command!);
    expectHarmless(await said, why);
  });

  test('why no settings work, beside an action that cannot be taken', async () => {
    const at = await open(hopeless, { textDocument: { codeAction: { disabledSupport: true } } });
    expectHarmless(await actions(at, rewrites), noSettings, why);
  });
});

test('a picture, its parts and its findings in words', async () => {
  const { textDocument } = await open(`‸${named(escaped).replace('record: 12 s', 'record: 1 s')}`);
  const picture = await client.request('shootSpec/picture', { textDocument, view: 'timeline' });
  expectHarmless(picture, harmlessEscaped);
});
