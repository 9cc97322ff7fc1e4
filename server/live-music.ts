/** The music of the specs in an editor, listened to when a spec first names it: that takes a second or two and is kept. */
import type { MusicHeard } from './core/decoded.ts';
import { Listener } from './footage/decode/listener.ts';
import { RepoMusic } from './footage/repo-music.ts';

export class LiveMusic {
  readonly #listener = new Listener();
  readonly #music = new RepoMusic(this.#listener);
  /** In a folder that is not trusted nothing is opened. */
  #isTrusted = true;
  readonly #asked = new Set<string>();

  /** @param onNews is told when a spec may have other findings */
  constructor(private readonly onNews: () => void) {}

  trust(isTrusted: boolean): void {
    const isNews = isTrusted && !this.#isTrusted;
    this.#isTrusted = isTrusted;
    if (isNews) this.onNews();
  }

  of(root: string, path: string): MusicHeard | undefined {
    if (!this.#isTrusted) return undefined;
    const known = this.#music.known(root, path);
    if (!known && this.#music.isNew(root, path)) void this.#listen(root, path);
    return known;
  }

  end(): void {
    this.#listener.end();
  }

  async #listen(root: string, path: string): Promise<void> {
    const key = `${root}\n${path}`;
    if (this.#asked.has(key)) return;
    this.#asked.add(key);
    await this.#music.listen(root, path);
    this.#asked.delete(key);
    if (this.#music.known(root, path)) this.onNews();
  }
}
