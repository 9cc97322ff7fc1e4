/** Bytes that come in pieces of any length, given on in pieces of one length. */
export class Chunked {
  readonly #length: number;
  readonly #take: (piece: Buffer) => void;
  #parts: Buffer[] = [];
  #held = 0;

  constructor(length: number, take: (piece: Buffer) => void) {
    this.#length = length;
    this.#take = take;
  }

  push(chunk: Buffer): void {
    this.#parts.push(chunk);
    this.#held += chunk.length;
    if (this.#held < this.#length) return;
    let bytes = this.#parts.length === 1 ? chunk : Buffer.concat(this.#parts);
    while (bytes.length >= this.#length) {
      this.#take(bytes.subarray(0, this.#length));
      bytes = bytes.subarray(this.#length);
    }
    this.#parts = bytes.length > 0 ? [bytes] : [];
    this.#held = bytes.length;
  }
}
