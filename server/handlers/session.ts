/** What the handlers of requests share: the open files with what is known of them, and the client's wishes. */
import type {
  ClientCapabilities,
  Connection,
  Diagnostic,
  Location,
  Position,
  ResponseError,
  TextDocumentEdit,
} from 'vscode-languageserver';
import type { CheckResult } from '../core/checker.ts';
import { LineMap, type Units } from '../core/document/lines.ts';
import { kindOf } from '../core/paths.ts';
import type { Settings } from '../core/settings.ts';
import type { OpenFile } from '../open-files.ts';
import { PositionMap } from '../features/position-map.ts';
import type { HintKind } from '../features/hints.ts';
import type { FileContext, FilePlace } from '../features/navigation.ts';
import { placesOf } from '../features/places.ts';
import type { FileEdits } from '../features/rename.ts';
import { oneLine } from '../formats/escape.ts';
import { type Audience, type Counted, type Target, toTextEdit } from '../protocol.ts';
import type { RepoPlace, Repos } from '../repos.ts';
import type { Surroundings } from '../surroundings.ts';

/** A check that is still true: of this text, with these other files. */
export interface CheckedFile {
  readonly version: number;
  readonly epoch: number;
  readonly place: RepoPlace;
  readonly result: CheckResult;
  /** The last result whose text could be read, for features while the text is broken. */
  readonly lastGood?: CheckResult;
  /** Checks another text that the file might have. */
  readonly check: (text: string) => CheckResult;
  readonly papersMoved: () => boolean;
}

/** Papers are looked for and not read: tells whether one that a result depends on has come or gone since. */
export function papersMoved({ dependsOn }: CheckResult, { checker }: RepoPlace): () => boolean {
  const papers = dependsOn.filter((path) => kindOf(path) === undefined);
  const there = () => papers.filter((path) => checker.host.exists(path)).join('\n');
  const before = there();
  return () => there() !== before;
}

export interface OpenChecked {
  readonly file: OpenFile;
  readonly current: CheckedFile;
  readonly target: Target;
}

export interface Session extends Pick<Surroundings, 'pages' | 'setPageParts' | 'sheetPdf'> {
  readonly connection: Connection;
  readonly repos: Repos;
  readonly units: Units;
  readonly client: ClientCapabilities;
  readonly audience: Audience;
  /** The hints that are wanted in the folder of a file. */
  hints(place: Pick<RepoPlace, 'root'>): ReadonlySet<HintKind>;
  /** Is formatting wanted in the folder of a file? */
  formats(place: Pick<RepoPlace, 'root'>): boolean;
  /** Answers only between `initialize` and `shutdown`, as the protocol asks. */
  ready<A extends unknown[], R>(answer: (...args: A) => R): (...args: A) => R | ResponseError<void>;
  /** An open file of ours, checked as it is now. */
  at(uri: string): OpenChecked | undefined;
  /** What is known of an open file without another check: it may be some keys old. */
  known(uri: string): CheckedFile | undefined;
  file(uri: string): OpenFile | undefined;
  /** The repo's settings with the editor's severities laid over them. */
  settings(place: Pick<RepoPlace, 'checker' | 'path' | 'root'>): Settings;
  /** Findings of an open file as it is now. */
  diagnostics(uri: string): readonly Diagnostic[] | undefined;
  /** Counts changes of anything but the open text: kits, settings, folders. */
  readonly epoch: number;
  readonly ended: boolean;
  /** The client has commands of its own, such as one that writes a first spec, and said so. */
  readonly ownCommands: boolean;
}

/** Where something is asked. */
export interface DocumentParams {
  readonly textDocument: { readonly uri: string };
}
export interface PositionParams extends DocumentParams {
  readonly position: Position;
}

/** A file as features read it: the last text that could be read, with its places carried to the newest one. */
export interface ReadableFile {
  readonly open: OpenChecked;
  readonly result: CheckResult;
  readonly positions: PositionMap;
  readonly here: FileContext;
}

export function readingOf(open: OpenChecked): ReadableFile {
  const { current, file } = open;
  const { place } = current;
  const result = current.result.doc.broken ? (current.lastGood ?? current.result) : current.result;
  if (place.path !== undefined) place.files.keep(place.path, current.result.doc);
  const here: FileContext = {
    kind: place.kind,
    path: place.path,
    doc: result.doc,
    places: placesOf(place.kind, result.doc.root),
    files: place.files,
  };
  return { open, result, here, positions: new PositionMap(result.doc.text, file.text) };
}

/** A spec that is open; undefined for a file of another kind. */
export function specAt(session: Session, { textDocument }: DocumentParams): ReadableFile | undefined {
  const open = session.at(textDocument.uri);
  return open && open.current.place.kind === 'shoot' ? readingOf(open) : undefined;
}

/** Where a position lies in the text that could be read; undefined where that text had something else. */
export function offsetOf({ open, positions }: ReadableFile, position: Position): number | undefined {
  return positions.back(open.target.lines.offset(position, open.target.units));
}

/** A text as the protocol sees it. */
export function targetOf(
  audience: Audience,
  { uri, version }: Pick<OpenFile, 'uri' | 'version'>,
  place: RepoPlace,
  { doc }: CheckResult,
): Target {
  const linesOf = (path: string) => {
    const read = place.checker.host.read(path);
    return 'text' in read ? new LineMap(read.text) : undefined;
  };
  return { uri, version, lines: doc.lines, units: audience.units, audience, uriOf: place.uriOf, linesOf };
}

export function toLocation({ open, positions }: ReadableFile, { path, start, end }: FilePlace): Location[] {
  const { target } = open;
  const range = path === undefined ? positions.exact({ start, end }) : { start, end };
  const lines = path === undefined ? target.lines : target.linesOf(path);
  if (!range || !lines) return [];
  return [{ uri: path === undefined ? target.uri : target.uriOf(path), range: lines.range(range, target.units) }];
}

/** Says something to the person, whose own words in it stay words. */
export function tell({ connection }: Session, message: string): void {
  void connection.window.showInformationMessage(oneLine(message));
}

/** A page of ours: for a client that shows pages in Markdown, or in short for one that shows messages only. */
export interface Page {
  readonly title: string;
  readonly text: string;
  readonly page: string;
}

export const showPageNotification = 'shootSpec/showPage';

export function showPage(session: Session, { title, text, page }: Page): void {
  const { connection, client } = session;
  const shows = (client.experimental as { shootSpecPages?: unknown } | undefined)?.shootSpecPages === true;
  if (shows) void connection.sendNotification(showPageNotification, { title: oneLine(title), markdown: page });
  else tell(session, text);
}

/** Can an action's edits be worked out when it is chosen? */
export function resolvesEdits({ client }: Pick<Session, 'client'>): boolean {
  return client.textDocument?.codeAction?.resolveSupport?.properties.includes('edit') ?? false;
}

/** Edits of one file as the protocol has them, with the version that they are for where the file is open. */
export function toDocumentEdit(
  session: Session,
  uri: string,
  target: Counted,
  edits: FileEdits['edits'],
): TextDocumentEdit {
  const file = session.file(uri);
  return {
    textDocument: { uri: file?.uri ?? uri, version: file?.version ?? null },
    edits: edits.map((edit) => toTextEdit(edit, target)),
  };
}
