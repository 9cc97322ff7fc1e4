/** The language server's wiring: the protocol on one side, the core and the features on the other. No check is made here. */
import {
  type CancellationToken,
  type Connection,
  type Diagnostic,
  DidChangeConfigurationNotification,
  DidChangeWatchedFilesNotification,
  DocumentDiagnosticReportKind,
  ErrorCodes,
  type ExecuteCommandParams,
  type FileSystemWatcher,
  type InitializeParams,
  type InitializeResult,
  LSPErrorCodes,
  ResponseError,
  TextDocumentSyncKind,
  WatchKind,
} from 'vscode-languageserver';
import { addressOf } from './address.ts';
import type { Units } from './core/document/lines.ts';
import { settingsPath } from './core/checker.ts';
import { follow } from './core/live/spec.ts';
import { kindOf } from './core/paths.ts';
import type { Settings, SeverityOrNone } from './core/settings.ts';
import { type OpenFile, OpenFiles } from './documents.ts';
import { type HintKind, hintKinds } from './features/hints.ts';
import { actionCapabilities, actionCommands, registerActions, runActionCommand } from './handlers/actions.ts';
import { registerCompare } from './handlers/compare.ts';
import { completionCapabilities, longText, registerCompletion } from './handlers/completion.ts';
import { readHints, registerHints } from './handlers/hints.ts';
import { fileOperations, navigationCapabilities, registerNavigation } from './handlers/navigation.ts';
import { registerNewSpec } from './handlers/newSpec.ts';
import { registerPictures } from './handlers/pictures.ts';
import { registerReading } from './handlers/reading.ts';
import { RepoChecks, repoCommands } from './handlers/repo.ts';
import { type Known, type Open, papersMoved, type Session, targetOf } from './handlers/session.ts';
import { source, toDiagnostic } from './protocol.ts';
import { type Place, Repos } from './repos.ts';

/** Typing is waited for this long; a burst of keys is checked once, and no later than `longestWaitMs` after its first. */
const settleMs = 2;
const longestWaitMs = 50;
/**
 * A client that pulls asks for findings at once, and what the key is to be completed with some milliseconds later. As
 * long as a name is half typed the text can't be read, so that not only what changed is looked at but all of it: in a
 * long text the second would wait for that.
 */
const pullWaitMs = 25;

export function serve(connection: Connection): void {
  const files = new OpenFiles();
  const repos = new Repos(files);
  const known = new Map<string, Known>();
  let units: Units = 'utf-16';
  /** Counts changes of anything but the open text: kits, settings, folders. */
  let epoch = 0;
  let stage: 'new' | 'ready' | 'ended' = 'new';
  let client: InitializeParams['capabilities'] = {};
  let severities: ReadonlyMap<string, SeverityOrNone> = new Map();
  let hints: ReadonlySet<HintKind> = new Set(hintKinds);
  const waiting = new Map<string, { timer: NodeJS.Timeout; since: number }>();

  /** Answers only between `initialize` and `shutdown`, as the protocol asks. */
  function ready<A extends unknown[], R>(answer: (...args: A) => R): (...args: A) => R | ResponseError<void> {
    return (...args) => {
      if (stage === 'new')
        return new ResponseError(ErrorCodes.ServerNotInitialized, 'The server has not been initialised yet.');
      if (stage === 'ended') return new ResponseError(ErrorCodes.InvalidRequest, 'The server has been shut down.');
      return answer(...args);
    };
  }

  connection.onInitialize((params): InitializeResult | ResponseError<never> => {
    if (stage !== 'new')
      return new ResponseError(
        ErrorCodes.InvalidRequest,
        'The server has been initialised already.',
      ) as ResponseError<never>;
    stage = 'ready';
    client = params.capabilities;
    units = negotiate(client.general?.positionEncodings);
    const rootUri = params.rootUri ? [params.rootUri] : [];
    if (typeof params.locale === 'string') repos.speak(params.locale);
    repos.setFolders(params.workspaceFolders?.map((folder) => folder.uri) ?? rootUri);
    return {
      serverInfo: { name: 'shoot-spec' },
      capabilities: {
        positionEncoding: units,
        textDocumentSync: { openClose: true, change: TextDocumentSyncKind.Incremental },
        hoverProvider: true,
        documentSymbolProvider: true,
        ...actionCapabilities,
        executeCommandProvider: { commands: [...actionCommands, ...repoCommands] },
        ...completionCapabilities,
        ...navigationCapabilities,
        inlayHintProvider: true,
        workspace: { workspaceFolders: { supported: true, changeNotifications: true }, fileOperations },
        ...(pulls(client) && {
          diagnosticProvider: { identifier: source, interFileDependencies: true, workspaceDiagnostics: true },
        }),
      },
    };
  });

  connection.onInitialized(async () => {
    if (client.workspace?.didChangeWatchedFiles?.dynamicRegistration) {
      const ours = ['**/*.shoot.yaml', '**/*.kit.yaml', `**/${settingsPath}`];
      // Any file may be a paper, of which it counts only whether it is there.
      const papers = { globPattern: '**/*', kind: WatchKind.Create | WatchKind.Delete };
      const watchers: FileSystemWatcher[] = [...ours.map((globPattern) => ({ globPattern })), papers];
      void connection.client.register(DidChangeWatchedFilesNotification.type, { watchers });
    }
    if (client.workspace?.didChangeConfiguration?.dynamicRegistration) {
      void connection.client.register(DidChangeConfigurationNotification.type, { section: 'shootSpec' });
    }
    if (client.workspace?.workspaceFolders) connection.workspace.onDidChangeWorkspaceFolders(askAgain);
    await askAgain();
  });

  connection.onShutdown(() => {
    stage = 'ended';
    for (const { timer } of waiting.values()) clearTimeout(timer);
    waiting.clear();
    repoChecks.stop();
  });

  // -- what is open ------------------------------------------------------------------------------------------------

  connection.onDidOpenTextDocument(({ textDocument }) => {
    if (stage !== 'ready') return;
    const file = files.open(textDocument);
    known.delete(file.address);
    textChanged(file);
  });

  connection.onDidChangeTextDocument(({ textDocument, contentChanges }) => {
    if (stage !== 'ready') return;
    const before = known.get(addressOf(textDocument.uri));
    const lines = before?.version === files.get(textDocument.uri)?.version ? before?.result.doc.lines : undefined;
    const file = files.change(textDocument, contentChanges, units, lines);
    if (file) textChanged(file);
  });

  connection.onDidCloseTextDocument(({ textDocument }) => {
    const file = files.close(textDocument.uri);
    if (!file) return;
    const { uri, address, languageId } = file;
    clearTimeout(waiting.get(address)?.timer);
    waiting.delete(address);
    known.delete(address);
    const place = repos.placeOf(uri, languageId);
    if (place?.path !== undefined) place.files.forget(place.path);
    if (!pulls(client)) void connection.sendDiagnostics({ uri, diagnostics: [] });
    // Others read this file from the disk again, where it may be different.
    if (place && place.kind !== 'shoot') othersChanged();
    else repoChecks.changed();
  });

  connection.onDidChangeWatchedFiles(({ changes }) => {
    if (stage !== 'ready') return;
    const ours = changes.some(({ uri }) => kindOf(addressOf(uri)));
    if (ours || repoChecks.papersMoved() || [...known.values()].some((one) => one.papersMoved())) othersChanged();
  });

  connection.onDidChangeConfiguration(askAgain);

  /** A kit or the settings in an open editor count for all specs as they are typed. */
  function textChanged(file: OpenFile): void {
    const place = repos.placeOf(file.uri, file.languageId);
    if (!place) return;
    schedule(file);
    if (place.kind !== 'shoot') othersChanged();
  }

  function othersChanged(): void {
    epoch++;
    for (const file of files.all()) schedule(file);
    if (stage !== 'ready') return;
    repoChecks.changed();
    if (pulls(client)) connection.languages.diagnostics.refresh();
    if (client.workspace?.inlayHint?.refreshSupport) void connection.languages.inlayHint.refresh();
  }

  /** What the client has settled: folders, severities, hints. */
  async function askAgain(): Promise<void> {
    if (stage !== 'ready') return;
    await readSettings();
    othersChanged();
  }

  async function readSettings(): Promise<void> {
    if (client.workspace?.workspaceFolders) {
      const folders = await connection.workspace.getWorkspaceFolders().catch(() => null);
      if (folders) repos.setFolders(folders.map((folder) => folder.uri));
    }
    if (!client.workspace?.configuration) return;
    const settings: unknown = await connection.workspace.getConfiguration('shootSpec').catch(() => undefined);
    severities = readSeverities(settings);
    hints = readHints(settings);
  }

  // -- findings ----------------------------------------------------------------------------------------------------

  function schedule({ address }: OpenFile): void {
    if (pulls(client)) return;
    const now = Date.now();
    const before = waiting.get(address);
    if (before) clearTimeout(before.timer);
    const since = before?.since ?? now;
    const delay = Math.max(0, Math.min(settleMs, since + longestWaitMs - now));
    // What is asked right after a key, such as completion, has come by then and is answered first.
    const pushSoon = () => setImmediate(() => setImmediate(() => push(address)));
    waiting.set(address, { since, timer: setTimeout(pushSoon, delay) });
  }

  function push(address: string): void {
    waiting.delete(address);
    const file = files.get(address);
    const current = file && resultOf(file);
    if (!file || !current) return;
    void connection.sendDiagnostics({
      uri: file.uri,
      version: file.version,
      diagnostics: diagnosticsOf(file, current),
    });
  }

  function diagnosticsOf(file: OpenFile, current: Known): Diagnostic[] {
    const target = targetOf(units, file, current.place, current.result);
    return current.result.findings.map((finding) => toDiagnostic(finding, target));
  }

  function resultOf(file: OpenFile): Known | undefined {
    const before = known.get(file.address);
    if (before?.version === file.version && before.epoch === epoch && !before.papersMoved()) return before;
    const place = repos.placeOf(file.uri, file.languageId);
    if (!place) return undefined;
    // Other kits, settings or folders: what was known of the text before says nothing of this one.
    const same = before?.epoch === epoch && before.place.checker === place.checker;
    const checks = () => follow(place.checker, place.kind, settingsOf(place));
    const [check, recheck] = same ? [before.check, before.recheck] : [checks(), checks()];
    const result = check(file.text);
    const lastGood = result.doc.broken ? before?.lastGood : result;
    const { version } = file;
    const now = { version, epoch, place, result, lastGood, check, recheck, papersMoved: papersMoved(result, place) };
    known.set(file.address, now);
    return now;
  }

  function settingsOf({ checker, path }: Pick<Place, 'checker' | 'path'>): Settings {
    return checker.settings(path).with(severities);
  }

  function at(uri: string): Open | undefined {
    const file = files.get(uri);
    const current = file && resultOf(file);
    return file && current && { file, current, target: targetOf(units, file, current.place, current.result) };
  }

  // -- requests ----------------------------------------------------------------------------------------------------

  connection.languages.diagnostics.on(
    ready(async ({ textDocument }: { textDocument: { uri: string } }, token: CancellationToken) => {
      const isLong = (files.get(textDocument.uri)?.text.length ?? 0) > longText;
      if (isLong) await new Promise((later) => setTimeout(later, pullWaitMs));
      if (token.isCancellationRequested)
        return new ResponseError(LSPErrorCodes.RequestCancelled, 'The findings are not wanted any more.');
      const open = at(textDocument.uri);
      // A file that was just closed is asked for once more, as it is on the disk.
      const items = open ? diagnosticsOf(open.file, open.current) : [...repoChecks.ofFile(textDocument.uri)];
      return { kind: DocumentDiagnosticReportKind.Full, items };
    }) as Parameters<typeof connection.languages.diagnostics.on>[0],
  );

  const session: Session = {
    connection,
    repos,
    ready,
    at,
    known: (uri) => known.get(addressOf(uri)),
    file: (uri) => files.get(uri),
    settings: settingsOf,
    diagnostics: (uri) => {
      const open = at(uri);
      return open && diagnosticsOf(open.file, open.current);
    },
    get epoch() {
      return epoch;
    },
    get pulls() {
      return pulls(client);
    },
    get ended() {
      return stage === 'ended';
    },
    get units() {
      return units;
    },
    get client() {
      return client;
    },
    get hints() {
      return hints;
    },
  };
  connection.onExecuteCommand(
    ready(async ({ command, arguments: args = [] }: ExecuteCommandParams, token: CancellationToken) => {
      if (!runActionCommand(session, command, args)) await repoChecks.run(command, token);
      return null;
    }) as Parameters<typeof connection.onExecuteCommand>[0],
  );
  const repoChecks = new RepoChecks(session);
  registerActions(session);
  registerCompletion(session);
  registerReading(session);
  registerNavigation(session);
  registerHints(session);
  registerPictures(session);
  registerCompare(session);
  registerNewSpec(session);
  connection.listen();
}

/** UTF-16 unless the client would rather have something else that we can count. */
function negotiate(offered: readonly string[] | undefined): Units {
  return offered?.find((one): one is Units => one === 'utf-16' || one === 'utf-8' || one === 'utf-32') ?? 'utf-16';
}

/** Clients that can pull, and be told to pull again when another file changed, pull; the others are pushed to. */
function pulls(client: InitializeParams['capabilities']): boolean {
  return client.textDocument?.diagnostic !== undefined && client.workspace?.diagnostics?.refreshSupport === true;
}

const severityWords: ReadonlySet<unknown> = new Set(['error', 'warning', 'info', 'hint', 'none']);

function readSeverities(settings: unknown): ReadonlyMap<string, SeverityOrNone> {
  const rules = (settings as { rules?: unknown } | undefined)?.rules;
  const entries = rules !== null && typeof rules === 'object' ? Object.entries(rules) : [];
  return new Map(entries.filter((entry): entry is [string, SeverityOrNone] => severityWords.has(entry[1])));
}
