/**
 * From our plain data to the protocol's. Whatever a client shows as a line of its own (a message, a label, a title) may
 * hold words of somebody's file, and is made harmless here.
 */
import {
  type CodeAction,
  CodeActionKind,
  type CreateFile,
  type Diagnostic,
  DiagnosticSeverity,
  DiagnosticTag,
  type DocumentSymbol,
  type InlayHint,
  type Range as LspRange,
  type SnippetTextEdit,
  type SymbolInformation,
  SymbolKind,
  type TextDocumentEdit,
  type TextEdit,
  type WorkspaceEdit,
} from 'vscode-languageserver-types';
import type { Announced } from './announced.ts';
import type { LineMap, Units } from './core/document/lines.ts';
import type { Range } from './core/document/node.ts';
import { distinct, type Edit, type Finding, type Severity } from './core/finding.ts';
import type { Action } from './features/actions.ts';
import type { Hint } from './features/hints.ts';
import type { WorkspaceSymbol } from './features/navigation.ts';
import type { OutlineEntry } from './features/outline.ts';
import { oneLine } from './formats/escape.ts';

export const source = 'shoot spec';

const severityOf: Readonly<Record<Severity, DiagnosticSeverity>> = {
  error: DiagnosticSeverity.Error,
  warning: DiagnosticSeverity.Warning,
  info: DiagnosticSeverity.Information,
  hint: DiagnosticSeverity.Hint,
};

/** Who is told: what it has announced, how it counts characters, and where it finds the page of a rule. */
export interface Audience {
  readonly can: Announced;
  readonly units: Units;
  pageOf(rule: string): string | undefined;
}

/** One open text as the protocol sees it. */
export interface Target {
  readonly uri: string;
  readonly version: number;
  readonly lines: LineMap;
  readonly units: Units;
  /** The address of another file of the repo, by its path; of the repo's root without one. */
  uriOf(path?: string): string;
  readonly audience: Audience;
  /** Lines of another file of the repo, by its path; undefined when it can't be read. */
  linesOf(path: string): LineMap | undefined;
}

/** The lines of a text, and how the client counts characters in them. */
export interface Counted {
  readonly lines: Pick<LineMap, 'range'>;
  readonly units: Units;
}

export function toRange(range: Range, { lines, units }: Counted): LspRange {
  return lines.range(range, units);
}

export function toDiagnostic(finding: Finding, target: Target): Diagnostic {
  const { can, pageOf } = target.audience;
  const related = can.relatedInformation ? relatedTo(finding, target) : [];
  const page = can.codeDescription ? pageOf(finding.rule) : undefined;
  return {
    range: toRange(finding, target),
    severity: severityOf[finding.severity],
    code: finding.rule,
    ...(page !== undefined && { codeDescription: { href: page } }),
    source,
    message: oneLine(finding.message),
    ...(can.unnecessaryTag && finding.isUnused && { tags: [DiagnosticTag.Unnecessary] }),
    ...(related.length > 0 && { relatedInformation: related }),
  };
}

/** Places that are told apart in a file may be one and the same in an editor that counts lines. */
function relatedTo({ related }: Finding, target: Target): NonNullable<Diagnostic['relatedInformation']> {
  const told = related.flatMap((one) => {
    const lines = one.file === undefined ? target.lines : target.linesOf(one.file);
    if (!lines) return [];
    const uri = one.file === undefined ? target.uri : target.uriOf(one.file);
    return [{ location: { uri, range: lines.range(one, target.units) }, message: oneLine(one.message) }];
  });
  return distinct(told);
}

/** Edits as the client takes them: of certain versions of the texts, or plain ones. */
export function toWorkspaceEdit(
  changes: readonly (TextDocumentEdit | CreateFile)[],
  { versionedEdits }: Pick<Announced, 'versionedEdits'>,
): WorkspaceEdit {
  if (versionedEdits) return { documentChanges: [...changes] };
  const plain: Record<string, TextEdit[]> = {};
  for (const change of changes) {
    if (!('edits' in change)) continue;
    (plain[change.textDocument.uri] ??= []).push(...(change.edits as TextEdit[]));
  }
  return { changes: plain };
}

export function toTextEdit(edit: Edit, target: Counted): TextEdit {
  return { range: toRange(edit, target), newText: edit.text };
}

/** An action that rewrites the text, and is offered without a finding. */
export function toRewrite(title: string, more: Omit<CodeAction, 'title' | 'kind'>): CodeAction {
  return { title: oneLine(title), kind: CodeActionKind.RefactorRewrite, ...more };
}

/** Edits in which the words to be overwritten are selected, for a client that can do that. */
export function toSnippetEdit(edit: Edit, select: string, target: Counted): SnippetTextEdit {
  const literal = (text: string) => text.replace(/[\\$}]/g, '\\$&');
  const at = edit.text.indexOf(select);
  const value = `${literal(edit.text.slice(0, at))}\${1:${literal(select)}}${literal(edit.text.slice(at + select.length))}`;
  return { range: toRange(edit, target), snippet: { kind: 'snippet', value } };
}

/** Edits carry the version that they were made for, so that a client never applies them to another text. */
export function toCodeAction(action: Action, target: Target, snippets = false): CodeAction {
  const { select } = action;
  const edits = action.edits.map((edit) =>
    snippets && select !== undefined ? toSnippetEdit(edit, select, target) : toTextEdit(edit, target),
  );
  return {
    title: oneLine(action.title),
    kind: action.kind === 'fix-all' ? fixAllKind : CodeActionKind.QuickFix,
    ...(action.finding && { diagnostics: [toDiagnostic(action.finding, target)] }),
    ...(action.preferred && { isPreferred: true }),
    edit: toWorkspaceEdit([{ textDocument: { uri: target.uri, version: target.version }, edits }], target.audience.can),
  };
}

export const fixAllKind = `${CodeActionKind.SourceFixAll}.shootSpec`;

const symbolOf: Readonly<Record<OutlineEntry['kind'], SymbolKind>> = {
  block: SymbolKind.Module,
  name: SymbolKind.Object,
  value: SymbolKind.Property,
  line: SymbolKind.Event,
};

export function toSymbol(entry: OutlineEntry, target: Counted): DocumentSymbol {
  return {
    name: oneLine(entry.name),
    detail: oneLine(entry.detail),
    kind: symbolOf[entry.kind],
    range: toRange(entry.range, target),
    selectionRange: toRange(entry.at, target),
    children: entry.children.map((child) => toSymbol(child, target)),
  };
}

/** The outline for a client that shows no tree: each entry tells what it stands in. */
export function toSymbolList(symbols: readonly DocumentSymbol[], uri: string, within?: string): SymbolInformation[] {
  return symbols.flatMap(({ name, kind, range, children = [] }) => [
    { name, kind, location: { uri, range }, ...(within !== undefined && { containerName: within }) },
    ...toSymbolList(children, uri, name),
  ]);
}

export function toHint({ text, meaning }: Hint, position: InlayHint['position']): InlayHint {
  return { position, label: oneLine(text), tooltip: oneLine(meaning), paddingLeft: true };
}

const symbolOfKind: Readonly<Record<string, SymbolKind>> = {
  shot: SymbolKind.Event,
  deliverable: SymbolKind.File,
  right: SymbolKind.Key,
  'set-up': SymbolKind.Namespace,
};

/** Something of any file of a repo; `uri` is the file's. */
export function toWorkspaceSymbol(symbol: WorkspaceSymbol, uri: string, units: Units): SymbolInformation {
  const { file, start, end, name, kind, within } = symbol;
  return {
    name: oneLine(name),
    kind: symbolOfKind[kind] ?? SymbolKind.Object,
    location: { uri, range: file.doc.lines.range({ start, end }, units) },
    containerName: oneLine(within),
  };
}
