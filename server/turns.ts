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
  const turn = setTimeout(then, 0);
  return { cancel: () => clearTimeout(turn) };
}

export function nextTurn(): Promise<void> {
  return new Promise((next) => void inNextTurn(next));
}
