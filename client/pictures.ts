/** The panel of pictures beside the text: asks the server for them, and takes the person from them to the text. */
import * as vscode from 'vscode';
import { State } from 'vscode-languageclient';
import type { BaseLanguageClient as LanguageClient } from 'vscode-languageclient';
import { type Answers, askFor, nameOf, saveClientPlan, savePicture, saveSetPage, saveSheet } from './files.ts';
import { FilmToPlay } from './film-to-play.ts';
import { specEditor, specLanguage } from './spec-editor.ts';
import { Latest } from './ask-latest.ts';
import {
  type Kept,
  type Picture,
  readKept,
  readMessage,
  type Room,
  type TextPlace,
  type ToPanel,
} from './panel/messages.ts';
import { pageHtml } from './panel/page.ts';
import { panelTextOf } from './panel/panel-text.ts';

const viewType = 'shootSpec.pictures';
const memory = 'pictures';
const roomMemory = 'roomOfPictures';

export class Pictures implements vscode.Disposable, vscode.WebviewPanelSerializer {
  readonly #context: vscode.ExtensionContext;
  readonly #client: LanguageClient;
  readonly #listeners: vscode.Disposable[];
  readonly #makesPdf: boolean;
  #shown: Panel | undefined;

  constructor(context: vscode.ExtensionContext, client: LanguageClient, makesPdf: boolean) {
    this.#context = context;
    this.#client = client;
    this.#makesPdf = makesPdf;
    this.#listeners = [
      vscode.window.registerWebviewPanelSerializer(viewType, this),
      vscode.window.onDidChangeActiveTextEditor((editor) => this.#shown?.follow(editor)),
      vscode.window.onDidChangeTextEditorSelection(({ textEditor }) => this.#shown?.changed(textEditor.document.uri)),
      vscode.workspace.onDidChangeTextDocument(({ document }) => this.#shown?.changed(document.uri)),
      vscode.languages.onDidChangeDiagnostics(({ uris }) => uris.forEach((uri) => this.#shown?.changed(uri))),
      client.onDidChangeState(({ newState }) => newState === State.Running && this.#shown?.changed()),
    ];
  }

  /** Opens the panel beside the plan in front, or brings it to light. */
  show(): void {
    const editor = specEditor();
    if (!editor) {
      void vscode.window.showInformationMessage(
        vscode.l10n.t('Open a shoot spec first: the pictures are drawn from it.'),
      );
      return;
    }
    if (this.#shown) {
      this.#shown.panel.reveal(undefined, true);
      this.#shown.follow(editor);
      return;
    }
    const beside = { viewColumn: vscode.ViewColumn.Beside, preserveFocus: true };
    const panel = vscode.window.createWebviewPanel(viewType, vscode.l10n.t('Pictures'), beside);
    const remembered = readKept(this.#context.workspaceState.get(memory));
    this.#open(panel, { ...remembered, shot: undefined, uri: editor.document.uri.toString() });
  }

  /**
   * After a reload the panel shows what it showed before. Our own memory is asked first: a browser that is reloaded may
   * lose what the page kept last.
   */
  deserializeWebviewPanel(panel: vscode.WebviewPanel, state: unknown): Promise<void> {
    const kept = readKept(this.#context.workspaceState.get(memory) ?? state);
    this.#open(panel, { ...kept, uri: kept.uri ?? specEditor()?.document.uri.toString() });
    return Promise.resolve();
  }

  /** Writes a picture of the plan in front to a file that the person chooses. */
  async save(answers?: Answers): Promise<void> {
    const chosen = this.#shown?.kept ?? { uri: specEditor()?.document.uri.toString(), zoom: 1 };
    if (chosen.uri !== undefined) await savePicture(this.#client, chosen, answers);
  }

  /** Writes the sheet for the set of the plan in front. */
  async saveSheet(answers?: Answers): Promise<void> {
    const uri = specEditor()?.document.uri.toString() ?? this.#shown?.kept.uri;
    if (uri !== undefined) await saveSheet(this.#client, uri, { ...answers, makesPdf: this.#makesPdf });
  }

  /** Writes the page for the set of the plan in front. */
  async saveSetPage(answers?: Answers): Promise<void> {
    const uri = specEditor()?.document.uri.toString() ?? this.#shown?.kept.uri;
    if (uri !== undefined) await saveSetPage(this.#client, uri, answers);
  }

  /** Writes the plan in front as the client reads it. */
  async saveClientPlan(answers?: Answers): Promise<void> {
    const uri = specEditor()?.document.uri.toString() ?? this.#shown?.kept.uri;
    if (uri !== undefined) await saveClientPlan(this.#client, uri, { ...answers, makesPdf: this.#makesPdf });
  }

  dispose(): void {
    for (const listener of this.#listeners) listener.dispose();
    this.#shown?.panel.dispose();
  }

  #open(panel: vscode.WebviewPanel, kept: Kept): void {
    const shown = new Panel(panel, kept, this.#context, this.#client);
    this.#shown = shown;
    panel.onDidDispose(() => {
      shown.end();
      if (this.#shown === shown) this.#shown = undefined;
    });
  }
}

class Panel {
  readonly panel: vscode.WebviewPanel;
  readonly #context: vscode.ExtensionContext;
  readonly #client: LanguageClient;
  readonly #latest: Latest;
  readonly #film: FilmToPlay;
  #kept: Kept;
  #picture: Picture | undefined;
  #room: Room | undefined;
  /** The page's script runs and listens. */
  #ready = false;
  /** What it is to be shown first. */
  #first: ToPanel | undefined;

  constructor(panel: vscode.WebviewPanel, kept: Kept, context: vscode.ExtensionContext, client: LanguageClient) {
    this.panel = panel;
    this.#kept = kept;
    this.#context = context;
    this.#client = client;
    this.#film = new FilmToPlay(client, (message) => this.#post(message));
    this.#latest = new Latest(
      () => this.#ready && this.panel.visible,
      () => this.#ask(),
    );
    panel.webview.onDidReceiveMessage((message) => this.#told(message));
    panel.onDidChangeViewState(() => {
      // A page that was hidden begins anew and says when it is ready; one that was only moved does not.
      if (panel.visible) this.#latest.changed();
    });
    panel.webview.options = {
      enableScripts: true,
      localResourceRoots: [vscode.Uri.joinPath(context.extensionUri, 'dist')],
    };
    panel.iconPath = vscode.Uri.joinPath(context.extensionUri, 'client/icon.png');
    panel.webview.html = this.#page();
    // Drawn while the page opens, for the room that pictures had last.
    this.#room = context.workspaceState.get<Room>(roomMemory);
    void this.#ask();
  }

  get kept(): Kept {
    return { ...this.#kept, shot: this.#kept.shot ?? this.#picture?.shot };
  }

  /** Another plan in front is shown; anything else in front leaves the panel as it is. */
  follow(editor: vscode.TextEditor | undefined): void {
    if (editor?.document.languageId !== specLanguage) return;
    const uri = editor.document.uri.toString();
    // A shot that was stayed at is one of the plan before.
    if (uri !== this.#kept.uri) this.#keep({ ...this.#kept, uri, shot: undefined });
    this.#latest.changed();
  }

  changed(uri?: vscode.Uri): void {
    if (uri === undefined || uri.toString() === this.#kept.uri) this.#latest.changed();
  }

  end(): void {
    this.#latest.end();
  }

  #page(): string {
    const { webview } = this.panel;
    const address = (name: string) =>
      webview.asWebviewUri(vscode.Uri.joinPath(this.#context.extensionUri, 'dist', name)).toString();
    const nonce = btoa(String.fromCharCode(...crypto.getRandomValues(new Uint8Array(18))));
    return pageHtml({
      nonce,
      script: address('panel.js'),
      style: address('panel.css'),
      source: webview.cspSource,
      words: panelTextOf(vscode.l10n),
      language: vscode.l10n.bundle ? vscode.env.language : 'en',
    });
  }

  #told(from: unknown): void {
    const message = readMessage(from);
    if (message?.kind === 'ready') {
      this.#ready = true;
      this.#film.begin();
      if (this.#first) this.#post(this.#first);
      this.#first = undefined;
      this.#latest.changed();
    } else if (message?.kind === 'kept') this.#choose({ ...message.kept, uri: this.#kept.uri });
    else if (message?.kind === 'go') void this.#go(message.spot);
    else if (message?.kind === 'room') this.#resized(message.room);
    else if (message?.kind === 'scene') void this.#film.scene(message.scene);
    else if (message?.kind === 'sound') void this.#film.sound(message.file);
    else if (message?.kind === 'follow') this.#follow(message.spot);
    else if (message?.kind === 'save') void savePicture(this.#client, this.kept);
  }

  #resized(room: Room): void {
    this.#room = room;
    void this.#context.workspaceState.update(roomMemory, room);
    this.#latest.changed();
  }

  /** The page zooms by itself; for anything else it needs another picture. */
  #choose(kept: Kept): void {
    const { view, shot, deliverable, isLit } = this.#kept;
    this.#keep(kept);
    const isOther =
      view !== kept.view || shot !== kept.shot || deliverable !== kept.deliverable || isLit !== kept.isLit;
    if (isOther) this.#latest.changed();
  }

  #keep(kept: Kept): void {
    this.#kept = kept;
    void this.#context.workspaceState.update(memory, kept);
  }

  async #ask(): Promise<void> {
    const { uri } = this.#kept;
    const document = uri === undefined ? undefined : await opened(uri);
    if (!document || uri === undefined || !this.#client.isRunning()) return;
    const picture = await askFor<Picture>(this.#client, 'shootSpec/picture', {
      ...this.#kept,
      // Between shots the panel stays at the one it shows.
      shot: this.#kept.shot ?? this.#picture?.shot,
      position: this.#kept.shot === undefined ? cursorIn(document) : undefined,
      uri,
      ...this.#room,
    });
    if (uri !== this.#kept.uri) return;
    const file = nameOf(document.uri);
    if (picture) this.#picture = picture;
    this.panel.title = picture ? picture.title : vscode.l10n.t('Pictures of {0}', file);
    this.#post(
      picture
        ? { kind: 'show', picture, kept: this.#kept, file }
        : {
            kind: 'empty',
            words: vscode.l10n.t('Nothing of {0} can be drawn yet: it needs a shot that can be read.', file),
          },
    );
    if (picture?.view === 'timeline')
      await this.#film.show({ uri, deliverable: this.#kept.deliverable }, picture.stamp);
  }

  #post(message: ToPanel): void {
    if (!this.#ready) {
      if (message.kind === 'show') this.#first = message;
      return;
    }
    void this.panel.webview.postMessage(message);
  }

  /** The cursor goes there where the text is seen, and the panel keeps the keys. */
  #follow({ start }: TextPlace): void {
    const { uri } = this.#kept;
    const editor = vscode.window.visibleTextEditors.find(({ document }) => document.uri.toString() === uri);
    if (!editor) return;
    const at = editor.document.positionAt(start);
    editor.selection = new vscode.Selection(at, at);
    editor.revealRange(editor.selection, vscode.TextEditorRevealType.InCenterIfOutsideViewport);
  }

  async #go({ start, end, file }: TextPlace): Promise<void> {
    const { uri } = this.#kept;
    if (uri === undefined || !this.#picture) return;
    const target =
      file === undefined ? vscode.Uri.parse(uri) : vscode.Uri.joinPath(vscode.Uri.parse(this.#picture.root), file);
    const document = await opened(target.toString());
    if (!document) return;
    const range = new vscode.Range(document.positionAt(start), document.positionAt(end));
    const seen = vscode.window.visibleTextEditors.find((editor) => editor.document === document);
    const viewColumn =
      seen?.viewColumn ??
      (this.panel.viewColumn === vscode.ViewColumn.One ? vscode.ViewColumn.Beside : vscode.ViewColumn.One);
    await vscode.window.showTextDocument(document, { viewColumn, selection: range });
  }
}

function cursorIn(document: vscode.TextDocument): vscode.Position | undefined {
  const { activeTextEditor: active, visibleTextEditors: all } = vscode.window;
  return [active, ...all].find((editor) => editor?.document === document)?.selection.active;
}

/** A file that was closed is opened again without being shown, so that the server knows it. */
async function opened(uri: string): Promise<vscode.TextDocument | undefined> {
  const known = vscode.workspace.textDocuments.find((one) => one.uri.toString() === uri);
  if (known) return known;
  try {
    return await vscode.workspace.openTextDocument(vscode.Uri.parse(uri));
  } catch {
    return undefined; // The file is gone.
  }
}
