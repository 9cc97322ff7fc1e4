/** Wires hovers and the outline to the protocol. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { type DocumentSymbol, type Hover, MarkupKind } from 'vscode-languageserver';
import { hoverAt } from '../features/hover.ts';
import { outline } from '../features/outline.ts';
import { type Counted, toRange, toSymbol } from '../protocol.ts';
import { type Asked, type AskedAt, offsetOf, readingOf, type Session } from './session.ts';

export function registerReading(session: Session): void {
  const { connection, ready } = session;

  connection.onHover(
    ready(({ textDocument, position }: AskedAt): Hover | null => {
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
    ready(({ textDocument }: Asked): DocumentSymbol[] => {
      const open = session.at(textDocument.uri);
      if (!open) return [];
      const { result, carry } = readingOf(open);
      const { lines, units } = open.target;
      const moved: Counted = { units, lines: { range: (range) => lines.range(carry.about(range), units) } };
      return outline(result.doc.root).map((entry) => toSymbol(entry, moved));
    }) as Parameters<typeof connection.onDocumentSymbol>[0],
  );
}

/** What stood here before the file could not be read any more. */
function lastGoodHover(session: Session, { textDocument, position }: AskedAt) {
  const reading = readingOf(session.at(textDocument.uri)!);
  const offset = offsetOf(reading, position);
  const hover = offset === undefined ? undefined : hoverAt({ ...reading.result, findings: [] }, offset, pageOf);
  const range = hover && reading.carry.exact(hover.range);
  return hover && range && { ...hover, range };
}

let pages: Readonly<Record<string, string>> | undefined;

/** The pages lie beside the bundle and are read when the first is asked for. */
function pageOf(rule: string): string | undefined {
  try {
    pages ??= JSON.parse(readFileSync(join(import.meta.dirname, 'pages.json'), 'utf8')) as Record<string, string>;
  } catch {
    pages = {};
  }
  return Object.hasOwn(pages, rule) ? pages[rule] : undefined;
}
