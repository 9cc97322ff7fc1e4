/** The pictures beside the text: the page of the editor's panel in a frame, asked and answered as the editor does. */
import { Latest } from '../../../client/ask-latest.ts';
import { type Kept, type Picture, readMessage, type Room, type TextPlace, type ToPanel } from '../../../client/panel/messages.ts';
import type { Position } from 'vscode-languageserver-types';

export interface Asked {
  readonly uri: string;
  readonly position: Position;
}

export interface Needs {
  ask<T>(method: string, params: object): Promise<T>;
  /** The plan that is shown, and where the cursor is in it. */
  plan(): Asked;
  /** Findings come before pictures. */
  isChecked(): boolean;
  go(spot: TextPlace, isTaken: boolean): void;
  save(name: string, svg: string): void;
}

const nameOf = (uri: string) => uri.slice(uri.lastIndexOf('/') + 1);

export class Pictures {
  readonly #frame: HTMLIFrameElement;
  readonly #needs: Needs;
  readonly #latest: Latest;
  #isReady = false;
  #kept: Kept = { zoom: 1, isLit: true, view: 'frame' };
  #picture: Picture | undefined;
  #room: Room | undefined;
  #film = '';

  constructor(frame: HTMLIFrameElement, needs: Needs) {
    this.#frame = frame;
    this.#needs = needs;
    this.#latest = new Latest(
      () => this.#isReady && needs.isChecked() && frame.checkVisibility(),
      () => this.#ask(),
    );
    addEventListener('message', ({ source, data }) => source === frame.contentWindow && this.#told(data));
    matchMedia('(prefers-color-scheme: dark)').addEventListener('change', () => this.#wear());
    // It may have been ready before anybody listened.
    this.#post({ kind: 'hello' });
  }

  changed(): void {
    this.#latest.changed();
  }

  /** Another plan: a shot that was stayed at is one of the plan before. */
  turned(): void {
    this.#kept = { ...this.#kept, shot: undefined };
    this.#picture = undefined;
    this.#latest.changed();
  }

  #told(from: unknown): void {
    const message = readMessage(from);
    if (message?.kind === 'ready') {
      this.#isReady = true;
      this.#film = '';
      this.#wear();
    } else if (message?.kind === 'kept') this.#kept = { ...message.kept, uri: undefined };
    else if (message?.kind === 'room') this.#room = message.room;
    else if (message?.kind === 'go') return this.#needs.go(message.spot, true);
    else if (message?.kind === 'follow') return this.#needs.go(message.spot, false);
    else if (message?.kind === 'save') return void this.#save();
    this.#latest.changed();
  }

  /** The frame has the colours of the page. */
  #wear(): void {
    const style = getComputedStyle(document.documentElement);
    const colour = (name: string) => style.getPropertyValue(`--${name}`).trim();
    const colours = {
      'editor-background': colour('paper'),
      'editor-foreground': colour('ink'),
      descriptionForeground: colour('soft'),
      'textLink-foreground': colour('accent'),
      errorForeground: colour('error'),
      'font-family': colour('text'),
    };
    const isDark = matchMedia('(prefers-color-scheme: dark)').matches;
    this.#post({ kind: 'wear', colours, theme: isDark ? 'vscode-dark' : 'vscode-light' });
  }

  async #ask(): Promise<void> {
    const { uri, position } = this.#needs.plan();
    const { view, shot, deliverable, isLit } = this.#kept;
    const stay = shot ?? this.#picture?.shot;
    const asked = { textDocument: { uri }, view, shot: stay, deliverable, isLit, ...this.#room };
    const at = shot === undefined ? { position } : {};
    const picture = await this.#needs.ask<Picture | null>('shootSpec/picture', { ...asked, ...at }).catch(() => null);
    if (uri !== this.#needs.plan().uri) return;
    const file = nameOf(uri);
    if (!picture) return this.#send({ kind: 'empty', words: `Nothing of ${file} can be drawn yet: it needs a shot that can be read.` });
    this.#picture = picture;
    this.#send({ kind: 'show', picture, kept: { ...this.#kept, uri }, file });
    if (picture.view === 'timeline' && this.#film !== uri) await this.#sendFilm(uri);
  }

  async #sendFilm(uri: string): Promise<void> {
    this.#film = uri;
    const { why } = await this.#needs.ask<{ why?: string }>('shootSpec/reel', { textDocument: { uri } });
    this.#send({ kind: 'reel', why });
  }

  async #save(): Promise<void> {
    const { uri } = this.#needs.plan();
    const { view, deliverable, isLit } = this.#kept;
    const shot = this.#kept.shot ?? this.#picture?.shot;
    const asked = { textDocument: { uri }, view, shot, deliverable, isLit };
    const answer = await this.#needs.ask<{ svg: string } | null>('shootSpec/pictureFile', asked);
    if (answer) this.#needs.save([nameOf(uri).replace('.shoot.yaml', ''), shot, view].filter(Boolean).join('-'), answer.svg);
  }

  #send(message: ToPanel): void {
    this.#post(message);
  }

  #post(message: object): void {
    this.#frame.contentWindow?.postMessage(message, '*');
  }
}
