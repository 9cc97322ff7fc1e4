/** Wires hovers and the outline to the protocol. */
import { join } from 'node:path';
import { type DocumentSymbol, type Hover, MarkupKind } from 'vscode-languageserver';
import { URI } from 'vscode-uri';
import { hoverAt, type RulePage } from '../features/hover.ts';
import { outline } from '../features/outline.ts';
import { readPages } from '../rule-pages.ts';
import { type Counted, toRange, toSymbol } from '../protocol.ts';
import { type DocumentParams, type PositionParams, offsetOf, readingOf, type Session } from './session.ts';

export function registerReading(session: Session): void {
  const { connection, ready } = session;

  connection.onHover(
    ready(({ textDocument, position }: PositionParams): Hover | null => {
      const open = session.at(textDocument.uri);
      if (!open) return null;
      const { target, current } = open;
      const hover =
        hoverAt(current.result, target.lines.offset(position, target.units), pageOf) ??
        (current.result.doc.broken ? lastGoodHover(session, { textDocument, position }) : undefined);
      if (!hover) return null;
      return { contents: { kind: MarkupKind.Markdown, value: hover.markdown }, range: toRange(hover.range, target) };
    }) as Parameters<typeof connection.onHover>[0],
  );

  connection.onDocumentSymbol(
    ready(({ textDocument }: DocumentParams): DocumentSymbol[] => {
      const open = session.at(textDocument.uri);
      if (!open) return [];
      const { result, positions } = readingOf(open);
      const { lines, units } = open.target;
      const moved: Counted = { units, lines: { range: (range) => lines.range(positions.about(range), units) } };
      return outline(result.doc.root).map((entry) => toSymbol(entry, moved));
    }) as Parameters<typeof connection.onDocumentSymbol>[0],
  );
}

/** What stood here before the file could not be read any more. */
function lastGoodHover(session: Session, { textDocument, position }: PositionParams) {
  const reading = readingOf(session.at(textDocument.uri)!);
  const offset = offsetOf(reading, position);
  const hover = offset === undefined ? undefined : hoverAt({ ...reading.result, findings: [] }, offset, pageOf);
  const range = hover && reading.positions.exact(hover.range);
  return hover && range && { ...hover, range };
}

let pages: ReturnType<typeof readPages> | undefined;

/** The pages lie beside the bundle and are read when the first is asked for; a reader can open them there. */
function pageOf(rule: string): RulePage | undefined {
  const file = join(import.meta.dirname, 'pages.md');
  try {
    pages ??= readPages(file);
  } catch {
    pages = new Map();
  }
  const page = pages.get(rule);
  return page && { text: page.text, address: `${URI.file(file).toString()}#L${page.line}` };
}
