/** Wires inlay hints to the protocol. */
import type { InlayHint, Range } from 'vscode-languageserver';
import { type HintKind, hintKinds, hintsIn } from '../features/hints.ts';
import { toHint } from '../protocol.ts';
import { type DocumentParams, readingOf, type Session } from './session.ts';

export function registerHints(session: Session): void {
  session.connection.languages.inlayHint.on(
    session.ready(({ textDocument, range }: DocumentParams & { range: Range }): InlayHint[] => {
      const open = session.at(textDocument.uri);
      if (!open) return [];
      const { result, positions } = readingOf(open);
      const { lines, units } = open.target;
      const [start, end] = [lines.offset(range.start, units), lines.offset(range.end, units)];
      const asked = { start: positions.back(start) ?? 0, end: positions.back(end) ?? result.doc.text.length };
      return hintsIn(result, asked, session.hints(open.current.place)).flatMap((hint) => {
        const now = positions.exact({ start: hint.offset, end: hint.offset });
        return now ? toHint(hint, lines.position(now.start, units)) : [];
      });
    }) as Parameters<typeof session.connection.languages.inlayHint.on>[0],
  );
}

/** All of them, but those that the editor's settings switch off: `shootSpec.hints.storage: false`. */
export function readHints(settings: unknown): ReadonlySet<HintKind> {
  const hints = (settings as { hints?: unknown } | undefined)?.hints;
  const off = (kind: HintKind) =>
    hints !== null && typeof hints === 'object' && (hints as Record<string, unknown>)[kind] === false;
  return new Set(hintKinds.filter((kind) => !off(kind)));
}
