/** Wires formatting to the protocol. It is off until the client's settings ask for it, and offered only then where it can be. */
import {
  type Disposable,
  DocumentFormattingRequest,
  DocumentOnTypeFormattingRequest,
  DocumentRangeFormattingRequest,
  type Position,
  type Range,
  type ServerCapabilities,
  type TextEdit,
} from 'vscode-languageserver';
import { type FormattingWay, formattingWays } from '../announced.ts';
import { type Doc, parseDocument } from '../core/document/parse.ts';
import type { Edit } from '../core/finding.ts';
import { formatEdits, lineEdits } from '../features/format/index.ts';
import { toTextEdit } from '../protocol.ts';
import type { DocumentParams, Session } from './session.ts';

const providers = {
  formatting: { documentFormattingProvider: true },
  rangeFormatting: { documentRangeFormattingProvider: true },
  onTypeFormatting: { documentOnTypeFormattingProvider: { firstTriggerCharacter: '\n' } },
} as const;

export class Formatting {
  #offered: Promise<readonly Disposable[]> | undefined;

  constructor(private readonly session: Session) {
    const { connection, ready } = session;
    connection.onDocumentFormatting(
      ready((asked: DocumentParams) => this.#edits(asked, (doc) => formatEdits(doc))) as Parameters<
        typeof connection.onDocumentFormatting
      >[0],
    );
    connection.onDocumentRangeFormatting(
      ready((asked: DocumentParams & { range: Range }) =>
        this.#edits(asked, (doc) => formatEdits(doc, linesOf(asked.range))),
      ) as Parameters<typeof connection.onDocumentRangeFormatting>[0],
    );
    connection.onDocumentOnTypeFormatting(
      ready((asked: DocumentParams & { position: Position }) =>
        this.#edits(asked, (doc) => lineEdits(doc, asked.position.line - 1)),
      ) as Parameters<typeof connection.onDocumentOnTypeFormatting>[0],
    );
  }

  /** For a client that must be told at once: it is answered with no edits as long as formatting is off. */
  capabilities(): ServerCapabilities {
    return Object.assign(
      {},
      ...formattingWays.filter((way) => !this.#isLater(way)).map((way) => providers[way]),
    ) as object;
  }

  /** Offers to the others what they can be offered later, or takes it back. */
  async offer(isWanted: boolean): Promise<void> {
    if (isWanted === (this.#offered !== undefined)) return;
    const before = this.#offered;
    this.#offered = isWanted ? this.#register() : undefined;
    for (const one of (await before) ?? []) one.dispose();
  }

  async #register(): Promise<Disposable[]> {
    const { client } = this.session.connection;
    const documentSelector = ['shoot-spec', 'shoot-takes', 'shoot-kit', 'shoot-settings'].map((language) => ({
      language,
    }));
    const { firstTriggerCharacter } = providers.onTypeFormatting.documentOnTypeFormattingProvider;
    const register = {
      formatting: () => client.register(DocumentFormattingRequest.type, { documentSelector }),
      rangeFormatting: () => client.register(DocumentRangeFormattingRequest.type, { documentSelector }),
      onTypeFormatting: () =>
        client.register(DocumentOnTypeFormattingRequest.type, { documentSelector, firstTriggerCharacter }),
    };
    const asked = formattingWays.filter((way) => this.#isLater(way)).map((way) => register[way]());
    return (await Promise.allSettled(asked)).flatMap((one) => (one.status === 'fulfilled' ? one.value : []));
  }

  #isLater(way: FormattingWay): boolean {
    return this.session.audience.can.laterFormatting[way];
  }

  #edits({ textDocument }: DocumentParams, format: (doc: Doc) => Edit[]): TextEdit[] {
    const open = this.session.at(textDocument.uri);
    if (!open || !this.session.formats(open.current.place)) return [];
    // The tree of a check is the text as it is meant, this one is as it is written.
    return format(parseDocument(open.file.text)).map((edit) => toTextEdit(edit, open.target));
  }
}

/** A range that ends where a line begins does not mean that line. */
function linesOf({ start, end }: Range): { first: number; last: number } {
  const isBefore = end.character === 0 && end.line > start.line;
  return { first: start.line, last: isBefore ? end.line - 1 : end.line };
}
