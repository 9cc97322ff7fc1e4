/** The language server's wiring: the protocol on one side, the core and the features on the other. No check is made here. */
import {
  type CancellationToken,
  type Connection,
  type Diagnostic,
  DidChangeConfigurationNotification,
  DidChangeWatchedFilesNotification,
  type DocumentDiagnosticParams,
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
import { type Announced, readAnnounced } from './announced.ts';
import { CheckedFiles } from './checked-files.ts';
import { CheckSchedule, messagesHandled } from './check-schedule.ts';
import { ClientSettings } from './client-settings.ts';
import type { Units } from './core/document/lines.ts';
import { kindOf, settingsPath } from './core/paths.ts';
import { type OpenFile, OpenFiles } from './open-files.ts';
import { actionCapabilities, actionCommands, registerActions, runActionCommand } from './handlers/actions.ts';
import { registerCompareWith } from './handlers/compare-with.ts';
import { completionCapabilities, longText, registerCompletion } from './handlers/completion.ts';
import { Formatting } from './handlers/formatting.ts';
import { registerHints } from './handlers/hints.ts';
import { fileOperations, navigationCapabilities, registerNavigation } from './handlers/navigation.ts';
import { registerNewSpec } from './handlers/new-spec.ts';
import { registerPictures } from './handlers/pictures.ts';
import { registerReading } from './handlers/hover-and-outline.ts';
import { RepoChecks, repoCommands } from './handlers/repo.ts';
import { type CheckedFile, type OpenChecked, type Session, targetOf } from './handlers/session.ts';
import { name, version } from '../package.json';
import { type Audience, source, toDiagnostic } from './protocol.ts';
import { type RepoPlace, Repos } from './repos.ts';
import { resultId } from './result-id.ts';
import type { Pages, Surroundings } from './surroundings.ts';

export interface Runtime extends Surroundings {
  /** Adds the requests that can be answered here alone. */
  register(session: Session): void;
}

/** @param runtimeFor is told what to call when there is news of other files than those that are open */
export function serve(connection: Connection, runtimeFor: (onNews: () => void) => Runtime): void {
  const files = new OpenFiles();
  const { disk, clips, music, history, ...here } = runtimeFor(othersChanged);
  const repos = new Repos(
    files,
    disk,
    (root, sheet) => clips?.of(root, sheet),
    (root, path) => music?.of(root, path),
    history,
  );
  const settings = new ClientSettings(disk);
  const settingsOf = ({ checker, path, root }: Pick<RepoPlace, 'checker' | 'path' | 'root'>) =>
    checker.settings(path).with(settings.of(root).severities);
  const checked = new CheckedFiles(files, repos, settingsOf);
  const schedule = new CheckSchedule(push);
  /** Read where the client shows links to them. */
  let pages: Pages | undefined;
  let units: Units = 'utf-16';
  let can: Announced = readAnnounced({});
  let folderUris: string[] = [];
  const audience: Audience = {
    get units() {
      return units;
    },
    get can() {
      return can;
    },
    pageOf: (rule) => pages?.get(rule)?.address,
  };
  let stage: 'new' | 'ready' | 'ended' = 'new';
  let client: InitializeParams['capabilities'] = {};
  let ownCommands = false;

  /** Answers only between `initialize` and `shutdown`, as the protocol asks. */
  function ready<A extends unknown[], R>(answer: (...args: A) => R): (...args: A) => R | ResponseError<void> {
    return (...args) => {
      if (stage === 'new')
        return new ResponseError(ErrorCodes.ServerNotInitialized, 'The server has not been initialised yet.');
      if (stage === 'ended') return new ResponseError(ErrorCodes.InvalidRequest, 'The server has been shut down.');
      return answer(...args);
    };
  }

  connection.onInitialize(async (params): Promise<InitializeResult | ResponseError<never>> => {
    if (stage !== 'new')
      return new ResponseError(
        ErrorCodes.InvalidRequest,
        'The server has been initialised already.',
      ) as ResponseError<never>;
    stage = 'ready';
    client = params.capabilities;
    can = readAnnounced(client);
    settings.take(params.initializationOptions);
    clips?.setFolders(settings.all.folders);
    ownCommands = hasOwnCommands(params.initializationOptions);
    here.begin?.(params.initializationOptions);
    for (const one of [clips, music, history]) one?.trust(isTrusted(params.initializationOptions));
    units = negotiate(client.general?.positionEncodings);
    if (typeof params.locale === 'string') repos.speak(here.textsFor(params.locale));
    setFolders(params.workspaceFolders?.map((folder) => folder.uri) ?? (params.rootUri ? [params.rootUri] : []));
    if (can.codeDescription) pages = await here.pages();
    return {
      serverInfo: { name, version },
      capabilities: {
        positionEncoding: units,
        textDocumentSync: { openClose: true, change: TextDocumentSyncKind.Incremental },
        hoverProvider: true,
        documentSymbolProvider: true,
        ...actionCapabilities(can),
        executeCommandProvider: { commands: [...actionCommands, ...(ownCommands ? [] : repoCommands)] },
        ...completionCapabilities,
        ...navigationCapabilities,
        inlayHintProvider: true,
        ...formatting.capabilities(),
        workspace: { workspaceFolders: { supported: true, changeNotifications: true }, fileOperations },
        ...(can.pullsFindings && {
          diagnosticProvider: { identifier: source, interFileDependencies: true, workspaceDiagnostics: true },
        }),
      },
    };
  });

  connection.onInitialized(async () => {
    if (client.workspace?.didChangeWatchedFiles?.dynamicRegistration) {
      const ours = ['**/*.shoot.yaml', '**/*.takes.yaml', '**/*.kit.yaml', `**/${settingsPath}`];
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
    schedule.cancelAll();
    clips?.end();
    music?.end();
    repoChecks.stop();
  });

  // -- what is open ------------------------------------------------------------------------------------------------

  connection.onDidOpenTextDocument(({ textDocument }) => {
    if (stage !== 'ready') return;
    const file = files.open(textDocument);
    checked.forget(file);
    textChanged(file);
  });

  connection.onDidChangeTextDocument(({ textDocument, contentChanges }) => {
    if (stage !== 'ready') return;
    const file = files.change(textDocument, contentChanges, units);
    if (file) textChanged(file);
  });

  connection.onDidCloseTextDocument(({ textDocument }) => {
    const file = files.close(textDocument.uri);
    if (!file) return;
    const { uri, address, languageId } = file;
    schedule.cancel(address);
    checked.forget(file);
    const place = repos.placeOf(uri, languageId);
    if (place?.path !== undefined) place.files.forget(place.path);
    if (!can.pullsFindings) void connection.sendDiagnostics({ uri, diagnostics: [] });
    // Others read this file from the disk again, where it may be different.
    if (place && (place.kind !== 'shoot' || files.all().some((one) => isSheet(one)))) othersChanged();
    else repoChecks.changed();
  });

  connection.onDidChangeWatchedFiles(({ changes }) => {
    if (stage !== 'ready') return;
    const ours = changes.some(({ uri }) => kindOf(addressOf(uri)));
    if (ours || repoChecks.papersMoved() || checked.papersMoved()) othersChanged();
  });

  connection.onDidChangeConfiguration(async ({ settings: pushed }) => {
    // What is pushed to a server that can ask is only word that something has changed.
    if (!client.workspace?.configuration) settings.take(pushed);
    await askAgain();
  });

  connection.onNotification('shootSpec/trusted', () => {
    for (const one of [clips, music, history]) one?.trust(true);
  });

  /** A kit or the settings in an open editor count for all specs as they are typed. */
  function textChanged(file: OpenFile): void {
    const place = repos.placeOf(file.uri, file.languageId);
    if (!place) return;
    pushLater(file);
    if (place.kind !== 'shoot' || files.all().some((one) => isSheet(one))) othersChanged();
  }

  /** The takes on a sheet are held against its spec as it is typed. */
  function isSheet({ uri, languageId }: OpenFile): boolean {
    return repos.placeOf(uri, languageId)?.kind === 'takes';
  }

  function othersChanged(): void {
    checked.epoch++;
    for (const file of files.all()) pushLater(file);
    if (stage !== 'ready') return;
    repoChecks.changed();
    if (can.pullsFindings) connection.languages.diagnostics.refresh();
    if (client.workspace?.inlayHint?.refreshSupport) void connection.languages.inlayHint.refresh();
  }

  function setFolders(uris: string[]): void {
    folderUris = uris;
    repos.setFolders(uris);
  }

  /** What the client has settled: folders, severities, hints. */
  async function askAgain(): Promise<void> {
    if (stage !== 'ready') return;
    if (client.workspace?.workspaceFolders) {
      const folders = await connection.workspace.getWorkspaceFolders().catch(() => null);
      if (folders) setFolders(folders.map((folder) => folder.uri));
    }
    await settings.ask(connection, client, folderUris);
    clips?.setFolders(settings.all.folders);
    await formatting.offer(settings.formatsSomewhere);
    othersChanged();
  }

  // -- findings ----------------------------------------------------------------------------------------------------

  function pushLater({ address, text }: OpenFile): void {
    if (!can.pullsFindings) schedule.add(address, text.length > longText);
  }

  function push(address: string): void {
    const file = files.get(address);
    const current = file && checked.resultOf(file);
    if (!file || !current) return;
    void connection.sendDiagnostics({
      uri: file.uri,
      version: file.version,
      diagnostics: diagnosticsOf(file, current),
    });
  }

  function diagnosticsOf(file: OpenFile, current: CheckedFile): Diagnostic[] {
    const target = targetOf(audience, file, current.place, current.result);
    return current.result.findings.map((finding) => toDiagnostic(finding, target));
  }

  function at(uri: string): OpenChecked | undefined {
    return checked.at(uri, audience);
  }

  // -- requests ----------------------------------------------------------------------------------------------------

  connection.languages.diagnostics.on(
    ready(async ({ textDocument, previousResultId }: DocumentDiagnosticParams, token: CancellationToken) => {
      // Keys that have come meanwhile make the question an old one.
      await messagesHandled();
      if (token.isCancellationRequested)
        return new ResponseError(LSPErrorCodes.RequestCancelled, 'The findings are not wanted any more.');
      const open = at(textDocument.uri);
      // A file that was just closed is asked for once more, as it is on the disk.
      const items = open ? diagnosticsOf(open.file, open.current) : [...repoChecks.ofFile(textDocument.uri)];
      const id = resultId(items);
      return id === previousResultId
        ? { kind: DocumentDiagnosticReportKind.Unchanged, resultId: id }
        : { kind: DocumentDiagnosticReportKind.Full, resultId: id, items };
    }) as Parameters<typeof connection.languages.diagnostics.on>[0],
  );

  const session: Session = {
    ...here,
    connection,
    repos,
    ready,
    at,
    known: (uri) => checked.known(uri),
    file: (uri) => files.get(uri),
    settings: settingsOf,
    diagnostics: (uri) => {
      const open = at(uri);
      return open && diagnosticsOf(open.file, open.current);
    },
    get epoch() {
      return checked.epoch;
    },
    get ended() {
      return stage === 'ended';
    },
    get ownCommands() {
      return ownCommands;
    },
    get units() {
      return units;
    },
    get client() {
      return client;
    },
    audience,
    hints: ({ root }) => settings.of(root).hints,
    formats: ({ root }) => settings.of(root).formats,
  };
  connection.onExecuteCommand(
    ready(async ({ command, arguments: args = [] }: ExecuteCommandParams, token: CancellationToken) => {
      if (!runActionCommand(session, command, args)) await repoChecks.run(command, token);
      return null;
    }) as Parameters<typeof connection.onExecuteCommand>[0],
  );
  const repoChecks = new RepoChecks(session);
  const formatting = new Formatting(session);
  registerActions(session);
  registerCompletion(session);
  registerReading(session);
  registerNavigation(session);
  registerHints(session);
  registerPictures(session);
  registerNewSpec(session);
  registerCompareWith(session);
  here.register(session);
  connection.listen();
}

/** Our extension says so; another client registers what the server can run. */
function hasOwnCommands(options: unknown): boolean {
  return (options as { ownCommands?: unknown } | null | undefined)?.ownCommands === true;
}

/** A client that knows folders that are not trusted says whether this one is. */
function isTrusted(options: unknown): boolean {
  return (options as { trusted?: unknown } | null | undefined)?.trusted !== false;
}

/** UTF-16 unless the client would rather have something else that we can count. */
function negotiate(offered: readonly string[] | undefined): Units {
  return offered?.find((one): one is Units => one === 'utf-16' || one === 'utf-8' || one === 'utf-32') ?? 'utf-16';
}
