/** A stream in front of another that can keep what is written for a while, and pass it on in one piece. */
import { Writable } from 'node:stream';

export class Outlet extends Writable {
  #kept: Uint8Array[] | undefined;

  constructor(private readonly to: Writable) {
    super();
    to.on('error', (error) => this.emit('error', error));
  }

  /** Whatever is written until this is done goes out in one piece: a busy machine can't put time in between. */
  async inOnePiece<T>(write: () => T): Promise<T> {
    this.#kept = [];
    const result = write();
    // Writers of messages take some turns for each.
    for (let turn = 0; turn < 1000; turn++) await new Promise((next) => setImmediate(next));
    const kept = this.#kept;
    this.#kept = undefined;
    this.to.write(Buffer.concat(kept));
    return result;
  }

  override _write(chunk: Uint8Array, _encoding: string, done: (error?: Error | null) => void): void {
    if (!this.#kept) return void this.to.write(chunk, done);
    this.#kept.push(chunk);
    done();
  }
}
