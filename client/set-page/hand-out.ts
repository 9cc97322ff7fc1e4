/** Hands the take sheet out, and takes another one's in. */
import { byId, onSecondPress, say } from './elements.ts';
import { dateText } from './minutes.ts';
import type { Notebook } from './notebook.ts';
import { takesOf } from './noted.ts';
import { sheetRead, takeSheetOf } from './take-sheet.ts';

export class HandOut {
  readonly #book: Notebook;
  readonly #spec: string;
  readonly #sheet = byId<HTMLTextAreaElement>('sheet');

  constructor(book: Notebook, spec: string) {
    this.#book = book;
    this.#spec = spec;
    byId('copy').addEventListener('click', () => void this.#copy());
    byId('save').addEventListener('click', () => this.#save());
    byId('merge').addEventListener('click', () => this.#merge(byId<HTMLTextAreaElement>('other').value));
    const file = byId<HTMLInputElement>('other-file');
    file.addEventListener('change', () => void file.files?.[0]?.text().then((text) => this.#merge(text)));
    onSecondPress(byId('clear'), 'Press again: all takes, notes and ticks go', () => void book.clear());
    const share = byId<HTMLButtonElement>('share');
    share.hidden = !canShare(this.#file());
    share.addEventListener('click', () => void this.#share());
  }

  show(): void {
    this.#sheet.value = takeSheetOf(this.#book.entries, this.#spec);
    say(byId('sheet-note'), `Put it beside ${this.#spec} as ${this.#name}; shootspec check holds it against the plan.`);
  }

  /** By its first day, so that it takes the place of no sheet of another day. */
  get #name(): string {
    const days = takesOf(this.#book.entries).map((one) => one.day);
    const [first = dateText(new Date())] = days.sort();
    return `${this.#spec.replace(/\.shoot\.yaml$/, '')}-${first}.takes.yaml`;
  }

  #file(): File {
    return new File([this.#sheet.value], this.#name, { type: 'text/plain' });
  }

  async #copy(): Promise<void> {
    try {
      await navigator.clipboard.writeText(this.#sheet.value);
      this.#handed('Copied.');
    } catch {
      this.#sheet.select();
      this.#handed('This browser does not let the page copy: the text is chosen, copy it yourself.');
    }
  }

  #save(): void {
    const address = URL.createObjectURL(this.#file());
    Object.assign(document.createElement('a'), { href: address, download: this.#name }).click();
    setTimeout(() => URL.revokeObjectURL(address), 60_000);
    this.#handed(`${this.#name} is among what this browser has saved.`);
  }

  async #share(): Promise<void> {
    try {
      await navigator.share({ files: [this.#file()], title: this.#name });
    } catch {
      this.#handed('Nothing was shared.');
    }
  }

  #handed(words: string): void {
    say(byId('handed'), words);
  }

  #merge(text: string): void {
    const { entries, fault, unread, isChanged } = sheetRead(text, this.#spec);
    if (!entries) return say(byId('merged'), fault ?? '');
    const news = this.#book.merge(entries);
    const said = [
      `${news} of its ${entries.size} entries ${news === 1 ? 'was' : 'were'} new here.`,
      unread > 0 && `${unread} of its lines could not be read: keep that sheet.`,
      isChanged && 'Somebody changed its takes by hand; such changes are not read in: keep that sheet.',
    ];
    say(byId('merged'), said.filter(Boolean).join(' '));
  }
}

/** Some browsers only share texts and addresses, some nothing. */
function canShare(file: File): boolean {
  return typeof navigator.canShare === 'function' && navigator.canShare({ files: [file] });
}
