/** Wires names, links, symbols, folds, selections and colours to the protocol. */
import {
  type ColorInformation,
  type ColorPresentation,
  type DocumentHighlight,
  DocumentHighlightKind,
  type DocumentLink,
  type FoldingRange,
  FoldingRangeKind,
  type Location,
  LSPErrorCodes,
  type Position,
  type Range,
  type RenameFilesParams,
  ResponseError,
  type SelectionRange,
  type ServerCapabilities,
  type SymbolInformation,
  type TextDocumentEdit,
  type WorkspaceEdit,
} from 'vscode-languageserver';
import { LineMap } from '../core/document/lines.ts';
import { coloursOf, colourText } from '../features/colours.ts';
import { foldsOf } from '../features/folding.ts';
import { followMoves, type Move } from '../features/follow-moves.ts';
import { definitionsAt, highlightsAt, linksOf, referencesAt, workspaceSymbols } from '../features/navigation.ts';
import { type FileEdits, rename, renameRange } from '../features/rename.ts';
import { notAll } from '../features/repo-files.ts';
import { selectionsAt } from '../features/selection.ts';
import { oneLine } from '../formats/escape.ts';
import { toWorkspaceEdit, toWorkspaceSymbol } from '../protocol.ts';
import type { Repo } from '../repos.ts';
import {
  type DocumentParams,
  type PositionParams,
  offsetOf,
  type OpenChecked,
  type ReadableFile,
  readingOf,
  type Session,
  tell,
  toDocumentEdit,
  toLocation,
} from './session.ts';

export const navigationCapabilities: ServerCapabilities = {
  definitionProvider: true,
  referencesProvider: true,
  documentHighlightProvider: true,
  renameProvider: { prepareProvider: true },
  documentLinkProvider: {},
  workspaceSymbolProvider: true,
  foldingRangeProvider: true,
  selectionRangeProvider: true,
  colorProvider: true,
};

/** Any file or folder may be a paper, or hold kits. */
export const fileOperations = { willRename: { filters: [{ scheme: 'file', pattern: { glob: '**/*' } }] } };

export function registerNavigation(session: Session): void {
  const { connection, ready } = session;

  /** Answers from the last text that could be read, at the place that was asked about. */
  const at = <A extends PositionParams, R>(
    nothing: R,
    answer: (reading: ReadableFile, offset: number, asked: A) => R,
  ) =>
    ready((asked: A) => {
      const open = session.at(asked.textDocument.uri);
      const reading = open && readingOf(open);
      const offset = reading && offsetOf(reading, asked.position);
      return offset === undefined ? nothing : answer(reading!, offset, asked);
    });

  /** The same for the whole file. */
  const whole = <A extends DocumentParams, R>(answer: (reading: ReadableFile, asked: A) => R[]) =>
    ready((asked: A) => {
      const open = session.at(asked.textDocument.uri);
      return open ? answer(readingOf(open), asked) : [];
    });

  on(connection.onDefinition, at([], definitions));
  on(connection.onReferences, at([], references));
  on(connection.onDocumentHighlight, at([], highlights));
  on(connection.onPrepareRename, at<PositionParams, unknown>(null, preparation));
  on(
    connection.onRenameRequest,
    at<AskedRename, unknown>(null, (...asked) => renaming(session, ...asked)),
  );
  on(connection.onDocumentLinks, whole(links));
  on(connection.onFoldingRanges, whole(folds));
  on(connection.onSelectionRanges, whole(selections));
  on(connection.onDocumentColor, whole(colours));
  on(
    connection.onColorPresentation,
    ready((asked: AskedColour) => colourTexts(session.at(asked.textDocument.uri), asked)),
  );
  on(
    connection.onWorkspaceSymbol,
    ready(({ query }: { query: string }) => symbols(session, query)),
  );
  on(
    connection.workspace.onWillRenameFiles.bind(connection.workspace),
    ready(({ files }: RenameFilesParams) => moves(session, files)),
  );
}

/** The library types each answer by itself; ours are typed where they are made. */
function on(register: (handler: never) => unknown, handler: unknown): void {
  register(handler as never);
}

// -- names -----------------------------------------------------------------------------------------------------------

function definitions(reading: ReadableFile, offset: number): Location[] {
  return definitionsAt(reading.here, offset).flatMap((place) => toLocation(reading, place));
}

interface AskedReferences extends PositionParams {
  readonly context: { readonly includeDeclaration: boolean };
}

function references(reading: ReadableFile, offset: number, { context }: AskedReferences): Location[] {
  return referencesAt(reading.here, offset, context.includeDeclaration).flatMap((place) => toLocation(reading, place));
}

function highlights(reading: ReadableFile, offset: number): DocumentHighlight[] {
  return highlightsAt(reading.here, offset).flatMap(({ start, end, defines }) =>
    toLocation(reading, { start, end }).map(({ range }) => ({
      range,
      kind: defines ? DocumentHighlightKind.Write : DocumentHighlightKind.Read,
    })),
  );
}

function symbols(session: Session, query: string): SymbolInformation[] {
  return session.repos
    .all()
    .flatMap(({ uriOf, files }) =>
      workspaceSymbols(files, query).map((one) => toWorkspaceSymbol(one, uriOf(one.file.path), session.units)),
    );
}

// -- other names and places ------------------------------------------------------------------------------------------

function preparation(reading: ReadableFile, offset: number): object | null {
  const found = renameRange(reading.here, offset);
  if ('problem' in found) return refused(found.problem);
  const [location] = toLocation(reading, { start: found.start, end: found.end });
  return location ? { range: location.range, placeholder: oneLine(found.name) } : null;
}

interface AskedRename extends PositionParams {
  readonly newName: string;
}

function renaming(session: Session, reading: ReadableFile, offset: number, { newName }: AskedRename): object {
  const made = rename(reading.here, offset, newName);
  return 'problem' in made ? refused(made.problem) : renameEdit(session, reading, made);
}

function refused(message: string): ResponseError<void> {
  return new ResponseError(LSPErrorCodes.RequestFailed, oneLine(message));
}

function renameEdit(
  session: Session,
  reading: ReadableFile,
  made: readonly FileEdits[],
): WorkspaceEdit | ResponseError<void> {
  const { target } = reading.open;
  const documentChanges: TextDocumentEdit[] = [];
  for (const { path, edits } of made) {
    const own = path === undefined;
    const carried = own
      ? edits.flatMap((edit) =>
          [reading.positions.exact(edit)].flatMap((range) => (range ? { ...edit, ...range } : [])),
        )
      : edits;
    if (carried.length < edits.length)
      return refused("The name stands in lines that can't be read as they are. Mend them first, then rename.");
    const lines = own ? target.lines : target.linesOf(path);
    if (!lines) continue;
    const uri = own ? target.uri : target.uriOf(path);
    documentChanges.push(toDocumentEdit(session, uri, { lines, units: target.units }, carried));
  }
  return toWorkspaceEdit(documentChanges, session.audience.can);
}

function moves(session: Session, renamed: RenameFilesParams['files']): WorkspaceEdit | null {
  const { repos } = session;
  const byRepo = new Map<string, Pick<Repo, 'files' | 'uriOf'> & { readonly moves: Move[] }>();
  for (const { oldUri, newUri } of renamed) {
    const [from, to] = [repos.disk.fileOf(oldUri), repos.disk.fileOf(newUri)];
    if (from === undefined || to === undefined) continue;
    const { root, files, uriOf, path } = repos.repoOf(from);
    const entry = byRepo.get(root) ?? { files, uriOf, moves: [] };
    byRepo.set(root, entry);
    entry.moves.push({ from: path, to: repos.disk.pathFrom(root, to) });
  }
  if ([...byRepo.values()].some(({ files }) => !files.areAll()))
    tell(session, `${notAll} Others may name what was moved by its old path.`);
  const documentChanges = [...byRepo.values()].flatMap(({ files, uriOf, moves }) =>
    followMoves(files, moves).map(({ path, edits }) => {
      const lines = files.file(path!)?.doc.lines ?? new LineMap('');
      return toDocumentEdit(session, uriOf(path!), { lines, units: session.units }, edits);
    }),
  );
  return documentChanges.length > 0 ? toWorkspaceEdit(documentChanges, session.audience.can) : null;
}

// -- the text --------------------------------------------------------------------------------------------------------

function links(reading: ReadableFile): DocumentLink[] {
  const { uriOf } = reading.open.target;
  return linksOf(reading.here).flatMap(({ start, end, path }) =>
    toLocation(reading, { start, end }).map(({ range }) => ({ range, target: uriOf(path) })),
  );
}

function folds({ open }: ReadableFile): FoldingRange[] {
  return foldsOf(open.file.text, open.target.lines).map(({ startLine, endLine, isComment }) => ({
    startLine,
    endLine,
    ...(isComment && { kind: FoldingRangeKind.Comment }),
  }));
}

interface AskedSelections extends DocumentParams {
  readonly positions: readonly Position[];
}

function selections(reading: ReadableFile, { positions }: AskedSelections): SelectionRange[] {
  return positions.map((position) => selection(reading, position));
}

function selection(reading: ReadableFile, position: Position): SelectionRange {
  const { open, result, positions } = reading;
  const { lines, units } = open.target;
  const here = { range: { start: position, end: position } };
  const offset = offsetOf(reading, position);
  if (offset === undefined) return here;
  const ranges = selectionsAt(result.doc.root, result.doc.text.length, offset).map((range) =>
    lines.range(positions.about(range), units),
  );
  const around = ranges.reduceRight<SelectionRange | undefined>((parent, range) => ({ range, parent }), undefined);
  return around ?? here;
}

function colours(reading: ReadableFile): ColorInformation[] {
  return coloursOf(reading.here.places).flatMap(({ start, end, rgb }) =>
    toLocation(reading, { start, end }).map(({ range }) => ({
      range,
      color: { red: rgb.r, green: rgb.g, blue: rgb.b, alpha: 1 },
    })),
  );
}

interface AskedColour extends DocumentParams {
  readonly color: { readonly red: number; readonly green: number; readonly blue: number };
  readonly range: Range;
}

/** The colour as it is written where it stands. */
function colourTexts(open: OpenChecked | undefined, { color, range }: AskedColour): ColorPresentation[] {
  if (!open) return [];
  const { lines, units } = open.target;
  const written = open.file.text.slice(lines.offset(range.start, units), lines.offset(range.end, units));
  const text = colourText(written, { r: color.red, g: color.green, b: color.blue });
  return text === undefined ? [] : [{ label: text, textEdit: { range, newText: text } }];
}
