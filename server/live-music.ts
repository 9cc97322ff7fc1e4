/** The music of the specs in an editor: what was heard when somebody asked to listen, now or another day. */
import type { MusicHeard } from './core/decoded.ts';
import { ffmpeg } from './footage/decode/ffmpeg.ts';
import { Listener } from './footage/decode/listener.ts';
import { RepoMusic } from './footage/repo-music.ts';
import type { Music } from './surroundings.ts';

export class LiveMusic implements Music {
  readonly #listener = new Listener();
  readonly #music = new RepoMusic(this.#listener);
  /** In a folder that is not trusted nothing is opened. */
  #isTrusted = true;

  /** @param onNews is told when a spec may have other findings */
  constructor(private readonly onNews: () => void) {}

  trust(isTrusted: boolean): void {
    const isNews = isTrusted && !this.#isTrusted;
    this.#isTrusted = isTrusted;
    if (isNews) this.onNews();
  }

  of(root: string, path: string): MusicHeard | undefined {
    return this.#isTrusted ? this.#music.known(root, path) : undefined;
  }

  /** `missing` where nothing on the path can decode, `nothing` where there is no such file or no sound in it. */
  async listen(root: string, path: string): Promise<'missing' | 'nothing' | 'done'> {
    if (!this.#isTrusted || !this.#music.isThere(root, path)) return 'nothing';
    if (!this.of(root, path) && !(await ffmpeg())) return 'missing';
    await this.#music.listen(root, path);
    if (!this.of(root, path)) return 'nothing';
    this.onNews();
    return 'done';
  }

  end(): void {
    this.#listener.end();
  }
}
