/** Refactorings and settings that work, through the bundled server. */
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import {
  type CodeAction,
  CodeActionTriggerKind,
  type ClientCapabilities,
  ShowMessageNotification,
  type ShowMessageParams,
  ShowMessageRequest,
  type TextDocumentEdit,
} from 'vscode-languageserver-protocol';
import { split } from '../helpers/cursor.ts';
import { Client, DiskRepo } from '../helpers/server.ts';
import { spec } from '../helpers/workspace.ts';

let repo: DiskRepo;
let client: Client;
let uri: string;

beforeEach(() => {
  repo = new DiskRepo();
  client = new Client();
  uri = repo.uri('box.shoot.yaml');
});

afterEach(async () => {
  await client.stop();
  repo.remove();
});

const resolving: ClientCapabilities = {
  textDocument: { codeAction: { disabledSupport: true, dataSupport: true, resolveSupport: { properties: ['edit'] } } },
};

async function asked(marked: string, context: object = {}): Promise<CodeAction[]> {
  await client.open(uri, split(marked).text);
  return askedAgain(marked, context);
}

async function askedAgain(marked: string, context: object = {}): Promise<CodeAction[]> {
  const { text, offset } = split(marked);
  const before = text.slice(0, offset).split('\n');
  const position = { line: before.length - 1, character: before.at(-1)!.length };
  return client.request<CodeAction[]>('textDocument/codeAction', {
    textDocument: { uri },
    range: { start: position, end: position },
    context: { diagnostics: [], ...context },
  });
}

/** The action of this title, once it is there: a search that takes longer is offered without its answer first. */
async function found(marked: string, title: string, context: object): Promise<CodeAction> {
  return vi.waitUntil(async () => (await askedAgain(marked, context)).find((one) => one.title.startsWith(title)), {
    timeout: 60_000,
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
    const action = await found(impossible, 'No settings work', { only: ['refactor.rewrite'] });
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
    const action = actions.find((one) => one.title.startsWith('No settings work for `box`'))!;
    await client.request('workspace/executeCommand', action.command!);
    expect(shown.map((one) => one.message).join()).toContain('One demand cannot be met with this kit.');
  });

  test('nothing where nothing fails', async () => {
    await client.initialize(repo.root);
    expect(await asked(spec('shots:\n  bo‸x: { record: 12 s }\n'), { only: ['refactor'] })).toEqual([]);
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
    uri = repo.uri('kits/camera.kit.yaml');
    const actions = await asked('title: Lenses\nlenses:\n  normal: { focal: 2‸5 mm }\n', { only: ['refactor'] });
    expect(actions.map((one) => one.title)).toContain('Write as `2.5 cm`');
  });
});
