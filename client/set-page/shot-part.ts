/** A shot on the page: its takes, what was measured, and its timer. */
import type { ShotOnSet } from '../../server/views/set-page/plan.ts';
import { fill, made, onSecondPress, part, say } from './elements.ts';
import { judgements, longestNote } from './entries.ts';
import { colourWords, lightWords } from './exposure.ts';
import { clipAfter, measuresOf, type TakeNoted, takesOf } from './noted.ts';
import type { Notebook } from './notebook.ts';
import { readingOf } from './reading.ts';
import { startTimer } from './timer.ts';

/** What is shown of the words of the format. */
const words = { best: 'Best', good: 'Good', spare: 'Maybe', bad: 'No' } as const;

export class ShotPart {
  readonly #shot: ShotOnSet;
  readonly #book: Notebook;
  /** The names of all shots of the same camera. */
  readonly #sharing: ReadonlySet<string>;
  readonly #list: HTMLOListElement;
  readonly #clip: HTMLInputElement;
  readonly #lux: HTMLInputElement;
  readonly #kelvin: HTMLInputElement;
  readonly #exposure: HTMLElement;
  readonly #count: HTMLElement;
  readonly #lines = new Map<string, TakeLine>();
  /** What the next clip is called, where somebody typed it. */
  #typedClip: string | undefined;

  constructor(element: HTMLElement, shot: ShotOnSet, sharing: ReadonlySet<string>, book: Notebook) {
    this.#shot = shot;
    this.#book = book;
    this.#sharing = sharing;
    this.#list = part(element, 'takes');
    this.#clip = part(element, 'clip');
    this.#lux = part(element, 'lux');
    this.#kelvin = part(element, 'kelvin');
    this.#exposure = part(element, 'exposure');
    this.#count = part(element, 'count');
    this.#clip.addEventListener('input', () => (this.#typedClip = this.#clip.value));
    part(element, 'add').addEventListener('click', () => this.#add());
    for (const field of [this.#lux, this.#kelvin])
      field.addEventListener('input', () => book.measure(shot.name, this.#lux.value, this.#kelvin.value));
    startTimer(element, shot);
  }

  /** As the notebook stands. */
  show(): void {
    const { entries } = this.#book;
    const takes = takesOf(entries).filter((one) => !one.gone);
    const own = takes.filter((one) => one.shot === this.#shot.name);
    say(this.#count, `${own.length} of ${this.#shot.takes}`);
    for (const [id, line] of this.#lines)
      if (!own.some((take) => take.id === id)) {
        line.element.remove();
        this.#lines.delete(id);
      }
    own.forEach((take, index) => this.#lineOf(take).show(take, index + 1));
    this.#list.append(...this.#outOfOrder(own));
    const last = takes.filter((one) => this.#sharing.has(one.shot) && one.clip.trim() !== '').at(-1);
    fill(this.#clip, this.#typedClip ?? (last ? clipAfter(last.clip) : ''));
    this.#showMeasured();
  }

  #add(): void {
    const clip = this.#clip.value.trim();
    this.#typedClip = undefined;
    this.#book.addTake(this.#shot.name, clip);
  }

  #lineOf(take: TakeNoted): TakeLine {
    const line = this.#lines.get(take.id) ?? new TakeLine(take, this.#book);
    this.#lines.set(take.id, line);
    return line;
  }

  /** Nothing where all stand as they should, so that nobody who types is disturbed. */
  #outOfOrder(own: readonly TakeNoted[]): HTMLElement[] {
    const wanted = own.map((take) => this.#lines.get(take.id)!.element);
    return wanted.every((line, index) => this.#list.children[index] === line) ? [] : wanted;
  }

  #showMeasured(): void {
    const all = measuresOf(this.#book.entries, this.#shot.name);
    const last = all.at(-1);
    fill(this.#lux, last?.lux ?? '');
    fill(this.#kelvin, last?.kelvin ?? '');
    const [light, colour] = [readingOf(last?.lux ?? '', 'lux'), readingOf(last?.kelvin ?? '', 'kelvin')];
    const said = [
      light.fault ?? (light.value === undefined ? '' : lightWords(this.#shot, light.value)),
      colour.fault ?? (colour.value === undefined ? '' : colourWords(this.#shot, colour.value)),
    ];
    say(this.#exposure, said.filter(Boolean).join(' '));
  }
}

/** One take: its clip, how good it is, what is noted. */
class TakeLine {
  readonly element: HTMLLIElement;
  readonly #number = made('b', { className: 'number' });
  readonly #clip: HTMLInputElement;
  readonly #notes: HTMLTextAreaElement;
  readonly #judged: HTMLInputElement[];
  readonly #judging: HTMLFieldSetElement;
  readonly #legend = made('legend');
  readonly #gone = made('button', { type: 'button', textContent: 'Take it out' });
  #take: TakeNoted;

  constructor(take: TakeNoted, book: Notebook) {
    this.#take = take;
    this.#clip = made('input', { autocomplete: 'off', spellcheck: false, maxLength: 200 });
    this.#notes = made('textarea', { rows: 1, maxLength: longestNote });
    this.#judged = judgements.map((value) => made('input', { type: 'radio', name: `judged ${take.id}`, value }));
    this.#judging = made('fieldset', { className: 'judged' }, [
      this.#legend,
      ...this.#judged.map((radio, index) => made('label', {}, [radio, made('span', {}, [words[judgements[index]!]])])),
    ]);
    this.element = made('li', {}, [
      this.#number,
      made('label', {}, ['Clip ', this.#clip]),
      this.#judging,
      made('label', { className: 'notes' }, ['Notes ', this.#notes]),
      this.#gone,
    ]);
    this.#clip.addEventListener('input', () => book.sayOfTake(this.#take, { clip: this.#clip.value }));
    this.#notes.addEventListener('input', () => book.sayOfTake(this.#take, { notes: this.#notes.value }));
    for (const radio of this.#judged)
      radio.addEventListener('change', () =>
        book.sayOfTake(this.#take, { judged: judgements.find((one) => one === radio.value) }),
      );
    onSecondPress(this.#gone, 'Press again to take it out', () => book.sayOfTake(this.#take, { gone: true }));
  }

  show(take: TakeNoted, number: number): void {
    this.#take = take;
    say(this.#number, `Take ${number}`);
    say(this.#legend, `Take ${number} is`);
    fill(this.#clip, take.clip);
    fill(this.#notes, take.notes);
    for (const radio of this.#judged) radio.checked = radio.value === take.judged;
  }
}
