/** Wires completion to the protocol. */
import {
  type CompletionItem,
  CompletionItemKind,
  type CompletionList,
  type CompletionParams,
  InsertTextFormat,
  InsertTextMode,
  MarkupKind,
  type ServerCapabilities,
} from 'vscode-languageserver';
import { LineMap } from '../core/document/lines.ts';
import { completionsAt } from '../features/completion/index.ts';
import type { Item } from '../features/completion/item.ts';
import { placesOf } from '../features/places.ts';
import { oneLine } from '../formats/escape.ts';
import { plainText } from '../formats/plain-text.ts';
import { rules } from '../rules/index.ts';
import type { PositionParams, CheckedFile, Session } from './session.ts';

export const completionCapabilities: ServerCapabilities = {
  completionProvider: { triggerCharacters: [':', ' ', '-', '[', '{', ',', '"'] },
};

/** Longer texts are not checked anew for a list of words: what is known of them is a few keys old at most. */
export const longText = 30_000;

export function registerCompletion(session: Session): void {
  session.connection.onCompletion(
    session.ready(({ textDocument: { uri }, position, context }: Asked): CompletionList | CompletionItem[] => {
      const file = session.file(uri);
      const known = file && (file.text.length > longText ? session.known(uri) : undefined);
      const current = known ?? session.at(uri)?.current;
      if (!file || !current) return [];
      const lines = known?.version === file.version ? known.result.doc.lines : new LineMap(file.text);
      const offset = lines.offset(position, session.units);
      if (isIndenting(file.text, offset, context)) return [];
      const items = completionsAt({ ...askOf(session, current), text: file.text, lines, offset });
      const counted = { lines, units: session.units };
      return {
        isIncomplete: items.some((one) => one.kind === 'value'),
        items: items.map((one, at) => toItem(one, at, counted, session)),
      };
    }) as Parameters<typeof session.connection.onCompletion>[0],
  );
}

type Asked = PositionParams & Pick<CompletionParams, 'context'>;

/** A blank at the start of a line asks for nothing but room. */
function isIndenting(text: string, offset: number, context: Asked['context']): boolean {
  return context?.triggerCharacter === ' ' && /(?:^|[\r\n]) *$/.test(text.slice(Math.max(0, offset - 200), offset));
}

function askOf(session: Session, { place, result: newest, lastGood }: CheckedFile) {
  const result = newest.doc.broken ? (lastGood ?? newest) : newest;
  const { checker, kind, path, files } = place;
  const here = { kind, path, doc: result.doc, places: placesOf(kind, result.doc.root), files };
  const trials = (root: Parameters<typeof checker.trials>[0]) =>
    checker.trials(root, session.settings(place), place.path);
  return { kind, rules, here, sheet: result.sheet, ...(result.film && { base: { result, trials } }) };
}

const kinds: Readonly<Record<Item['kind'], CompletionItemKind>> = {
  key: CompletionItemKind.Property,
  name: CompletionItemKind.Reference,
  word: CompletionItemKind.EnumMember,
  value: CompletionItemKind.Value,
  path: CompletionItemKind.File,
  block: CompletionItemKind.Snippet,
};

function toItem(
  item: Item,
  index: number,
  { lines, units }: { lines: LineMap; units: Session['units'] },
  { client, audience: { can } }: Session,
): CompletionItem {
  const takes = client.textDocument?.completion?.completionItem;
  const takesSnippets = takes?.snippetSupport === true;
  const newText = item.isSnippet && !takesSnippets ? plain(item.text) : item.text;
  const insert = lines.range({ start: item.start, end: item.insertEnd ?? item.end }, units);
  const ranges = { insert, replace: lines.range(item, units) };
  return {
    label: oneLine(item.label),
    kind: kinds[item.kind],
    ...(item.detail && { detail: oneLine(item.detail) }),
    ...(item.documentation && {
      documentation: can.completionMarkdown
        ? { kind: MarkupKind.Markdown, value: item.documentation }
        : plainText(item.documentation),
    }),
    sortText: String(index).padStart(4, '0'),
    ...(item.filter !== undefined && item.filter !== '' && { filterText: item.filter }),
    insertTextFormat: item.isSnippet && takesSnippets ? InsertTextFormat.Snippet : InsertTextFormat.PlainText,
    // Every line has its indentation already.
    ...(takes?.insertTextModeSupport && { insertTextMode: InsertTextMode.asIs }),
    ...(item.stands && { preselect: true }),
    textEdit: takes?.insertReplaceSupport === true ? { newText, ...ranges } : { newText, range: ranges.insert },
    // For clients that can ask again: after a key its value is wanted.
    ...(item.more && { data: { more: true } }),
  };
}

/** A snippet as the text that it stands for. */
function plain(text: string): string {
  return text
    .replace(/\$\{\d+:((?:[^}\\]|\\.)*)\}/g, '$1')
    .replace(/\$\d+/g, '')
    .replace(/\\([\\$}])/g, '$1');
}
