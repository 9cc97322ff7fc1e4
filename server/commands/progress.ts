/** How far a long run is, on a terminal only, gone when it is over. */
import { basename } from 'node:path';
import type { DecodeProgress } from '../footage/decode/decoder.ts';
import { oneLine } from '../formats/escape.ts';

/** Runs that are shorter say nothing. */
const patienceMs = 700;
const betweenMs = 100;

export interface Terminal {
  readonly isTTY?: boolean;
  write(text: string): unknown;
}

/** For a run that says nothing of itself. */
export const nowhere: Terminal = { write: () => undefined };

export interface Progress {
  tell(done: number): void;
  end(): void;
}

/** Of files that are checked: how many are done, and which one is decoded meanwhile. */
export interface CheckProgress extends Progress {
  decoding(at: DecodeProgress): void;
}

export function progressOn(
  terminal: Terminal,
  total: number,
  now: () => number = () => performance.now(),
): CheckProgress {
  const { say, end } = lineOn(terminal, now);
  return {
    tell: (done) => {
      if (done < total) say(() => `${done} of ${total} files`);
    },
    decoding: ({ file, done, all, share }) =>
      say(() => `decoding ${oneLine(basename(file))}, ${done + 1} of ${all}, ${Math.floor(share * 100)} %`),
    end,
  };
}

/** How many frames of a film are made, and how long the rest takes. */
export function timeLeftOn(terminal: Terminal, frames: number, now: () => number = () => performance.now()): Progress {
  const start = now();
  const { say, end } = lineOn(terminal, now);
  const leftS = (done: number) => Math.ceil(((now() - start) / 1000 / Math.max(1, done)) * (frames - done));
  return { tell: (done) => say(() => `${done} of ${frames} frames, ${leftS(done)} s left`), end };
}

/** One line that is written over, now and then. */
function lineOn(terminal: Terminal, now: () => number): { say(words: () => string): void; end(): void } {
  let next = now() + patienceMs;
  let told = false;
  return {
    say: (words) => {
      if (!terminal.isTTY || now() < next) return;
      next = now() + betweenMs;
      told = true;
      terminal.write(`\r${words()}\u001b[K`);
    },
    end: () => {
      if (told) terminal.write('\r\u001b[K');
    },
  };
}
