/** Wires the checks of a whole repo to the protocol: files that are not open too, in slices, with progress, until cancelled. */
import {
  type CancellationToken,
  type Diagnostic,
  DiagnosticSeverity,
  DocumentDiagnosticReportKind,
  type ResultProgressReporter,
  type WorkDoneProgressReporter,
  type WorkspaceDiagnosticParams,
  type WorkspaceDiagnosticReport,
  type WorkspaceDiagnosticReportPartialResult,
  type WorkspaceDocumentDiagnosticReport,
} from 'vscode-languageserver';
import { kindOf } from '../core/paths.ts';
import { notAll } from '../features/repo-files.ts';
import { toDiagnostic } from '../protocol.ts';
import { nextTurn } from '../turns.ts';
import { resultId } from '../result-id.ts';
import { papersMoved, type Session, targetOf } from './session.ts';

/** Checks all specs, kits and settings of the repo. */
const checkCommand = 'shootSpec.checkRepo';
export const repoCommands: readonly string[] = [checkCommand];

/** Asks a client that said that it can to begin a first spec with the person. */
const beginNotification = 'shootSpec/begin';

/** Kits change with every key; the repo is checked again when the hand rests. */
const restMs = 500;

/** Findings of a file as it is on the disk, and a name for just these. */
interface Report {
  readonly text: string;
  readonly epoch: number;
  readonly id: string;
  readonly items: readonly Diagnostic[];
  readonly papersMoved: () => boolean;
}

type Stop = Pick<CancellationToken, 'isCancellationRequested'>;
type Partial = ResultProgressReporter<WorkspaceDiagnosticReportPartialResult>;

export class RepoChecks {
  readonly #reports = new Map<string, Report>();
  /** Files whose findings were pushed to a client that cannot pull; undefined until somebody asks for them. */
  #pushed: Set<string> | undefined;
  readonly #waiting = new Set<() => void>();
  #again: NodeJS.Timeout | undefined;

  constructor(private readonly session: Session) {
    const { connection, ready } = session;
    connection.languages.diagnostics.onWorkspace(
      ready(
        (params: WorkspaceDiagnosticParams, stop: CancellationToken, work: WorkDoneProgressReporter, part?: Partial) =>
          this.#pulled(params, stop, work, part),
      ) as Parameters<typeof connection.languages.diagnostics.onWorkspace>[0],
    );
  }

  /** Kits, settings, or which files are open: whoever waits for news asks again. */
  changed(): void {
    for (const wake of [...this.#waiting]) wake();
    clearTimeout(this.#again);
    if (this.#pushed) this.#again = setTimeout(() => void this.#pushAll({ isCancellationRequested: false }), restMs);
  }

  stop(): void {
    this.#pushed = undefined;
    this.changed();
  }

  /** Has a paper come or gone that findings of a file that is not open depend on? */
  papersMoved(): boolean {
    return [...this.#reports.values()].some((report) => report.papersMoved());
  }

  /** Findings of a file that is not open; none where it can't be read or is none of ours. */
  ofFile(uri: string): readonly Diagnostic[] {
    return this.#reportOf(uri)?.items ?? [];
  }

  /** True for a command that was ours. */
  async run(command: string, token: CancellationToken): Promise<boolean> {
    if (command !== checkCommand) return false;
    const { connection, client } = this.session;
    const { pullsFindings: pulls } = this.session.audience.can;
    const progress = client.window?.workDoneProgress ? await connection.window.createWorkDoneProgress() : undefined;
    const isStopped = () => token.isCancellationRequested || progress?.token.isCancellationRequested === true;
    const stop: Stop = {
      get isCancellationRequested() {
        return isStopped();
      },
    };
    progress?.begin('Checking all specs of this repo', 0, undefined, true);
    const files = pulls ? await this.#each(stop, progress) : await this.#pushAll(stop, progress);
    progress?.done();
    const areAll = this.session.repos.all().every((repo) => repo.files.areAll());
    const said = areAll ? summary(files) : `${summary(files)} ${notAll}`;
    if (isStopped()) return true;
    if (files.size === 0) void this.#offerToBegin();
    else void connection.window.showInformationMessage(said);
    if (pulls) this.changed();
    return true;
  }

  /** An empty folder is where somebody begins. */
  async #offerToBegin(): Promise<void> {
    const { connection, ownCommands } = this.session;
    const said = 'There is no shoot spec, kit or settings file in this folder yet.';
    if (!ownCommands) return void connection.window.showInformationMessage(said);
    const picked = await connection.window.showInformationMessage(said, { title: 'New Shoot Spec' });
    if (picked) void connection.sendNotification(beginNotification);
  }

  async #pushAll(stop: Stop, progress?: WorkDoneProgressReporter): Promise<Map<string, readonly Diagnostic[]>> {
    const { connection, file } = this.session;
    const before = (this.#pushed ??= new Set());
    const files = await this.#each(stop, progress, (uri, { items }) => {
      before.add(uri);
      void connection.sendDiagnostics({ uri, diagnostics: [...items] });
    });
    const gone = stop.isCancellationRequested ? [] : [...before].filter((uri) => !files.has(uri));
    for (const uri of gone) {
      before.delete(uri);
      if (!file(uri)) void connection.sendDiagnostics({ uri, diagnostics: [] });
    }
    return files;
  }

  async #pulled(
    { previousResultIds }: WorkspaceDiagnosticParams,
    stop: CancellationToken,
    work: WorkDoneProgressReporter,
    part?: Partial,
  ): Promise<WorkspaceDiagnosticReport> {
    const before = new Map(previousResultIds.map(({ uri, value }) => [uri, value]));
    const items: WorkspaceDocumentDiagnosticReport[] = [];
    const tell = (report: WorkspaceDocumentDiagnosticReport) => {
      if (part) part.report({ items: [report] });
      else items.push(report);
    };
    let news = false;
    work.begin('Checking all specs of this repo', 0, undefined, true);
    const files = await this.#each(stop, work, (uri, { id, items: found }) => {
      if (before.get(uri) === id) return;
      news = true;
      tell({ kind: DocumentDiagnosticReportKind.Full, uri, version: null, resultId: id, items: [...found] });
    });
    work.done();
    for (const uri of stop.isCancellationRequested ? [] : before.keys()) {
      if (files.has(uri) || this.session.file(uri)) continue;
      news = true;
      tell({ kind: DocumentDiagnosticReportKind.Full, uri, version: null, items: [] });
    }
    // Clients ask again at once: without news the answer waits for some, and costs nothing meanwhile.
    if (!news) await this.#change(stop);
    return { items };
  }

  #change(stop: CancellationToken): Promise<void> {
    if (stop.isCancellationRequested || this.session.ended) return Promise.resolve();
    return new Promise((done) => {
      const wake = () => {
        this.#waiting.delete(wake);
        cancelled.dispose();
        done();
      };
      const cancelled = stop.onCancellationRequested(wake);
      this.#waiting.add(wake);
    });
  }

  /** All files of ours with their findings, one after the other; what waits meanwhile is heard between two. */
  async #each(
    stop: Stop,
    progress?: WorkDoneProgressReporter,
    unopened?: (uri: string, report: Report) => void,
  ): Promise<Map<string, readonly Diagnostic[]>> {
    const uris = this.#files();
    const found = new Map<string, readonly Diagnostic[]>();
    for (const [index, uri] of uris.entries()) {
      await nextTurn();
      if (stop.isCancellationRequested) break;
      progress?.report(Math.floor((100 * index) / uris.length), `${index} of ${uris.length}`);
      const open = this.session.file(uri) && this.session.diagnostics(uri);
      const report = open ? undefined : this.#reportOf(uri);
      if (report) unopened?.(uri, report);
      const items = open ?? report?.items;
      if (items) found.set(uri, items);
    }
    for (const uri of this.#reports.keys()) if (!uris.includes(uri)) this.#reports.delete(uri);
    return found;
  }

  /** Ours in all repos, without what their ignore files name. */
  #files(): string[] {
    const { repos } = this.session;
    const { disk } = repos;
    const found = repos.all().flatMap(({ root, files }) => {
      const isIgnored = disk.ignoredBelow(root);
      const paths = files.paths((path) => kindOf(path) !== undefined && !isIgnored(path));
      return paths.map((path) => disk.uriOf(root, path));
    });
    return [...new Set(found)];
  }

  #reportOf(uri: string): Report | undefined {
    const { repos, audience, epoch } = this.session;
    const place = repos.disk.fileOf(uri) === undefined ? undefined : repos.placeOf(uri, '');
    const read = place?.path === undefined ? undefined : place.checker.host.read(place.path);
    if (!place || !read || !('text' in read)) return undefined;
    const before = this.#reports.get(uri);
    if (before?.text === read.text && before.epoch === epoch && !before.papersMoved()) return before;
    const result = place.checker.checkAs(place.kind, read.text, this.session.settings(place), place.path);
    const target = targetOf(audience, { uri, version: 0 }, place, result);
    const items = result.findings.map((finding) => toDiagnostic(finding, target));
    const report = { text: read.text, epoch, items, id: resultId(items), papersMoved: papersMoved(result, place) };
    this.#reports.set(uri, report);
    return report;
  }
}

function summary(files: ReadonlyMap<string, readonly Diagnostic[]>): string {
  const all = [...files.values()].flat();
  const count = (...severities: DiagnosticSeverity[]) => all.filter((one) => severities.includes(one.severity!)).length;
  const counted = (number: number, word: string) => `${number} ${word}${number === 1 ? '' : 's'}`;
  const checked = `${counted(files.size, 'file')} checked`;
  if (all.length === 0) return `${checked}: nothing found.`;
  const { Error, Warning, Information, Hint } = DiagnosticSeverity;
  const parts = [
    counted(count(Error), 'error'),
    counted(count(Warning), 'warning'),
    counted(count(Information), 'note'),
    counted(count(Hint), 'hint'),
  ].filter((part) => !/^0 (?:note|hint)/.test(part));
  const touched = [...files.values()].filter((items) => items.length > 0).length;
  return `${checked}: ${parts.join(', ')} in ${counted(touched, 'file')}.`;
}
