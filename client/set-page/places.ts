/** The day, each set-up and the take sheet: one of them is in front. */
import { byId } from './elements.ts';

export class Places {
  readonly #all = [...document.querySelectorAll<HTMLElement>('.place')];
  readonly #onChange: () => void;
  #at = 0;

  constructor(onChange: () => void) {
    this.#onChange = onChange;
    byId('back').addEventListener('click', () => this.#go(this.#at - 1));
    byId('on').addEventListener('click', () => this.#go(this.#at + 1));
    for (const button of document.querySelectorAll<HTMLElement>('[data-to]')) {
      const to = button.dataset['to'];
      button.addEventListener('click', () => this.#go(to === 'last' ? this.#all.length - 1 : Number(to)));
    }
    // The address keeps the place where the page is closed and opened again.
    const from = Number(/^#(\d{1,4})$/.exec(location.hash)?.[1] ?? 0);
    this.#show(from < this.#all.length ? from : 0);
  }

  /** 0 is the day, then come the set-ups. */
  get at(): number {
    return this.#at;
  }

  #go(to: number): void {
    this.#show(Math.min(this.#all.length - 1, Math.max(0, to)));
    history.replaceState(null, '', `#${this.#at}`);
    scrollTo(0, 0);
    this.#all[this.#at]!.querySelector<HTMLElement>('h1')?.focus({ preventScroll: true });
    this.#onChange();
  }

  #show(at: number): void {
    this.#at = at;
    this.#all.forEach((place, index) => (place.hidden = index !== at));
    byId<HTMLButtonElement>('back').disabled = at === 0;
    byId<HTMLButtonElement>('on').disabled = at === this.#all.length - 1;
  }
}
