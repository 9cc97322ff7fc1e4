/** Refactorings and settings that work, through the bundled server. */
import { describe, expect, test, vi } from 'vitest';
import {
  type CodeAction,
  CodeActionTriggerKind,
  type ClientCapabilities,
  type ShowDocumentParams,
  ShowDocumentRequest,
  ShowMessageNotification,
  type ShowMessageParams,
  ShowMessageRequest,
  type TextDocumentEdit,
} from 'vscode-languageserver-protocol';
import { split } from '../helpers/cursor.ts';
import { client, repo, startsServer, uri } from '../helpers/open-near-server.ts';
import { spec } from '../helpers/workspace.ts';

startsServer();

const resolving: ClientCapabilities = {
  textDocument: { codeAction: { disabledSupport: true, dataSupport: true, resolveSupport: { properties: ['edit'] } } },
};

async function asked(marked: string, context: object = {}, of = uri): Promise<CodeAction[]> {
  await client.open(of, split(marked).text);
  return askedAgain(marked, context, of);
}

async function askedAgain(marked: string, context: object = {}, of = uri): Promise<CodeAction[]> {
  const { text, offset } = split(marked);
  const before = text.slice(0, offset).split('\n');
  const position = { line: before.length - 1, character: before.at(-1)!.length };
  return client.request<CodeAction[]>('textDocument/codeAction', {
    textDocument: { uri: of },
    range: { start: position, end: position },
    context: { diagnostics: [], ...context },
  });
}

/** The action of this title, once it is there: a search that takes longer is offered without its answer first. */
async function found(marked: string, title: string, context: object): Promise<CodeAction> {
  return vi.waitUntil(async () => (await askedAgain(marked, context)).find((one) => one.title.startsWith(title)), {
    timeout: 300_000,
    interval: 50,
  }) as Promise<CodeAction>;
}

function edits(action: CodeAction): TextDocumentEdit[] {
  return action.edit!.documentChanges as TextDocumentEdit[];
}

const noisy = spec('shots:\n  box: { record: 12 s, camera: { iso: 3‸200 } }\n');
const impossible = spec(
  'shots:\n  box: { record: 12 s, camera: { lens: macro, distance: 20 cm, aperture: f/2.8‸, iso: 200 } } # fixed: distance, aperture\n',
);

describe('settings that work', () => {
  test('an editor that cannot work an action out later gets the settings at once, in the title', async () => {
    await client.initialize(repo.root);
    const [action] = await asked(noisy, { only: ['refactor'] });
    expect(action).toMatchObject({
      title: 'Make `box` work: f/8, 1/50 s, ISO 500: 2.7 stops less noise',
      kind: 'refactor.rewrite',
    });
    expect(edits(action!)[0]!.textDocument).toEqual({ uri, version: 1 });
    expect(edits(action!)[0]!.edits.map((one) => 'newText' in one && one.newText)).toEqual(['500']);
  });

  test('asked at each step of the cursor, it offers only, and works it out when taken up', async () => {
    await client.initialize(repo.root, resolving);
    const actions = await asked(noisy, { triggerKind: CodeActionTriggerKind.Automatic });
    const offer = actions.find((one) => one.title === 'Find settings that work for `box`')!;
    expect(offer.edit).toBeUndefined();
    const taken = await client.request<CodeAction>('codeAction/resolve', offer);
    expect(edits(taken)[0]!.edits).toHaveLength(1);
  });

  test('what was found while the cursor stood there is in the title when somebody asks', async () => {
    await client.initialize(repo.root, resolving);
    await asked(noisy, { triggerKind: CodeActionTriggerKind.Automatic });
    const action = await found(noisy, 'Make `box` work: f/8, 1/50 s, ISO 500', {
      triggerKind: CodeActionTriggerKind.Invoked,
    });
    expect(edits(action)[0]!.edits).toHaveLength(1);
  });

  test('what cannot be had is a disabled action with its reason', async () => {
    await client.initialize(repo.root, resolving);
    await client.open(uri, split(impossible).text);
    const action = await found(impossible, 'No settings make all of', { only: ['refactor.rewrite'] });
    expect(action.disabled!.reason).toMatch(
      /^One demand cannot be met with this kit\. .*Marked as fixed: `aperture` and `distance`\./,
    );
    expect(action.edit).toBeUndefined();
  });

  test('elsewhere it is an action that says why', async () => {
    const shown: ShowMessageParams[] = [];
    client.connection.onRequest(ShowMessageRequest.type, (params) => {
      shown.push(params);
      return null;
    });
    client.connection.onNotification(ShowMessageNotification.type, (params) => void shown.push(params));
    await client.initialize(repo.root);
    const actions = await asked(impossible);
    const action = actions.find((one) => one.title.startsWith('No settings make all of `box` work'))!;
    await client.request('workspace/executeCommand', action.command!);
    expect(shown.map((one) => one.message).join()).toContain('One demand cannot be met with this kit.');
  });

  test('where the client shows pages, it is a page', async () => {
    const pages: { title: string; markdown: string }[] = [];
    client.connection.onNotification('shootSpec/showPage', (page: (typeof pages)[number]) => void pages.push(page));
    await client.initialize(repo.root, { experimental: { shootSpecPages: true } });
    const actions = await asked(impossible);
    await client.request('workspace/executeCommand', actions.find((one) => one.command)!.command!);
    await vi.waitUntil(() => pages.length > 0);
    expect(pages[0]!.title).toBe('No settings make all of `box` work');
    expect(pages[0]!.markdown).toMatch(
      /^# No settings make all of `box` work\n\nOne demand[^]*\n- With f\/2.8[^]*\n\nTried were /,
    );
  });

  test('on a finding they stand among the fixes, before them where they mend several', async () => {
    await client.initialize(repo.root);
    const several = spec('shots:\n  box: { record: 12 s, camera: { aperture: f/2, distance: 45 cm, iso: 32‸00 } }\n');
    const kinds = await asked(several, { only: ['quickfix'] });
    expect(kinds[0]).toMatchObject({ kind: 'quickfix', isPreferred: true });
    expect(kinds[0]!.title).toMatch(/^Make `box` work: /);
    expect(kinds[0]!.diagnostics!.map((one) => one.code)).toContain('exposure-off');
    const titles = (await asked(noisy)).map((one) => one.title);
    const [own, settings] = [
      titles.findIndex((one) => /^Set /.test(one)),
      titles.findIndex((one) => /^Make `box` work/.test(one)),
    ];
    const accept = titles.findIndex((one) => /^Accept/.test(one));
    expect([own >= 0, own < settings, settings < accept]).toEqual([true, true, true]);
  });

  test('nothing where nothing fails', async () => {
    await client.initialize(repo.root);
    expect(await asked(spec('shots:\n  bo‸x: { record: 12 s }\n'), { only: ['refactor'] })).toEqual([]);
  });
});

describe('accepting', () => {
  const snippets = { workspace: { workspaceEdit: { documentChanges: true, snippetEditSupport: true } } };
  const accepting = (all: CodeAction[]) => all.find((one) => one.title.startsWith('Accept `exposure-off`'))!;

  test('selects the words to overwrite where an edit can', async () => {
    await client.initialize(repo.root, snippets);
    const [edit] = edits(accepting(await asked(noisy)));
    expect(edit!.edits).toMatchObject([
      { snippet: { kind: 'snippet', value: expect.stringMatching(/# accept exposure-off: \$\{1:say why here\}\n$/) } },
    ]);
  });

  test('selects them by a command where the client shows places', async () => {
    const shown: ShowDocumentParams[] = [];
    client.connection.onRequest(ShowDocumentRequest.type, (params) => (shown.push(params), { success: true }));
    await client.initialize(repo.root, { window: { showDocument: { support: true } } });
    const action = accepting(await asked(noisy));
    const accepted = split(noisy).text.replace(/^ {2}box:/m, '  # accept exposure-off: say why here\n$&');
    await client.change(uri, 2, accepted);
    await client.request('workspace/executeCommand', action.command!);
    await vi.waitUntil(() => shown.length > 0);
    const { start, end } = shown[0]!.selection!;
    const line = accepted.split('\n')[start.line]!;
    expect(line.slice(start.character, end.character)).toBe('say why here');
  });
});

describe('refactorings', () => {
  test('a lamp of its own is an edit of the spec and of the kit on the disk', async () => {
    await client.initialize(repo.root);
    const lamps =
      'lamps:\n  key: { use: pan‸el, temperature: 5000 K, level: 40 %, distance: 60 cm, angle: 45°, height: 40 cm }\n';
    const actions = await asked(spec(lamps), { only: ['refactor'] });
    const action = actions.find((one) => one.title.startsWith('Give `key` a lamp of its own'))!;
    expect(edits(action).map((one) => one.textDocument)).toEqual([
      { uri, version: 1 },
      { uri: repo.uri('kits/camera.kit.yaml'), version: null },
    ]);
  });

  test('only what is asked for is offered', async () => {
    await client.initialize(repo.root);
    const text = spec('shots:\n  box: { record: 12 s, camera: { distance: 6‸0 cm, iso: 3200 } }\n');
    const kinds = (all: CodeAction[]) => [...new Set(all.map((one) => one.kind))];
    expect(kinds(await asked(text, { only: ['refactor.rewrite'] }))).toEqual(['refactor.rewrite']);
    expect(kinds(await asked(text, { only: ['quickfix'] })).filter((kind) => kind !== 'quickfix')).toEqual([]);
    expect(await asked(text, { only: ['source.organizeImports'] })).toEqual([]);
  });

  test('in a kit, units are offered too', async () => {
    await client.initialize(repo.root);
    const kit = 'title: Lenses\nlenses:\n  normal: { focal: 2‸5 mm }\n';
    const actions = await asked(kit, { only: ['refactor'] }, repo.uri('kits/camera.kit.yaml'));
    expect(actions.map((one) => one.title)).toContain('Write as `2.5 cm`');
  });
});

describe('papers', () => {
  const makesFiles: ClientCapabilities = {
    workspace: { workspaceEdit: { documentChanges: true, resourceOperations: ['create'] } },
    window: { showDocument: { support: true } },
  };
  const hand = spec('shots:\n  box: { record: 12 s, people: han‸d }\n');
  const title = 'Write a draft of the paper for `hand`, to be filled in and signed: `rights/hand.draft.md`';

  test('a draft to be signed is written as a file of its own, shown, and proves nothing', async () => {
    await client.initialize(repo.root, makesFiles);
    const action = (await asked(hand, { only: ['quickfix'] })).find((one) => one.title === title)!;
    const [made, written] = action.edit!.documentChanges as [{ uri: string }, TextDocumentEdit];
    expect(made).toEqual({ kind: 'create', uri: repo.uri('rights/hand.draft.md') });
    const [edit] = written.edits as { newText: string }[];
    expect(edit!.newText).toContain('# Permission for `hand`: a draft, not signed');
    expect(edit!.newText).toContain('Who is seen, or for a child whoever has custody: ____');
    expect(edit!.newText).toContain('- Shown: on the web\n- Countries: worldwide\n');
    expect(edit!.newText).toContain('not legal advice');
    expect(action.command?.arguments).toEqual([repo.uri('rights/hand.draft.md')]);

    repo.write('rights/hand.draft.md', edit!.newText);
    const after = await askedAgain(hand, { only: ['quickfix'] });
    expect(after.map((one) => one.title)).not.toContain(title);
    expect(after.map((one) => one.title)).toContain('It is me: add `hand` under `rights`, with `owner: own`');
  });

  test('an editor that makes no files is offered none', async () => {
    await client.initialize(repo.root);
    expect((await asked(hand)).map((one) => one.title)).not.toContain(title);
  });
});
