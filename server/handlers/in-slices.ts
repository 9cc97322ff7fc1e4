/** Long work in short pieces, so that what is typed meanwhile is heard. */
import type { CancellationToken } from 'vscode-languageserver';
import { nextTurn } from '../turns.ts';

/** Runs piece by piece, letting waiting messages in between; undefined where it was cancelled. */
export async function inSlices<T>(
  work: Generator<void, T>,
  token: Pick<CancellationToken, 'isCancellationRequested'>,
): Promise<{ readonly value: T } | undefined> {
  for (;;) {
    const step = work.next();
    if (step.done) return { value: step.value };
    await nextTurn();
    if (token.isCancellationRequested) return undefined;
  }
}
