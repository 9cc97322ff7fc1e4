/**
 * Wires decoding to the protocol, by requests of our own: what can decode here, sound and picture of a sheet's files, and the music
 * of a spec.
 */
import { basename } from 'node:path';
import type { CancellationToken } from 'vscode-languageserver';
import { filePath } from '../address.ts';
import type { DecodeProgress } from '../footage/decode/decoder.ts';
import { ffmpeg, howToGetFfmpeg } from '../footage/decode/ffmpeg.ts';
import { filmMusic, momentText, tempoText } from '../core/derived/music.ts';
import type { LiveFootage } from '../live-footage.ts';
import type { LiveMusic } from '../live-music.ts';
import type { Session } from './session.ts';

interface AskedSheet {
  readonly textDocument: { readonly uri: string };
}

interface Answer {
  readonly outcome: 'missing' | 'nothing' | 'done' | 'cancelled';
  /** Where it is missing. */
  readonly howToGet?: string;
}

interface Listened {
  readonly outcome: 'missing' | 'no-file' | 'nothing' | 'no-beat' | 'done';
  readonly howToGet?: string;
  /** What is heard, in words. */
  readonly heard?: string;
}

export function registerDecode(session: Session, footage: LiveFootage, music: LiveMusic): void {
  const { connection, ready, at } = session;
  connection.onRequest(
    'shootSpec/listen',
    ready(async ({ textDocument: { uri } }: AskedSheet): Promise<Listened> => {
      const asked = at(uri)?.current;
      const film = asked?.result.film;
      const track = film?.music?.track && film.rights.get(film.music.track.value)?.media;
      if (!asked || !track) return { outcome: 'no-file' };
      const outcome = await music.listen(asked.place.root, track.value);
      if (outcome === 'missing') return { outcome, howToGet: howToGetFfmpeg };
      if (outcome === 'nothing') return { outcome };
      const now = at(uri)?.current.result.film;
      const beats = now && filmMusic(now)?.beats;
      return beats
        ? { outcome, heard: `${tempoText(beats)}, first beat at ${momentText(beats.firstS)}` }
        : { outcome: 'no-beat' };
    }),
  );
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
