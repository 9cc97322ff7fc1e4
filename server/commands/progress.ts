/** How far a long run is, on a terminal only, gone when it is over. */

/** Runs that are shorter say nothing. */
const patienceMs = 700;
const betweenMs = 100;

export interface Terminal {
  readonly isTTY?: boolean;
  write(text: string): unknown;
}

export interface Progress {
  tell(done: number): void;
  end(): void;
}

export function progressOn(terminal: Terminal, total: number, now: () => number = () => performance.now()): Progress {
  if (!terminal.isTTY) return { tell: () => {}, end: () => {} };
  let next = now() + patienceMs;
  let told = false;
  return {
    tell: (done) => {
      if (now() < next || done >= total) return;
      next = now() + betweenMs;
      told = true;
      terminal.write(`\r${done} of ${total} files`);
    },
    end: () => {
      if (told) terminal.write('\r\u001b[K');
    },
  };
}
