/** Each client is given what it has announced and nothing else: from one that announces nothing to the editors of today. */
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type {
  ClientCapabilities,
  CodeAction,
  Command,
  CompletionList,
  Diagnostic,
  DocumentDiagnosticReport,
  DocumentSymbol,
  Hover,
  SymbolInformation,
  TextEdit,
  WorkspaceEdit,
} from 'vscode-languageserver-protocol';
import { readAnnounced } from '../../server/announced.ts';
import { clients } from '../helpers/clients.ts';
import { type Answers, NearClient } from '../helpers/near-server.ts';
import { DiskRepo } from '../helpers/server.ts';
import { spec } from '../helpers/workspace.ts';

/** A lamp that nothing lights, and a shutter that two shots take over. */
const text = spec(`lamps:
  key: { use: panel, distance: 60 cm }
  spare: { use: panel, distance: 90 cm }
shots:
  spin: { record: 12 s, lit: [key], camera: { shutter: 1/200 s }, turn: { speed: 2 rpm } }
cut:
  - { shot: spin, length: 10 s }
`);

let repo: DiskRepo;
let uri: string;
let client: NearClient;

beforeEach(() => {
  repo = new DiskRepo();
  uri = repo.uri('box.shoot.yaml');
});
afterEach(async () => {
  await client.stop();
  repo.remove();
});

async function start(capabilities: ClientCapabilities, options?: unknown, answers: Answers = {}): Promise<void> {
  client = new NearClient(answers);
  await client.initialize(repo.root, capabilities, options);
  await client.open(uri, text);
}

/** The place of some words in the text. */
function placeOf(words: string) {
  const line = text.split('\n').findIndex((one) => one.includes(words));
  const character = text.split('\n')[line]!.indexOf(words);
  return { start: { line, character }, end: { line, character: character + words.length } };
}

const textDocument = () => ({ uri });
const hover = () =>
  client.request<Hover>('textDocument/hover', { textDocument: textDocument(), position: placeOf('1/200 s').start });
const symbols = () =>
  client.request<(DocumentSymbol | SymbolInformation)[]>('textDocument/documentSymbol', {
    textDocument: textDocument(),
  });
const actions = (words: string) =>
  client.request<(CodeAction | Command)[]>('textDocument/codeAction', {
    textDocument: textDocument(),
    range: placeOf(words),
    context: { diagnostics: [], triggerKind: 1 },
  });
const completion = () =>
  client.request<CompletionList>('textDocument/completion', {
    textDocument: textDocument(),
    position: placeOf('record: 12 s').start,
  });
const rename = () =>
  client.request<WorkspaceEdit>('textDocument/rename', {
    textDocument: textDocument(),
    position: placeOf('spin:').start,
    newName: 'turning',
  });

/** Its edit, worked out now where it is not yet. */
async function editOf(action: CodeAction | Command): Promise<WorkspaceEdit> {
  if (!('kind' in action)) return (action as Command).arguments![0] as WorkspaceEdit;
  return action.edit ?? (await client.request<CodeAction>('codeAction/resolve', action)).edit!;
}

describe.each(Object.entries(clients))('%s', (_, capabilities) => {
  const can = readAnnounced(capabilities);
  beforeEach(() => start(capabilities));

  test('has the findings, with what it can show of them', async () => {
    const all = await client.findings(uri);
    const found = (rule: string): Diagnostic => all.find(({ code }) => code === rule)!;
    const [shutter, unused] = [found('shutter-off-half-frame'), found('never-used')];
    expect(shutter.codeDescription?.href.startsWith('file:') ?? false).toBe(can.codeDescription);
    expect(unused.tags).toEqual(can.unnecessaryTag ? [1] : undefined);
    expect(shutter.tags).toBeUndefined();
    if (!can.relatedInformation) expect(all.every((one) => one.relatedInformation === undefined)).toBe(true);
  });

  test('reads in a hover and beside a completion what it can show', async () => {
    const { contents } = (await hover()) as { contents: { kind: string; value: string } };
    expect(contents.kind).toBe(can.hoverMarkdown ? 'markdown' : 'plaintext');
    expect(contents.value).toContain('180°');
    expect(/\*\*|`|\]\(/.test(contents.value)).toBe(can.hoverMarkdown);
    const { items } = await completion();
    const { documentation } = items.find((one) => one.documentation)!;
    expect(typeof documentation).toBe(can.completionMarkdown ? 'object' : 'string');
    if (typeof documentation === 'string') expect(documentation).not.toMatch(/\*\*|`/);
    const modes = new Set(items.map((one) => one.insertTextMode !== undefined));
    const takesModes = capabilities.textDocument?.completion?.completionItem?.insertTextModeSupport !== undefined;
    expect([...modes]).toEqual([takesModes]);
    const takesSnippets = capabilities.textDocument?.completion?.completionItem?.snippetSupport === true;
    expect(items.some((one) => one.insertTextFormat === 2) && !takesSnippets).toBe(false);
  });

  test('has the outline as a tree, or as a list in which each entry says what it stands in', async () => {
    const all = await symbols();
    if (can.symbolTree) {
      const shots = all.find(({ name }) => name === 'shots') as DocumentSymbol;
      expect(shots.children!.map(({ name }) => name)).toEqual(['spin']);
    } else {
      expect(all.every((one) => 'location' in one)).toBe(true);
      expect(all.find(({ name }) => name === 'spin')).toMatchObject({ containerName: 'shots' });
    }
  });

  test('has edits with the version of the text, or plain ones', async () => {
    const [fix] = (await actions('1/200 s')).filter(({ title }) => title.startsWith('Set shutter to 1/50 s'));
    for (const edit of [await rename(), await editOf(fix!)]) {
      expect(Object.keys(edit)).toEqual([can.versionedEdits ? 'documentChanges' : 'changes']);
      if (!can.versionedEdits) expect(Object.keys(edit.changes!)).toEqual([uri]);
    }
  });

  test('has actions, or commands that ask it to make the edit', async () => {
    const all = await actions('1/200 s');
    expect(all.length).toBeGreaterThan(1);
    const literal = all.filter((one) => 'kind' in one);
    expect(literal.length).toBe(can.actionLiterals ? all.length : 0);
    const shows = all.some(({ title }) => title === 'Show the page of `shutter-off-half-frame`');
    expect(shows).toBe(!can.codeDescription);
  });

  test('is answered with no edits when it asks for the layout, as nobody wanted that', async () => {
    const asked = { textDocument: textDocument(), options: { tabSize: 8, insertSpaces: true } };
    expect(await client.request('textDocument/formatting', asked)).toEqual([]);
    expect(client.asked.filter(({ params }) => String(JSON.stringify(params)).includes('ormatting'))).toEqual([]);
    const announced = (name: 'documentFormattingProvider') => client.capabilities[name] !== undefined;
    expect(announced('documentFormattingProvider')).toBe(!can.laterFormatting.formatting);
  });
});

describe('a client that knows commands only', () => {
  const applied: WorkspaceEdit[] = [];
  const answers: Answers = {
    'workspace/applyEdit': ({ edit }: { edit: WorkspaceEdit }) => {
      applied.push(edit);
      return { applied: true };
    },
  };
  beforeEach(() => {
    applied.length = 0;
    return start({ workspace: { applyEdit: true } }, undefined, answers);
  });

  const run = async (title: string) => {
    const found = (await actions('1/200 s')).find((one) => one.title.startsWith(title)) as Command;
    return (now = found) =>
      client.request('workspace/executeCommand', { command: now.command, arguments: now.arguments! });
  };

  test('is asked to make the edit of the one that is run', async () => {
    await (
      await run('Set shutter to 1/50 s')
    )();
    await client.until(() => applied[0]);
    expect(applied).toEqual([{ changes: { [uri]: [{ range: placeOf('1/200 s'), newText: '1/50 s' }] } }]);
  });

  test('is asked for nothing once the text is another one, and told so', async () => {
    const go = await run('Set shutter to 1/50 s');
    await client.notify('textDocument/didChange', {
      textDocument: { uri, version: 2 },
      contentChanges: [{ text: `# new\n${text}` }],
    });
    await go();
    const said = await client.until(() => client.asked.find(({ method }) => method.startsWith('window/showMessage')));
    expect(JSON.stringify(said.params)).toContain('The text has changed');
    expect(applied).toEqual([]);
  });

  test('reads why a rule minds in a message', async () => {
    await (
      await run('Show the page of `shutter-off-half-frame`')
    )();
    const said = await client.until(() => client.asked.find(({ method }) => method.startsWith('window/showMessage')));
    expect((said.params as { message: string }).message).toMatch(/^[^#*`]*180°/);
  });
});

test('a client that can open a file is shown the page where it lies', async () => {
  await start({ ...clients['middling'], window: { showDocument: { support: true } } });
  await client.request('workspace/executeCommand', { command: 'shootSpec.showRulePage', arguments: ['never-used'] });
  const shown = await client.until(() => client.asked.find(({ method }) => method === 'window/showDocument'));
  expect((shown.params as { uri: string }).uri).toMatch(/^file:.*pages\.md#L\d+$/);
});

describe('findings that are asked for', () => {
  const pull = (previousResultId?: string) =>
    client.request<DocumentDiagnosticReport>('textDocument/diagnostic', { textDocument: { uri }, previousResultId });

  test('have a name, and are not sent twice', async () => {
    await start(clients['full']!);
    const first = await pull();
    expect(first).toMatchObject({ kind: 'full', resultId: expect.stringMatching(/./) as string });
    expect(await pull(first.resultId)).toEqual({ kind: 'unchanged', resultId: first.resultId });
    await client.notify('textDocument/didChange', {
      textDocument: { uri, version: 2 },
      contentChanges: [{ text: text.replace('1/200 s', '1/50 s') }],
    });
    const next = await pull(first.resultId);
    expect(next.kind).toBe('full');
    expect(next.resultId).not.toBe(first.resultId);
  });
});

test('what nothing uses is faded: a lamp that no shot lights, a comment that accepts nothing', async () => {
  client = new NearClient();
  await client.initialize(repo.root, { textDocument: { publishDiagnostics: { tagSupport: { valueSet: [1] } } } });
  await client.open(uri, text.replace('shots:', '# accept exposure-off: It once was.\nshots:'));
  const faded = (await client.findings(uri)).filter(({ tags }) => tags?.includes(1));
  expect(faded.map(({ code }) => code)).toEqual(['never-used', 'accept-unused']);
});

describe('related places', () => {
  test('are told once each', async () => {
    await start(clients['middling']!);
    for (const { relatedInformation = [] } of await client.findings(uri)) {
      const said = relatedInformation.map((one) => JSON.stringify(one));
      expect(new Set(said).size).toBe(said.length);
    }
  });
});

describe('settings', () => {
  const off = { rules: { 'never-used': 'none', 'shutter-off-half-frame': 'none' } };
  const severity = async () => (await client.findings(uri)).find(({ code }) => code === 'never-used')?.severity;

  test('count from the start, under their name or bare', async () => {
    await start({}, { shootSpec: off });
    expect(await severity()).toBeUndefined();
    await client.stop();
    await start({}, { rules: { 'never-used': 'error' } });
    expect(await severity()).toBe(1);
  });

  test('count when they are pushed to a server that can’t ask', async () => {
    await start({});
    expect(await severity()).toBe(3);
    client.pushed.clear();
    await client.notify('workspace/didChangeConfiguration', { settings: { shootSpec: off } });
    expect(await severity()).toBeUndefined();
    client.pushed.clear();
    await client.notify('workspace/didChangeConfiguration', { settings: null });
    expect(await severity()).toBeUndefined();
  });

  test('are asked for each folder, and the innermost folder wins', async () => {
    repo.write('inner/shootspec.yaml', 'format: 1\n');
    repo.write('inner/kits/camera.kit.yaml', 'title: Other\n');
    const inner = repo.uri('inner');
    const asked: (string | undefined)[][] = [];
    client = new NearClient({
      'workspace/workspaceFolders': () => [
        { uri: repo.uri('').replace(/\/$/, ''), name: 'outer' },
        { uri: inner, name: 'inner' },
      ],
      'workspace/configuration': ({ items }: { items: { scopeUri?: string; section: string }[] }) => {
        asked.push(items.map(({ scopeUri }) => scopeUri));
        return items.map(({ scopeUri }) => (scopeUri === inner ? off : {}));
      },
    });
    await client.initialize(repo.root, { workspace: { configuration: true, workspaceFolders: true } });
    await client.until(() => asked.find((one) => one.includes(inner)));
    const film = repo.uri('inner/box.shoot.yaml');
    await client.open(uri, text);
    await client.open(film, text);
    const codes = async (one: string) => (await client.findings(one)).map(({ code }) => code);
    expect(await codes(uri)).toContain('shutter-off-half-frame');
    expect(await codes(film)).not.toContain('shutter-off-half-frame');
  });
});

describe('the layout, once it is wanted', () => {
  const loose = text
    .replace('lit: [key]', 'lit:  [ key ]')
    .replace('  key: {', '    key: {')
    .replace('  spare: {', '    spare: {');
  const asked = { textDocument: {}, options: { tabSize: 2, insertSpaces: true } };
  const format = (method: string, more: object = {}) =>
    client.request<TextEdit[]>(`textDocument/${method}`, { ...asked, textDocument: { uri }, ...more });

  test('of the whole file, of some lines, of a line that was just left', async () => {
    await start({}, { format: { enable: true } });
    await client.notify('textDocument/didChange', {
      textDocument: { uri, version: 2 },
      contentChanges: [{ text: loose }],
    });
    const line = loose.split('\n').findIndex((one) => one.includes('lit:'));
    const gaps = await format('onTypeFormatting', { position: { line: line + 1, character: 0 }, ch: '\n' });
    expect(gaps.map(({ newText }) => newText)).toEqual([' ', '', '']);
    const range = { start: { line, character: 0 }, end: { line: line + 1, character: 0 } };
    expect(await format('rangeFormatting', { range })).toEqual(gaps);
    expect((await format('formatting')).length).toBe(gaps.length + 2);
  });

  test('is offered while it is wanted to a client that can be told so later', async () => {
    let wanted = false;
    client = new NearClient({
      'workspace/configuration': ({ items }: { items: unknown[] }) => items.map(() => ({ format: { enable: wanted } })),
    });
    await client.initialize(repo.root, clients['full']!);
    const registered = (method: string) =>
      client.asked
        .filter((one) => one.method === method)
        .flatMap(({ params }) => {
          const { registrations, unregisterations } = params as Record<string, { method: string }[]>;
          return (registrations ?? unregisterations ?? [])
            .map((one) => one.method)
            .filter((one) => /ormatting$/.test(one));
        });
    const all = ['textDocument/formatting', 'textDocument/rangeFormatting', 'textDocument/onTypeFormatting'];
    const settle = async (is: boolean, method: string) => {
      wanted = is;
      await client.notify('workspace/didChangeConfiguration', { settings: null });
      return client.until(() => (registered(method).length === 3 ? registered(method) : undefined));
    };
    expect(registered('client/registerCapability')).toEqual([]);
    expect(await settle(true, 'client/registerCapability')).toEqual(all);
    expect(await settle(false, 'client/unregisterCapability')).toEqual(all);
  });
});
