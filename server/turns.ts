/** Turns of the event loop, in which waiting messages are handled. */

export interface Turn {
  cancel(): void;
}

/** Calls back in the next turn. */
export function inNextTurn(then: () => void): Turn {
  if (typeof setImmediate === 'function') {
    const turn = setImmediate(then);
    return { cancel: () => clearImmediate(turn) };
  }
  // In a browser, where the library of the protocol waits in the same way.
  return afterMs(0, then);
}

/** Calls back in so many milliseconds. */
export function afterMs(ms: number, then: () => void): Turn {
  const timer = setTimeout(then, ms);
  return { cancel: () => clearTimeout(timer) };
}

export function nextTurn(): Promise<void> {
  return new Promise((next) => void inNextTurn(next));
}
