/**
 * Asks for the newest state of something that changes often. A burst of changes is one question, asked within one frame
 * of a screen; while an answer is awaited, any number of changes are one more question; while nobody looks, none is.
 */
const frameMs = 16;

export class Latest {
  #timer: ReturnType<typeof setTimeout> | undefined;
  #asking = false;
  #again = false;
  #ended = false;

  constructor(
    private readonly isSeen: () => boolean,
    /** Never fails. */
    private readonly ask: () => Promise<void>,
  ) {}

  changed(): void {
    if (this.#ended || this.#timer !== undefined || !this.isSeen()) return;
    if (this.#asking) {
      this.#again = true;
      return;
    }
    this.#timer = setTimeout(() => void this.#run(), frameMs);
  }

  end(): void {
    this.#ended = true;
    clearTimeout(this.#timer);
  }

  async #run(): Promise<void> {
    this.#timer = undefined;
    this.#asking = true;
    try {
      await this.ask();
    } finally {
      this.#asking = false;
      const again = this.#again;
      this.#again = false;
      if (again) this.changed();
    }
  }
}
