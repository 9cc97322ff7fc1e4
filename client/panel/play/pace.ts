/** How many frames are shown in a second, and how many drawings of them are new. */
export class Pace {
  #beganMs = performance.now();
  #frames = 0;
  #drawings = 0;
  #last = -1;
  #lastDrawn: readonly unknown[] = [];
  #read: { readonly frames: number; readonly drawings: number } | undefined;

  begin(): void {
    this.#beganMs = performance.now();
    this.#frames = this.#drawings = 0;
  }

  shown(frame: number, drawn: readonly unknown[]): void {
    if (frame !== this.#last) this.#frames++;
    if (drawn.some((one, index) => one !== this.#lastDrawn[index])) this.#drawings++;
    [this.#last, this.#lastDrawn] = [frame, drawn];
    const seconds = (performance.now() - this.#beganMs) / 1000;
    if (seconds < 1) return;
    this.#read = { frames: Math.round(this.#frames / seconds), drawings: Math.round(this.#drawings / seconds) };
    this.begin();
  }

  /** Of the last whole second; undefined before. */
  read() {
    return this.#read;
  }
}
