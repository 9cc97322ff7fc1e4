/** The editor: one view, in which each file keeps its text, its cursor and what can be undone. */
import {
  acceptCompletion,
  autocompletion,
  completionStatus,
  closeBrackets,
  closeBracketsKeymap,
  completionKeymap,
  moveCompletionSelection,
  startCompletion,
} from '@codemirror/autocomplete';
import { defaultKeymap, history, historyKeymap, indentLess, indentMore } from '@codemirror/commands';
import { yaml } from '@codemirror/lang-yaml';
import { bracketMatching, HighlightStyle, indentService, indentUnit, syntaxHighlighting } from '@codemirror/language';
import { type Diagnostic as Mark, linter, lintGutter, setDiagnostics } from '@codemirror/lint';
import { highlightSelectionMatches, searchKeymap } from '@codemirror/search';
import { EditorState, type Extension, type Text } from '@codemirror/state';
import {
  drawSelection,
  EditorView,
  highlightActiveLine,
  highlightActiveLineGutter,
  hoverTooltip,
  keymap,
  lineNumbers,
  tooltips,
} from '@codemirror/view';
import { tags } from '@lezer/highlight';
import type { Diagnostic } from 'vscode-languageserver-types';
import { completionSource } from './completion.ts';
import { spanOf } from './places.ts';

export interface Helpers {
  readonly complete: Parameters<typeof completionSource>[0];
  readonly show: Parameters<typeof completionSource>[1];
  /** What is said of a place; undefined where nothing is. */
  hover(offset: number, doc: Text): Promise<{ from: number; to: number; dom: HTMLElement } | undefined>;
  changed(text: string): void;
  cursorMoved(): void;
  /** Shows fixes of what is at the cursor. */
  fix(): void;
}

const colours = HighlightStyle.define([
  { tag: tags.definition(tags.propertyName), color: 'var(--key)' },
  { tag: tags.propertyName, color: 'var(--key)' },
  { tag: [tags.string, tags.content], color: 'var(--value)' },
  { tag: [tags.comment, tags.meta], color: 'var(--soft)', fontStyle: 'italic' },
  { tag: tags.punctuation, color: 'var(--soft)' },
]);

const look = EditorView.theme({
  '&': { height: '100%', fontSize: '14px', color: 'var(--ink)', backgroundColor: 'var(--paper)' },
  '.cm-scroller': { fontFamily: 'var(--mono)', lineHeight: '1.55' },
  '.cm-gutters': { backgroundColor: 'var(--paper)', color: 'var(--soft)', border: 'none' },
  '.cm-activeLine, .cm-activeLineGutter': { backgroundColor: 'var(--line-shade)' },
  '.cm-cursor': { borderLeftColor: 'var(--ink)' },
  '&.cm-focused': { outline: 'none' },
  '.cm-selectionBackground, &.cm-focused > .cm-scroller > .cm-selectionLayer .cm-selectionBackground': {
    backgroundColor: 'var(--selection)',
  },
  '.cm-selectionMatch': { backgroundColor: 'var(--selection)' },
  '.cm-tooltip': {
    backgroundColor: 'var(--raised)',
    color: 'var(--ink)',
    border: '1px solid var(--line)',
    borderRadius: '6px',
    boxShadow: '0 6px 24px rgb(0 0 0 / 18%)',
  },
  '.cm-tooltip.cm-tooltip-autocomplete > ul': { fontFamily: 'var(--mono)', fontSize: '13px', maxHeight: '16em' },
  '.cm-tooltip.cm-tooltip-autocomplete > ul > li': { padding: '2px 8px' },
  '.cm-tooltip-autocomplete ul li[aria-selected]': { backgroundColor: 'var(--accent)', color: 'var(--on-accent)' },
  '.cm-completionDetail': { color: 'var(--soft)', fontStyle: 'normal' },
  '.cm-tooltip-autocomplete ul li[aria-selected] .cm-completionDetail': { color: 'inherit' },
  '.cm-completionInfo': { padding: '4px 12px', whiteSpace: 'normal', maxWidth: '34em', font: '14px/1.45 var(--text)' },
  '.cm-panels': { backgroundColor: 'var(--raised)', color: 'var(--ink)' },
  '.cm-lintRange-error': underline('error'),
  '.cm-lintRange-warning': underline('warning'),
  '.cm-lintRange-info': underline('info'),
  '.cm-lintRange-hint': underline('hint'),
  '.cm-snippetField': { backgroundColor: 'var(--selection)' },
});

function underline(severity: string): Record<string, string> {
  return {
    backgroundImage: 'none',
    textDecoration: `underline ${severity === 'hint' ? 'dotted' : 'wavy'} var(--${severity})`,
    textDecorationSkipInk: 'none',
    textUnderlineOffset: '3px',
  };
}

const severities = [undefined, 'error', 'warning', 'info', 'hint'] as const;

export class Editor {
  readonly view: EditorView;
  readonly #states = new Map<string, EditorState>();
  readonly #extensions: Extension;
  #shown = '';

  /** @param root where it may write its style without a style element, so that the page's policy lets none in */
  constructor(root: ShadowRoot, parent: HTMLElement, helpers: Helpers) {
    this.#extensions = extensionsOf(helpers);
    this.view = new EditorView({ root, parent, extensions: this.#extensions });
  }

  get text(): string {
    return this.view.state.doc.toString();
  }

  show(path: string, text: string): void {
    if (this.#shown) this.#states.set(this.#shown, this.view.state);
    this.#shown = path;
    this.view.setState(this.#states.get(path) ?? EditorState.create({ doc: text, extensions: this.#extensions }));
  }

  /** What was kept of a file counts no more. */
  forget(path: string): void {
    this.#states.delete(path);
    if (path === this.#shown) this.#shown = '';
  }

  mark(diagnostics: readonly Diagnostic[]): void {
    const { doc } = this.view.state;
    const marks = diagnostics.map(({ range, severity, message }): Mark => {
      const { from, to } = spanOf(doc, range);
      return { from, to: Math.max(to, Math.min(from + 1, doc.length)), severity: severities[severity ?? 1] ?? 'error', message: String(message) };
    });
    this.view.dispatch(setDiagnostics(this.view.state, marks));
  }

  select(from: number, to: number, isTaken = true): void {
    const effects = EditorView.scrollIntoView(from, { y: 'center' });
    this.view.dispatch({ selection: { anchor: from, head: to }, effects });
    if (isTaken) this.view.focus();
  }
}

function extensionsOf({ complete, show, hover, changed, cursorMoved, fix }: Helpers): Extension {
  return [
    lineNumbers(),
    // Our own hovers say what is found.
    linter(null, { tooltipFilter: () => [] }),
    lintGutter({ tooltipFilter: () => [] }),
    highlightActiveLine(),
    highlightActiveLineGutter(),
    history(),
    drawSelection(),
    indentUnit.of('  '),
    // A line below a key that has no value yet belongs to it.
    indentService.of((context, pos) => {
      const above = context.lineAt(pos, -1).text;
      const indent = /^ */.exec(above)![0].length;
      return /:\s*(?:#.*)?$/.test(above) ? indent + 2 + (/^ *- /.test(above) ? 2 : 0) : indent;
    }),
    bracketMatching(),
    closeBrackets(),
    highlightSelectionMatches(),
    yaml(),
    syntaxHighlighting(colours),
    autocompletion({ override: [completionSource(complete, show)], icons: false, activateOnTypingDelay: 60, selectOnOpen: false }),
    hoverTooltip(
      async (view, pos) => {
        const said = await hover(pos, view.state.doc);
        return said ? { pos: said.from, end: said.to, create: () => ({ dom: said.dom }) } : null;
      },
      { hoverTime: 250 },
    ),
    tooltips({ position: 'fixed' }),
    keymap.of([
      { key: 'Tab', run: takeFirst },
      { key: 'Tab', run: indentMore, shift: indentLess },
      { key: 'Mod-.', run: () => (fix(), true) },
      ...closeBracketsKeymap,
      ...defaultKeymap,
      ...searchKeymap,
      ...historyKeymap,
      ...completionKeymap,
    ]),
    EditorView.updateListener.of((update) => {
      if (update.docChanged) changed(update.state.doc.toString());
      if (update.docChanged || update.selectionSet) cursorMoved();
      if (update.docChanged && update.transactions.some((one) => one.isUserEvent('input'))) opensOnNewLine(update.view);
    }),
    EditorView.contentAttributes.of({ 'aria-label': 'The plan', spellcheck: 'false', tabindex: '0' }),
    look,
  ];
}

/** In a list nothing is chosen, so that Enter ends the line; Tab takes what was chosen or the first, but indents a new line. */
function takeFirst(view: EditorView): boolean {
  const { state } = view;
  const { head } = state.selection.main;
  if (completionStatus(state) !== 'active' || isBlank(state.doc.lineAt(head).text)) return acceptCompletion(view);
  return acceptCompletion(view) || (moveCompletionSelection(true)(view) && acceptCompletion(view));
}

function isBlank(line: string): boolean {
  return /^ *(?:- )?$/.test(line);
}

/** On a new line inside a block the list opens by itself, as in other editors. */
function opensOnNewLine(view: EditorView): void {
  const { state } = view;
  const { head } = state.selection.main;
  const line = state.doc.lineAt(head);
  if (head === line.to && line.length > 0 && isBlank(line.text)) setTimeout(() => startCompletion(view));
}
