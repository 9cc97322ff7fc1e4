/**
 * A text editor as far as completion goes: when it asks, what it leaves of a list that is older than the text, which line
 * it chooses by itself, and what Enter and Tab then do. The rules are those of VS Code 1.100 with the settings that the
 * extension brings, read from its manifest, or with the editor's own.
 */
import { readFileSync } from 'node:fs';
import type { Item } from '../../server/features/completion/item.ts';
import { plainText } from './complete.ts';

export interface Manner {
  readonly selects: 'always' | 'never' | 'whenTriggerCharacter' | 'whenQuickSuggestion';
  readonly enterAccepts: boolean;
  /** Tab takes the first line of a list in which none is chosen. */
  readonly tabChooses: boolean;
}

const manifest = JSON.parse(readFileSync(new URL('../../package.json', import.meta.url), 'utf8'));

/** What the extension sets for a language. */
export function mannerOf(language: string): Manner {
  const set = manifest.contributes.configurationDefaults[`[${language}]`];
  return {
    selects: set['editor.suggest.selectionMode'] ?? 'always',
    enterAccepts: (set['editor.acceptSuggestionOnEnter'] ?? 'on') !== 'off',
    tabChooses: manifest.contributes.keybindings.some(({ key }: { key: string }) => key === 'tab'),
  };
}

/** An editor that chooses the first line by itself, as most do where nothing is set. */
export const bareManner: Manner = { selects: 'always', enterAccepts: true, tabChooses: false };

interface List {
  readonly items: readonly Item[];
  readonly isAsked: boolean;
  readonly isTriggered: boolean;
}

export class Editor {
  text: string;
  offset: number;
  #list: List | undefined;

  constructor(
    text: string,
    offset: number,
    readonly manner: Manner,
    /** What the server answers at the text as it is. */
    readonly ask: (text: string, offset: number) => Item[],
  ) {
    this.text = text;
    this.offset = offset;
  }

  /** @param inTime false where the answer to this key comes too late, and the list stays as old as it is */
  type(letter: string, inTime: boolean): void {
    this.#put(letter, this.offset, this.offset);
    const isTrigger = ':-[{,"'.includes(letter) || (letter === ' ' && /\S/.test(this.#line()));
    const isWord = /[\p{L}\p{N}]/u.test(letter) && !/(?<![^\s,:{}[\]"'#|>&*])[\d.]+$/.test(this.#line());
    const isStale = this.#list?.items.some(({ kind }) => kind === 'value') === true;
    if (isTrigger || (isWord && !this.#list) || isStale) {
      if (inTime) this.#open(false, isTrigger);
      else if (isTrigger && !isStale) this.#list = undefined;
    }
    if (this.#list && this.#shown().length === 0) this.#list = undefined;
  }

  /** Completion is asked for by its key, and the answer awaited. */
  askFor(): void {
    this.#open(true, false);
  }

  enter(): void {
    const chosen = this.manner.enterAccepts ? this.#chosen() : undefined;
    if (chosen && this.#changes(chosen)) return this.#take(chosen);
    this.#list = undefined;
    this.#put('\n', this.offset, this.offset);
  }

  tab(): void {
    const chosen = this.#chosen() ?? (this.manner.tabChooses ? this.#shown()[0] : undefined);
    if (chosen) return this.#take(chosen);
    this.#put('  ', this.offset, this.offset);
  }

  #open(isAsked: boolean, isTriggered: boolean): void {
    const items = this.ask(this.text, this.offset);
    this.#list = items.length > 0 ? { items, isAsked, isTriggered } : undefined;
  }

  #line(): string {
    return this.text.slice(this.text.lastIndexOf('\n', this.offset - 1) + 1, this.offset);
  }

  /** What is left of the list by the letters before the cursor: what is the same first, then in the server's order. */
  #shown(): Item[] {
    const fitting = (this.#list?.items ?? []).filter((item) => isWithin(this.#word(item), item.filter || item.label));
    const isSame = (item: Item) => (item.filter || item.label).toLowerCase() === this.#word(item).toLowerCase();
    return [...fitting.filter(isSame), ...fitting.filter((item) => !isSame(item))];
  }

  #word(item: Item): string {
    return this.text.slice(item.start, this.offset).trimStart();
  }

  #chosen(): Item | undefined {
    if (!this.#list) return undefined;
    const { selects } = this.manner;
    const { isAsked, isTriggered } = this.#list;
    const isChosen =
      isAsked || selects === 'always' || (selects === 'whenTriggerCharacter' ? isTriggered : selects !== 'never');
    const shown = this.#shown();
    return isChosen ? (shown.find(({ stands }) => stands) ?? shown[0]) : undefined;
  }

  #end(item: Item): number {
    // Letters that were typed since the answer are replaced as well.
    return Math.max(item.insertEnd ?? item.end, this.offset);
  }

  #changes(item: Item): boolean {
    return this.text.slice(item.start, this.#end(item)) !== plainText(item);
  }

  #take(item: Item): void {
    this.#put(plainText(item), item.start, this.#end(item));
    this.#list = undefined;
  }

  #put(text: string, start: number, end: number): void {
    this.text = this.text.slice(0, start) + text + this.text.slice(end);
    this.offset = start + text.length;
  }
}

/** Are the letters there in this order, the first one at the start of a word? */
function isWithin(word: string, whole: string): boolean {
  const letters = [...word.toLowerCase()];
  const text = whole.toLowerCase();
  const starts = [...text].flatMap((_, at) => (at === 0 || /[\W_]/.test(text[at - 1]!) ? [at] : []));
  return (
    letters.length === 0 ||
    starts.some((start) => {
      if (text[start] !== letters[0]) return false;
      let at = start;
      return letters.every((letter) => (at = text.indexOf(letter, at) + 1) > 0);
    })
  );
}
