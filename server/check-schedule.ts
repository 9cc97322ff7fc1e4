/** When the findings of open files are sent. */
import { afterMs, inNextTurn, nextTurn, type Turn } from './turns.ts';

/** Ends when the messages that wait have been handled: the library takes one a turn of the event loop. */
export async function messagesHandled(): Promise<void> {
  await nextTurn();
  await nextTurn();
}

/** What is asked with a key, such as the values for it, is sent right behind it. */
const behindKeyMs = 5;

/**
 * When the findings of an open file are sent to a client that does not ask for them: once its messages are handled, so
 * that of a burst of keys only the last text is checked, and what was asked with a key is answered first.
 */
export class CheckSchedule {
  readonly #waiting = new Map<string, Turn>();

  /** @param send checks the newest text of a file and sends its findings */
  constructor(private readonly send: (address: string) => void) {}

  /** @param isLong its check takes so long that what was asked with a key should not come too late by a moment */
  add(address: string, isLong = false): void {
    this.cancel(address);
    // Messages are handled one a turn of the event loop: in the second turn from here, none has come since.
    const wait = (turns: number): void => {
      const next = () => (turns > 1 ? wait(turns - 1) : this.#run(address));
      this.#waiting.set(address, inNextTurn(next));
    };
    const untilHandled = () => wait(2);
    if (isLong) this.#waiting.set(address, afterMs(behindKeyMs, untilHandled));
    else untilHandled();
  }

  cancel(address: string): void {
    this.#waiting.get(address)?.cancel();
    this.#waiting.delete(address);
  }

  cancelAll(): void {
    for (const address of [...this.#waiting.keys()]) this.cancel(address);
  }

  #run(address: string): void {
    this.#waiting.delete(address);
    this.send(address);
  }
}
