/** What a client has announced that it can do, read once. What it leaves out, it is not given. */
import type { ClientCapabilities } from 'vscode-languageserver';

export interface Announced {
  /** It asks for findings, and can be told to ask again when another file changed; else they are pushed. */
  readonly pullsFindings: boolean;
  /** Other places that a finding is about. */
  readonly relatedInformation: boolean;
  /** A link to the page of a rule. */
  readonly codeDescription: boolean;
  /** Fading of what nothing uses. */
  readonly unnecessaryTag: boolean;
  /** Edits that name the version of the text that they are for. */
  readonly versionedEdits: boolean;
  /** Actions that hold their edit; else each is a command that has it made. */
  readonly actionLiterals: boolean;
  /** An outline that is a tree; else a list. */
  readonly symbolTree: boolean;
  readonly hoverMarkdown: boolean;
  readonly completionMarkdown: boolean;
  /** Each way of formatting can be offered, and taken back, while it runs. */
  readonly laterFormatting: Readonly<Record<FormattingWay, boolean>>;
}

export const formattingWays = ['formatting', 'rangeFormatting', 'onTypeFormatting'] as const;
export type FormattingWay = (typeof formattingWays)[number];

export function readAnnounced(client: ClientCapabilities): Announced {
  return { ...readFindings(client), ...readAnswers(client) };
}

type OfFindings = 'pullsFindings' | 'relatedInformation' | 'codeDescription' | 'unnecessaryTag';

function readFindings({ textDocument, workspace }: ClientCapabilities): Pick<Announced, OfFindings> {
  const pushed = textDocument?.publishDiagnostics;
  // Since 3.18 clients may say it of pulled findings by themselves.
  const pulled = textDocument?.diagnostic as typeof pushed;
  const tags = [...listOf(pushed?.tagSupport?.valueSet), ...listOf(pulled?.tagSupport?.valueSet)];
  return {
    pullsFindings: pulled !== undefined && workspace?.diagnostics?.refreshSupport === true,
    relatedInformation: (pulled?.relatedInformation ?? pushed?.relatedInformation) === true,
    codeDescription: (pulled?.codeDescriptionSupport ?? pushed?.codeDescriptionSupport) === true,
    unnecessaryTag: tags.includes(1),
  };
}

function readAnswers({ textDocument, workspace }: ClientCapabilities): Omit<Announced, OfFindings> {
  return {
    versionedEdits: workspace?.workspaceEdit?.documentChanges === true,
    actionLiterals: textDocument?.codeAction?.codeActionLiteralSupport !== undefined,
    symbolTree: textDocument?.documentSymbol?.hierarchicalDocumentSymbolSupport === true,
    hoverMarkdown: listOf(textDocument?.hover?.contentFormat).includes('markdown'),
    completionMarkdown: listOf(textDocument?.completion?.completionItem?.documentationFormat).includes('markdown'),
    laterFormatting: Object.fromEntries(
      formattingWays.map((way) => [way, textDocument?.[way]?.dynamicRegistration === true]),
    ) as Announced['laterFormatting'],
  };
}

/** Clients may announce anything. */
function listOf(value: unknown): readonly unknown[] {
  return Array.isArray(value) ? value : [];
}
