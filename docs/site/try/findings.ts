/** The findings of the file in front, each with its rule's page and the fixes that mend it, which are looked for when asked. */
import type { Diagnostic } from 'vscode-languageserver-types';
import type { Fix } from './fixes.ts';
import { ruleLink } from './words.ts';

export interface Does {
  readonly rules: ReadonlySet<string>;
  fixes(finding: Diagnostic): Promise<readonly Fix[]>;
  apply(fix: Fix): void;
  go(finding: Diagnostic): void;
  contains(finding: Diagnostic, offset: number): boolean;
}

const kinds = [undefined, 'Error', 'Warning', 'Note', 'Hint'] as const;
/** Nothing is told by colour alone. */
const signs: Readonly<Record<string, string>> = { Error: '✕', Warning: '▲', Note: 'i', Hint: '·' };

export class Findings {
  readonly #list: HTMLElement;
  readonly #count: HTMLElement;
  readonly #tab: HTMLElement;
  readonly #does: Does;
  #shown: readonly Diagnostic[] = [];

  /** @param tab shows how many there are where the list is not seen */
  constructor({ list, count, tab }: Readonly<Record<'list' | 'count' | 'tab', HTMLElement>>, does: Does) {
    this.#list = list;
    this.#count = count;
    this.#tab = tab;
    this.#does = does;
  }

  /** @param all undefined while it is being checked */
  show(all: readonly Diagnostic[] | undefined): void {
    this.#shown = all ?? [];
    this.#count.textContent = all ? countOf(all) : 'Checking…';
    this.#tab.textContent = all ? String(all.length) : '';
    this.#list.replaceChildren(
      ...this.#shown.map((one) => {
        const item = document.createElement('li');
        item.append(this.elementOf(one));
        return item;
      }),
    );
  }

  /** Opens the fixes of what is at a place of the text. */
  openAt(offset: number): void {
    const at = this.#shown.findIndex((one) => this.#does.contains(one, offset));
    this.#list.children[at]?.querySelector('button.fix')?.dispatchEvent(new MouseEvent('click'));
  }

  elementOf(finding: Diagnostic): HTMLElement {
    const kind = kinds[finding.severity ?? 1] ?? 'Error';
    const all = document.createElement('div');
    all.className = `finding ${kind.toLowerCase()}`;
    const sign = document.createElement('span');
    sign.className = 'sign';
    sign.title = kind;
    sign.setAttribute('aria-label', kind);
    sign.setAttribute('role', 'img');
    sign.textContent = signs[kind]!;
    const message = button('message', '', () => this.#does.go(finding));
    message.append(...quotedAsCode(String(finding.message)));
    message.title = 'Go to it in the text';
    const beneath = document.createElement('p');
    beneath.className = 'beneath';
    const line = document.createElement('span');
    line.textContent = `line ${finding.range.start.line + 1}`;
    beneath.append(line);
    const rule = String(finding.code ?? '');
    if (this.#does.rules.has(rule)) beneath.append(ruleLink(rule));
    const fixes = document.createElement('div');
    fixes.className = 'fixes';
    fixes.setAttribute('role', 'status');
    beneath.append(button('fix', 'Fixes', () => void this.#offer(fixes, finding)));
    all.append(sign, message, beneath, fixes);
    return all;
  }

  async #offer(place: HTMLElement, finding: Diagnostic): Promise<void> {
    if (place.childElementCount > 0) return place.replaceChildren();
    place.textContent = 'Trying…';
    const fixes = await this.#does.fixes(finding).catch(() => []);
    if (fixes.length === 0) {
      place.textContent = 'There is no fix that mends it without a choice of yours.';
      return;
    }
    place.replaceChildren(...fixes.map((fix) => button('take', fix.title, () => this.#does.apply(fix))));
    place.querySelector('button')?.focus();
  }
}

/** What the person wrote stands between backticks. */
function quotedAsCode(message: string): Node[] {
  return message.split('`').map((words, index) => {
    if (index % 2 === 0) return new Text(words);
    const code = document.createElement('code');
    code.textContent = words;
    return code;
  });
}

function button(name: string, words: string, act: () => void): HTMLButtonElement {
  const made = document.createElement('button');
  made.type = 'button';
  made.className = name;
  made.textContent = words;
  made.addEventListener('click', act);
  return made;
}

function countOf(all: readonly Diagnostic[]): string {
  const counted = ([word, severity]: [string, number]) => {
    const count = all.filter((one) => (one.severity ?? 1) === severity).length;
    return count === 0 ? [] : [`${count} ${word}${count === 1 ? '' : 's'}`];
  };
  const words = ([['error', 1], ['warning', 2], ['note', 3], ['hint', 4]] as [string, number][]).flatMap(counted);
  return words.length === 0 ? 'Nothing found' : words.join(', ');
}
