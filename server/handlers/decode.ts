/** Wires decoding to the protocol, by requests of our own: what can decode here, and sound and picture of a sheet's files. */
import { basename } from 'node:path';
import type { CancellationToken } from 'vscode-languageserver';
import { filePath } from '../address.ts';
import type { DecodeProgress } from '../footage/decode/decoder.ts';
import { ffmpeg, howToGetFfmpeg } from '../footage/decode/ffmpeg.ts';
import type { LiveFootage } from '../live-footage.ts';
import type { Session } from './session.ts';

interface AskedSheet {
  readonly textDocument: { readonly uri: string };
}

interface Answer {
  readonly outcome: 'missing' | 'nothing' | 'done' | 'cancelled';
  /** Where it is missing. */
  readonly howToGet?: string;
}

export function registerDecode({ connection, ready, at }: Session, footage: LiveFootage): void {
  connection.onRequest(
    'shootSpec/decoder',
    ready(async () => ({ version: (await ffmpeg())?.version })),
  );
  connection.onRequest(
    'shootSpec/decode',
    ready(async ({ textDocument: { uri } }: AskedSheet, token: CancellationToken): Promise<Answer> => {
      const path = filePath(uri);
      const sheet = at(uri)?.current.result.sheet?.sheet;
      if (path === undefined || !sheet) return { outcome: 'nothing' };
      const stop = new AbortController();
      token.onCancellationRequested(() => stop.abort());
      const work = await connection.window.createWorkDoneProgress();
      work.begin('Decoding', 0, undefined, true);
      work.token.onCancellationRequested(() => stop.abort());
      const progress = (now: DecodeProgress) =>
        work.report(percent(now), `${basename(now.file)}, ${now.done + 1} of ${now.all}`);
      try {
        const outcome = await footage.decode(path, sheet, { signal: stop.signal, progress });
        return outcome === 'missing' ? { outcome, howToGet: howToGetFfmpeg } : { outcome };
      } finally {
        work.done();
      }
    }),
  );
}

function percent({ done, all, share }: DecodeProgress): number {
  return Math.min(100, Math.round((100 * (done + share)) / all));
}
