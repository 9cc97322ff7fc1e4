/** Findings of files that are not open: pulled, pushed, with progress, and cancelled. */
import { mkdirSync, rmSync } from 'node:fs';
import { beforeEach, describe, expect, test } from 'vitest';
import {
  type ClientCapabilities,
  CancellationTokenSource,
  type DocumentDiagnosticReport,
  type ProgressToken,
  ProgressType,
  ShowMessageNotification,
  ShowMessageRequest,
  WorkDoneProgressCreateRequest,
  type WorkspaceDiagnosticReport,
} from 'vscode-languageserver-protocol';
import { client, repo, startsServer } from '../helpers/open-near-server.ts';
import { kits, spec } from '../helpers/workspace.ts';

const noisy = spec('shots:\n  box: { record: 12 s, camera: { iso: 6400 } }\n');
const good = spec('');
const pulling: ClientCapabilities = {
  textDocument: { diagnostic: { dynamicRegistration: false } },
  workspace: { diagnostics: { refreshSupport: true } },
  window: { workDoneProgress: true },
};

let messages: string[];

startsServer({ 'a.shoot.yaml': noisy, 'films/b.shoot.yaml': good, 'c.shoot.yaml': noisy });
beforeEach(() => {
  messages = [];
  client.connection.onRequest(ShowMessageRequest.type, ({ message }) => {
    messages.push(message);
    return null;
  });

  client.connection.onNotification(ShowMessageNotification.type, ({ message }) => void messages.push(message));
  client.connection.onRequest('workspace/diagnostic/refresh', () => null);
  client.connection.onRequest(WorkDoneProgressCreateRequest.type, () => undefined);
});

type Known = Map<string, string>;

interface Step {
  readonly kind: string;
  readonly message?: string;
}

async function pulled(previous: Known = new Map(), more: object = {}): Promise<WorkspaceDiagnosticReport> {
  const previousResultIds = [...previous].map(([uri, value]) => ({ uri, value }));
  return client.request('workspace/diagnostic', { previousResultIds, ...more });
}

function known({ items }: WorkspaceDiagnosticReport): Known {
  return new Map(items.flatMap(({ uri, resultId }) => (resultId === undefined ? [] : [[uri, resultId] as const])));
}

function rulesOf({ items }: WorkspaceDiagnosticReport, path: string): unknown[] | undefined {
  const report = items.find((one) => one.uri === repo.uri(path));
  return report?.kind === 'full' ? report.items.map((one) => one.code) : undefined;
}

describe('pulled', () => {
  test('all files of the repo have their findings, ignored ones left out', async () => {
    repo.write('.gitignore', 'old/\n');
    repo.write('old/d.shoot.yaml', noisy);
    const { capabilities } = await client.initialize(repo.root, pulling);
    expect(capabilities.diagnosticProvider).toMatchObject({ workspaceDiagnostics: true });
    const report = await pulled();
    expect(rulesOf(report, 'a.shoot.yaml')).toContain('exposure-off');
    expect(rulesOf(report, 'films/b.shoot.yaml')).toEqual([]);
    expect(rulesOf(report, 'kits/camera.kit.yaml')).toEqual([]);
    expect(rulesOf(report, 'old/d.shoot.yaml')).toBeUndefined();
  });

  test('in parts where the client takes parts', async () => {
    await client.initialize(repo.root, pulling);
    const parts: WorkspaceDiagnosticReport['items'][] = [];
    client.connection.onProgress(
      new ProgressType<WorkspaceDiagnosticReport>(),
      'parts',
      ({ items }) => void parts.push(items),
    );
    const report = await pulled(new Map(), { partialResultToken: 'parts' });
    expect(report.items).toEqual([]);
    expect(parts.length).toBe(5);
  });

  test('without news the answer waits, until a kit changes; then only what is different is told', async () => {
    await client.initialize(repo.root, pulling);
    const first = await pulled();
    let answered = false;
    const waiting = pulled(known(first)).finally(() => (answered = true));
    // Whoever asks later and does not know the findings yet is answered sooner.
    await pulled();
    expect(answered).toBe(false);
    repo.write('kits/camera.kit.yaml', kits['kits/camera.kit.yaml']!.replace('iso: 100 to 12800', 'iso: 100 to 3200'));
    await client.connection.sendNotification('workspace/didChangeWatchedFiles', {
      changes: [{ uri: repo.uri('kits/camera.kit.yaml'), type: 2 }],
    });
    expect((await waiting).items).toEqual([]);
    const next = await pulled(known(first));
    expect(rulesOf(next, 'a.shoot.yaml')).toContain('setting-not-in-kit');
    expect(rulesOf(next, 'films/b.shoot.yaml')).toBeUndefined();
  });

  test('a paper that comes or goes is news, other files are none', async () => {
    const licensed = spec(`deliver:
  film: { raster: 1920x1080, rate: 25, length: 10 s, codec: h264, territory: DE }
music: { track: tune, tempo: 96 bpm }
rights:
  tune: { kind: music, shown-on: web, territory: EEA, proof: rights/tune.pdf }
`);
    const open = repo.uri('films/b.shoot.yaml');
    for (const path of ['a.shoot.yaml', 'films/b.shoot.yaml']) repo.write(path, licensed);
    await client.initialize(repo.root, pulling);
    await client.open(open, licensed);
    const codes = async () => {
      const report = await client.request<DocumentDiagnosticReport>('textDocument/diagnostic', {
        textDocument: { uri: open },
      });
      return report.kind === 'full' ? report.items.map((one) => one.code) : [];
    };
    const happens = (path: string, type: number) =>
      client.connection.sendNotification('workspace/didChangeWatchedFiles', {
        changes: [{ uri: repo.uri(path), type }],
      });
    const first = await pulled();
    expect(rulesOf(first, 'a.shoot.yaml')).toContain('licence-missing');
    expect(await codes()).toContain('licence-missing');
    let answered = false;
    const waiting = pulled(known(first)).finally(() => (answered = true));
    repo.write('footage/1.mov', '');
    await happens('footage/1.mov', 1);
    await pulled();
    expect(answered).toBe(false);
    repo.write('rights/tune.pdf', 'Yes.');
    // Who can't watch papers learns of them by asking.
    expect(await codes()).not.toContain('licence-missing');
    await happens('rights/tune.pdf', 1);
    await waiting;
    const next = await pulled(known(first));
    expect(rulesOf(next, 'a.shoot.yaml')).not.toContain('licence-missing');
    rmSync(`${repo.root}/rights`, { recursive: true });
    await happens('rights', 3);
    expect(await codes()).toContain('licence-missing');
  });

  test('a waiting answer can be cancelled, and a file that is gone loses its findings', async () => {
    await client.initialize(repo.root, pulling);
    const first = await pulled();
    const source = new CancellationTokenSource();
    const previousResultIds = [...known(first)].map(([uri, value]) => ({ uri, value }));
    const waiting = client.connection.sendRequest('workspace/diagnostic', { previousResultIds }, source.token);
    await pulled();
    source.cancel();
    await waiting.catch(() => undefined);
    rmSync(`${repo.root}/c.shoot.yaml`);
    expect(rulesOf(await pulled(known(first)), 'c.shoot.yaml')).toEqual([]);
  });

  test('a file that is open is left to its own pull; once closed it is told from the disk', async () => {
    await client.initialize(repo.root, pulling);
    const uri = repo.uri('a.shoot.yaml');
    await client.open(uri, good);
    expect(rulesOf(await pulled(), 'a.shoot.yaml')).toBeUndefined();
    await client.connection.sendNotification('textDocument/didClose', { textDocument: { uri } });
    const last = await client.request<DocumentDiagnosticReport>('textDocument/diagnostic', { textDocument: { uri } });
    expect(last.kind === 'full' && last.items.map((one) => one.code)).toContain('exposure-off');
  });
});

/** So many that something else comes in between on any machine; whoever writes them stops the check. */
function writeMany(): void {
  for (let count = 0; count < 1000; count++)
    repo.write(`more/film-${count}.shoot.yaml`, noisy.replace('first look', `look ${count}`));
}

describe('the command', () => {
  test('says what it found, with progress', async () => {
    await client.initialize(repo.root, pulling);
    const steps: Step[] = [];
    client.connection.onRequest(WorkDoneProgressCreateRequest.type, ({ token }: { token: ProgressToken }) => {
      client.connection.onProgress(new ProgressType<Step>(), token, (value) => void steps.push(value));
    });
    await client.request('workspace/executeCommand', { command: 'shootSpec.checkRepo', arguments: [] });
    expect(steps[0]).toMatchObject({ kind: 'begin', title: 'Checking all specs of this repo', cancellable: true });
    expect(steps.some(({ kind, message }) => kind === 'report' && message === '4 of 5')).toBe(true);
    expect(steps.at(-1)!.kind).toBe('end');
    expect(messages).toEqual([
      expect.stringMatching(/^5 files checked: \d+ errors?, [1-9]\d* warnings?(?:, [1-9]\d* notes?)? in 2 files\.$/),
    ]);
  });

  test('calls a hint a hint', async () => {
    const alike = 'shots:\n  intro: { record: 12 s }\n  outro: { record: 12 s, camera: { angle: 12° } }\n';
    repo.write(
      'hinted.shoot.yaml',
      spec(`${alike}cut:\n  - { shot: intro, length: 5 s }\n  - { shot: outro, length: 5 s }\n`),
    );
    await client.initialize(repo.root, pulling);
    await client.request('workspace/executeCommand', { command: 'shootSpec.checkRepo', arguments: [] });
    expect(messages).toEqual([
      expect.stringMatching(
        /^6 files checked: \d+ errors?, [1-9]\d* warnings?(?:, [1-9]\d* notes?)?, 1 hint in 3 files\.$/,
      ),
    ]);
  });

  test('pushes the findings of unopened files to a client that cannot pull, and again when a kit changes', async () => {
    await client.initialize(repo.root);
    await client.request('workspace/executeCommand', { command: 'shootSpec.checkRepo' });
    const { diagnostics } = await client.findings(repo.uri('a.shoot.yaml'));
    expect(diagnostics.map((one) => one.code)).toContain('exposure-off');
    const from = client.pushed.length;
    repo.write('kits/camera.kit.yaml', 'title: Nothing in it\n');
    await client.connection.sendNotification('workspace/didChangeWatchedFiles', {
      changes: [{ uri: repo.uri('kits/camera.kit.yaml'), type: 2 }],
    });
    await client.findings(repo.uri('films/b.shoot.yaml'), (all) => all.length > 0, from);
  });

  test('stops when it is cancelled, without a word', async () => {
    writeMany();
    await client.initialize(repo.root, pulling);
    client.connection.onRequest(WorkDoneProgressCreateRequest.type, ({ token }: { token: ProgressToken }) => {
      client.connection.onProgress(new ProgressType<Step>(), token, ({ kind }) => {
        if (kind === 'begin') void client.connection.sendNotification('window/workDoneProgress/cancel', { token });
      });
    });
    await client.request('workspace/executeCommand', { command: 'shootSpec.checkRepo' });
    expect(messages).toEqual([]);
  });

  test('what is typed meanwhile is answered before all is checked', async () => {
    writeMany();
    await client.initialize(repo.root, pulling);
    const uri = repo.uri('a.shoot.yaml');
    await client.open(uri, noisy);
    let allChecked = false;
    const enough = new CancellationTokenSource();
    const { all, symbols } = await client.atOnce(() => ({
      all: client.connection
        .sendRequest('workspace/executeCommand', { command: 'shootSpec.checkRepo' }, enough.token)
        .finally(() => (allChecked = true)),
      symbols: client.request('textDocument/documentSymbol', { textDocument: { uri } }),
    }));
    await symbols;
    expect(allChecked).toBe(false);
    enough.cancel();
    await all.catch(() => undefined);
  });
});

describe('an empty folder', () => {
  const empty = 'There is no shoot spec, kit or settings file in this folder yet.';
  const checkAll = () => client.request('workspace/executeCommand', { command: 'shootSpec.checkRepo' });

  beforeEach(() => {
    rmSync(repo.root, { recursive: true });
    mkdirSync(repo.root);
  });

  test('is said to be empty', async () => {
    await client.initialize(repo.root, pulling);
    await checkAll();
    await expect.poll(() => messages).toEqual([empty]);
  });

  test('is offered to begin in, by a client that can', async () => {
    await client.initialize(repo.root, pulling, undefined, { ownCommands: true });
    const asked: unknown[] = [];
    client.connection.onRequest(ShowMessageRequest.type, ({ message, actions }) => {
      asked.push(message, actions);
      return actions![0]!;
    });
    const begun = new Promise((tell) => client.connection.onNotification('shootSpec/begin', () => tell(true)));
    await checkAll();
    expect(await begun).toBe(true);
    expect(asked).toEqual([empty, [{ title: 'New Shoot Spec' }]]);
  });
});
