/** Decodes the files of a sheet one after the other, and knows what was measured before. */
import type { Decoded } from '../../core/decoded.ts';
import type { Footage } from '../../core/footage.ts';
import type { TakeSheet } from '../../core/takes.ts';
import type { Located } from '../footage-folder.ts';
import { decode } from './decode.ts';
import { type Ffmpeg, ffmpeg } from './ffmpeg.ts';
import { decodedClips, Kept, type Stamped } from './kept.ts';

/** What is known of a file by its path below its folder, and where it lies. */
interface FilesKnown extends Pick<Footage, 'clip' | 'master'> {
  located(of: 'clip' | 'master', path: string): Located;
}

/**
 * The clips, sounds and masters that a sheet names and whose containers were read, each once: these and no others are decoded.
 * Those of takes that are judged bad are not.
 */
export function filesOfSheet({ takes, masters }: TakeSheet, footage: FilesKnown): Stamped[] {
  const clips = takes
    .filter(({ judged }) => judged?.value !== 'bad')
    .flatMap(({ clips: [first], sound }) => [first, sound?.path].flatMap((one) => one?.value ?? []));
  const isRead = (of: 'clip' | 'master', path: string) => footage[of](path).kind === 'facts';
  const found = [
    ...clips.filter((path) => isRead('clip', path)).map((path) => footage.located('clip', path)),
    ...masters
      .filter(({ path }) => isRead('master', path.value))
      .map(({ path }) => footage.located('master', path.value)),
  ].flatMap((at) => ('problem' in at ? [] : [at]));
  return [...new Map(found.map((at) => [at.file, at])).values()];
}

export interface DecodeProgress {
  readonly file: string;
  readonly done: number;
  readonly all: number;
  /** Of this file, 0 to 1. */
  readonly share: number;
}

export interface DecodeOptions {
  readonly signal?: AbortSignal;
  readonly progress?: (at: DecodeProgress) => void;
}

export class Decoder {
  readonly #known = new Map<string, Decoded | undefined>();

  /** @param program undefined where there is none: then only what was kept is known */
  constructor(
    readonly program: Ffmpeg | undefined,
    private readonly kept: Kept<Decoded> = new Kept(decodedClips),
  ) {}

  /** What was measured of a file as it is now, now or at another time; undefined where nobody did. */
  known(at: Stamped): Decoded | undefined {
    const key = keyOf(at);
    if (!this.#known.has(key)) this.#known.set(key, this.kept.read(at));
    return this.#known.get(key);
  }

  /** Measures those that are not known. Resolves to false when it was cancelled: what is done until then is kept. */
  async decodeAll(files: readonly Stamped[], { signal, progress }: DecodeOptions = {}): Promise<boolean> {
    const { program } = this;
    const unknown = files.filter((at) => this.known(at) === undefined);
    if (!program) return true;
    for (const [done, at] of unknown.entries()) {
      const tell = (share: number) => progress?.({ file: at.file, done, all: unknown.length, share });
      tell(0);
      const decoded = await decode(program, at.file, { signal, progress: tell });
      if (!decoded) return false;
      this.#known.set(keyOf(at), decoded);
      // What failed may go another time: a program that was updated, a drive that answers.
      if (decoded.failed === undefined) this.kept.write(at, decoded);
    }
    return true;
  }
}

/** With the program that is on the path, looked for once. */
export async function decoderOnPath(): Promise<Decoder> {
  return new Decoder(await ffmpeg());
}

function keyOf({ file, bytes, changedMs }: Stamped): string {
  return `${file}\n${bytes}\n${changedMs}`;
}
