/** The footage of the sheets in an editor: looked at again twice a second, so that a clip that is copied in is seen. */
import { isAbsolute, join } from 'node:path';
import type { Footage } from './core/footage.ts';
import type { TakeSheet } from './core/takes.ts';
import { type Decoder, type DecodeOptions, decoderOnPath, filesOfSheet } from './footage/decode/decoder.ts';
import { type FootageFolders, Footages } from './footage/footages.ts';
import type { Clips } from './surroundings.ts';

const lookMs = 500;
/** Looking may take this share of the time: a folder on a slow drive is looked at less often. */
const mostShare = 0.05;
/** What comes in one after the other is told together. */
const tellMs = 100;

export class LiveFootage implements Clips {
  #footages: Footages | undefined;
  #folders: FootageFolders = {};
  /** In a folder that is not trusted nothing is opened. */
  #isTrusted = true;
  /** What knows sound and picture; undefined before it is looked for, and where nobody asked and nothing can decode. */
  #decoder: Decoder | undefined;
  #finding: Promise<void> | undefined;
  #looking: NodeJS.Timeout | undefined;
  #telling: NodeJS.Timeout | undefined;

  /** @param onNews is told when a sheet may have other findings */
  constructor(private readonly onNews: () => void) {}

  /** The folders of this machine; what is no full path is not looked at. */
  setFolders({ footage, masters }: FootageFolders): void {
    const folders = { footage: fullPath(footage), masters: fullPath(masters) };
    if (folders.footage === this.#folders.footage && folders.masters === this.#folders.masters) return;
    this.#folders = folders;
    this.#forget();
  }

  trust(isTrusted: boolean): void {
    if (isTrusted === this.#isTrusted) return;
    this.#isTrusted = isTrusted;
    this.#forget();
    this.#tellSoon();
  }

  of(root: string, sheet: string): Footage | undefined {
    if (!this.#isTrusted) return undefined;
    this.#finding ??= this.#findDecoder();
    this.#footages ??= this.#newFootages();
    this.#looking ??= this.#lookIn(lookMs);
    return this.#footages.of(join(root, sheet));
  }

  /**
   * Decodes what a sheet names and nobody has decoded yet. `missing` where nothing on the path can, which the sheet says then;
   * `nothing` where no clips are looked at.
   *
   * @param sheet its full path
   */
  async decode(
    sheet: string,
    resolved: TakeSheet,
    options: DecodeOptions,
  ): Promise<'missing' | 'nothing' | 'done' | 'cancelled'> {
    if (!this.#isTrusted) return 'nothing';
    if (!this.#decoder) this.#use(await decoderOnPath());
    this.#footages ??= this.#newFootages();
    const store = this.#footages.of(sheet);
    if (!store) return 'nothing';
    // What is asked for here is read first.
    filesOfSheet(resolved, store);
    await store.settled();
    const isWhole = await this.#decoder!.decodeAll(filesOfSheet(resolved, store), options);
    this.#tellSoon();
    if (!this.#decoder!.program) return 'missing';
    return isWhole ? 'done' : 'cancelled';
  }

  /** What was measured another day is known where it could be measured today; nobody is told of what he did not ask for. */
  async #findDecoder(): Promise<void> {
    const decoder = await decoderOnPath();
    if (!decoder.program || this.#decoder) return;
    this.#use(decoder);
    this.#tellSoon();
  }

  #use(decoder: Decoder): void {
    this.#decoder = decoder;
    this.#forget();
  }

  #newFootages(): Footages {
    const more = { onNews: () => this.#tellSoon(), ...(this.#decoder && { decoder: this.#decoder }) };
    return new Footages(join(import.meta.dirname, 'clips.cjs'), this.#folders, more);
  }

  end(): void {
    this.#forget();
    clearTimeout(this.#telling);
  }

  #forget(): void {
    this.#footages?.end();
    this.#footages = undefined;
    clearTimeout(this.#looking);
    this.#looking = undefined;
  }

  #lookIn(ms: number): NodeJS.Timeout {
    const timer = setTimeout(() => {
      const start = performance.now();
      if (this.#footages?.look()) this.#tellSoon();
      this.#looking = this.#lookIn(Math.max(lookMs, (performance.now() - start) / mostShare));
    }, ms);
    // Nobody stays for it.
    return timer.unref();
  }

  #tellSoon(): void {
    this.#telling ??= setTimeout(() => {
      this.#telling = undefined;
      this.onNews();
    }, tellMs);
  }
}

function fullPath(path: string | undefined): string | undefined {
  return path !== undefined && isAbsolute(path) ? path : undefined;
}
