/** What may stand at the cursor, as the server says it. */
import {
  type Completion,
  type CompletionContext,
  type CompletionResult,
  snippet,
  startCompletion,
} from '@codemirror/autocomplete';
import type { EditorView } from '@codemirror/view';
import type { CompletionItem, CompletionList } from 'vscode-languageserver-types';
import { offsetOf, positionOf } from './places.ts';

/** After these a list opens by itself, as the server asks. */
const opens = /[:\-[{,"\w]\s?$/;
const onNewLine = /\n *(?:- )?$/;

type Asks = (position: object, context: object) => Promise<CompletionList | CompletionItem[] | null>;
type Shows = (markdown: string) => HTMLElement;

export function completionSource(ask: Asks, show: Shows) {
  return async (context: CompletionContext): Promise<CompletionResult | null> => {
    const { doc } = context.state;
    const before = doc.sliceString(Math.max(0, context.pos - 200), context.pos);
    if (!context.explicit && !opens.test(before) && !onNewLine.test(before)) return null;
    const sign = /[:\-[{,"]\s?$/.exec(before)?.[0].at(-1);
    const trigger = context.explicit || sign === undefined ? { triggerKind: 1 } : { triggerKind: 2, triggerCharacter: sign };
    const answer = await ask(positionOf(doc, context.pos), trigger);
    const items = Array.isArray(answer) ? answer : (answer?.items ?? []);
    if (context.aborted || items.length === 0) return null;
    const from = Math.min(...items.map((item) => startOf(item, context)));
    const typed = doc.sliceString(from, context.pos).toLowerCase();
    const fitting = items.filter(({ label, filterText = label }) => fits(filterText.toLowerCase(), typed));
    return { from, filter: false, options: fitting.map((item, index) => optionOf(item, { index, context, show })) };
  };
}

function indentAt({ state }: EditorView, offset: number): string {
  return /^ */.exec(state.doc.lineAt(offset).text)![0];
}

/** All letters that were typed, in their order. */
function fits(word: string, typed: string): boolean {
  let at = 0;
  return [...typed].every((sign) => (at = word.indexOf(sign, at) + 1) > 0);
}

function startOf({ textEdit }: CompletionItem, { state, pos }: CompletionContext): number {
  return textEdit && 'range' in textEdit ? offsetOf(state.doc, textEdit.range.start) : pos;
}

interface Where {
  readonly index: number;
  readonly context: CompletionContext;
  readonly show: Shows;
}

function optionOf(item: CompletionItem, { index, context, show }: Where): Completion {
  const { label, detail, documentation, textEdit, insertTextFormat, data } = item;
  const text = textEdit?.newText ?? label;
  const said = typeof documentation === 'object' ? documentation.value : documentation;
  return {
    label,
    boost: -index / 100,
    ...(detail && { detail }),
    ...(said && { info: () => show(said) }),
    apply(view, _completion, _from, to) {
      const from = startOf(item, context);
      const end = textEdit && 'range' in textEdit ? Math.max(to, offsetOf(view.state.doc, textEdit.range.end)) : to;
      if (insertTextFormat === 2) snippet(templateOf(text, indentAt(view, from)))(view, null, from, end);
      else put(view, text, from, end);
      // After a key its value is wanted.
      if ((data as { more?: boolean } | undefined)?.more) startCompletion(view);
    },
  };
}

function put(view: EditorView, insert: string, from: number, to: number): void {
  view.dispatch({ changes: { from, to, insert }, selection: { anchor: from + insert.length }, userEvent: 'input.complete' });
}

/**
 * A snippet of the protocol as the editor writes them.
 * @param indent of the line it begins in, which the editor puts before all others and the server has put there already
 */
function templateOf(text: string, indent: string): string {
  const plain = (words: string) => words.replace(/\\([\\$}])/g, '$1');
  const field = /\$(\d+)|\$\{(\d+)(?::((?:[^\\}]|\\.)*)|\|((?:[^\\|]|\\.)*)\|)?\}|\\([\\$}])/g;
  const template = text.replace(field, (_, ...found) => {
    const [bare, number, words, choice, escaped] = found as (string | undefined)[];
    if (escaped !== undefined) return escaped;
    const held = plain(words ?? choice?.split(',')[0] ?? '');
    return `\${${bare ?? number}${held === '' ? '' : `:${held}`}}`;
  });
  return template.replaceAll(`\n${indent}`, '\n');
}
