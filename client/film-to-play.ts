/** The film that the panel plays: its reel, its scenes and its sound, from the server and the disk to the page. */
import * as vscode from 'vscode';
import type { BaseLanguageClient as LanguageClient } from 'vscode-languageclient';
import type { FromPanel, ToPanel } from './panel/messages.ts';

type Reel = NonNullable<Extract<ToPanel, { kind: 'reel' }>['reel']>;
type Scene = Extract<FromPanel, { kind: 'scene' }>['scene'];
type Answer = Extract<ToPanel, { kind: 'scene' }>['answer'];

/** Of which plan, and which of its deliverables. */
interface Which {
  readonly uri: string;
  readonly deliverable?: string | undefined;
}

export class FilmToPlay {
  #which: Which | undefined;
  #files: ReadonlySet<string> = new Set();
  /** What the page was sent last. */
  #sent = '';

  constructor(
    private readonly client: LanguageClient,
    private readonly post: (message: ToPanel) => void,
  ) {}

  /** The page is a new one, and knows nothing. */
  begin(): void {
    this.#sent = '';
  }

  /** @param stamp changes whenever the film may have */
  async show(which: Which, stamp: string): Promise<void> {
    const wanted = JSON.stringify([which, stamp]);
    if (wanted === this.#sent) return;
    this.#sent = wanted;
    this.#which = which;
    const answer = await this.#ask<{ reel?: Reel; why?: string }>('shootSpec/reel', which);
    if (this.#sent !== wanted) return;
    this.#files = new Set(answer?.reel?.sounds.map(({ file }) => file));
    this.post({ kind: 'reel', reel: answer?.reel, why: answer?.why });
  }

  async scene({ id, ...moment }: Scene): Promise<void> {
    if (!this.#which) return;
    const answer = await this.#ask<Omit<Answer, 'id'>>('shootSpec/scene', { ...this.#which, ...moment });
    this.post({ kind: 'scene', answer: { id, scene: answer?.scene, moves: answer?.moves } });
  }

  /** Only files that the server named are read: it has made sure that they lie in the repo. */
  async sound(file: string): Promise<void> {
    const bytes = this.#files.has(file) ? await readOf(file) : undefined;
    this.post({ kind: 'sound', sound: { file, bytes } });
  }

  async #ask<T>(request: string, { uri, ...rest }: Which): Promise<T | undefined> {
    try {
      const params = { textDocument: { uri }, ...rest };
      return (await this.client.sendRequest<T | null>(request, params)) ?? undefined;
    } catch (error) {
      this.client.warn(`${request} was not answered.`, error, false);
      return undefined;
    }
  }
}

async function readOf(file: string): Promise<ArrayBuffer | undefined> {
  try {
    const bytes = await vscode.workspace.fs.readFile(vscode.Uri.file(file));
    return bytes.slice().buffer;
  } catch {
    return undefined;
  }
}
