/** Wires hovers and the outline to the protocol. */
import { type DocumentSymbol, type Hover, MarkupKind, type SymbolInformation } from 'vscode-languageserver';
import { hoverAt } from '../features/hover.ts';
import { outline } from '../features/outline.ts';
import { plainText } from '../formats/plain-text.ts';
import { type Counted, toRange, toSymbol, toSymbolList } from '../protocol.ts';
import { type DocumentParams, type PositionParams, offsetOf, readingOf, type Session } from './session.ts';

export function registerReading(session: Session): void {
  const { connection, ready } = session;

  connection.onHover(
    ready(async ({ textDocument, position }: PositionParams): Promise<Hover | null> => {
      const pages = await session.pages();
      const pageOf = (rule: string) => pages.get(rule);
      const open = session.at(textDocument.uri);
      if (!open) return null;
      const { target, current } = open;
      const hover =
        hoverAt(current.result, target.lines.offset(position, target.units), pageOf) ??
        (current.result.doc.broken ? lastGoodHover(session, { textDocument, position }, pageOf) : undefined);
      if (!hover) return null;
      const contents = session.audience.can.hoverMarkdown
        ? { kind: MarkupKind.Markdown, value: hover.markdown }
        : { kind: MarkupKind.PlainText, value: plainText(hover.markdown) };
      return { contents, range: toRange(hover.range, target) };
    }) as Parameters<typeof connection.onHover>[0],
  );

  connection.onDocumentSymbol(
    ready(({ textDocument }: DocumentParams): DocumentSymbol[] | SymbolInformation[] => {
      const open = session.at(textDocument.uri);
      if (!open) return [];
      const { result, positions } = readingOf(open);
      const { lines, units } = open.target;
      const moved: Counted = { units, lines: { range: (range) => lines.range(positions.about(range), units) } };
      const tree = outline(result.doc.root).map((entry) => toSymbol(entry, moved));
      return session.audience.can.symbolTree ? tree : toSymbolList(tree, open.target.uri);
    }) as Parameters<typeof connection.onDocumentSymbol>[0],
  );
}

type PageOf = Parameters<typeof hoverAt>[2];

/** What stood here before the file could not be read any more. */
function lastGoodHover(session: Session, { textDocument, position }: PositionParams, pageOf: PageOf) {
  const reading = readingOf(session.at(textDocument.uri)!);
  const offset = offsetOf(reading, position);
  const hover = offset === undefined ? undefined : hoverAt({ ...reading.result, findings: [] }, offset, pageOf);
  const range = hover && reading.positions.exact(hover.range);
  return hover && range && { ...hover, range };
}
