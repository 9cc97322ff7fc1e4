/** Has sound and picture of the files of a take sheet looked at, and shows what can do so here. */
import { sheetLanguage, specEditor } from './spec-editor.ts';
import * as vscode from 'vscode';
import { type BaseLanguageClient as LanguageClient, State } from 'vscode-languageclient';

interface Answer {
  readonly outcome: 'missing' | 'nothing' | 'done' | 'cancelled';
  readonly howToGet?: string;
}

const sheets: vscode.DocumentSelector = { language: sheetLanguage };

/** The server shows how far it is, and a button that stops it. */
export async function decodeSheet(client: LanguageClient): Promise<void> {
  const document = vscode.window.activeTextEditor?.document;
  if (!document || !vscode.languages.match(sheets, document)) {
    void vscode.window.showInformationMessage(
      vscode.l10n.t('Open a take sheet first: a file whose name ends in .takes.yaml.'),
    );
    return;
  }
  if (!vscode.workspace.isTrusted) {
    void vscode.window.showInformationMessage(vscode.l10n.t('Clips are opened once this folder is trusted.'));
    return;
  }
  const { outcome, howToGet } = await client.sendRequest<Answer>('shootSpec/decode', {
    textDocument: { uri: document.uri.toString() },
  });
  if (outcome === 'missing')
    void vscode.window.showWarningMessage(
      vscode.l10n.t('Decoding needs ffmpeg on the path, which is not there. {0}', howToGet ?? ''),
    );
  if (outcome === 'nothing')
    void vscode.window.showInformationMessage(vscode.l10n.t('No clips of this sheet lie in the footage folder.'));
}

interface Heard {
  readonly outcome: 'missing' | 'no-file' | 'nothing' | 'no-beat' | 'done';
  readonly howToGet?: string;
  readonly heard?: string;
}

/** Has the music of the spec in front listened to; findings, completion and pictures know it from then on. */
export async function listenToMusic(client: LanguageClient): Promise<void> {
  const document = specEditor()?.document;
  if (!document) {
    void vscode.window.showInformationMessage(
      vscode.l10n.t('Open a spec first: a file whose name ends in .shoot.yaml.'),
    );
    return;
  }
  if (!vscode.workspace.isTrusted) {
    void vscode.window.showInformationMessage(vscode.l10n.t('Music is opened once this folder is trusted.'));
    return;
  }
  const asked = { textDocument: { uri: document.uri.toString() } };
  const { outcome, howToGet, heard } = await vscode.window.withProgress(
    { location: vscode.ProgressLocation.Window, title: vscode.l10n.t('Listening to the music') },
    () => client.sendRequest<Heard>('shootSpec/listen', asked),
  );
  const said: Readonly<Record<Heard['outcome'], string>> = {
    missing: vscode.l10n.t('Decoding needs ffmpeg on the path, which is not there. {0}', howToGet ?? ''),
    'no-file': vscode.l10n.t(
      'Say under `rights` which file the music is, such as `file: music/tune.wav`: then it can be listened to.',
    ),
    nothing: vscode.l10n.t('There is no such file of music in this folder, or no sound in it.'),
    'no-beat': vscode.l10n.t('No beat is heard in the music.'),
    done: vscode.l10n.t('Heard: {0}.', heard ?? ''),
  };
  void vscode.window.showInformationMessage(said[outcome]);
}

/** Beside the language's name: the program that decodes, or that there is none. */
export function showDecoder(client: LanguageClient): vscode.Disposable {
  const item = vscode.languages.createLanguageStatusItem('shootSpec.decoder', sheets);
  item.name = vscode.l10n.t('Sound and picture');
  item.text = vscode.l10n.t('Decoder not looked for yet');
  const ask = async (): Promise<void> => {
    if (client.state !== State.Running) return;
    const { version } = await client.sendRequest<{ version?: string }>('shootSpec/decoder');
    item.text = version === undefined ? vscode.l10n.t('No ffmpeg') : `ffmpeg ${version}`;
    item.detail = version === undefined ? vscode.l10n.t('sound and picture are not looked at') : '';
    item.command = { command: 'shootSpec.decode', title: vscode.l10n.t('Decode the clips of this sheet') };
  };
  return vscode.Disposable.from(
    item,
    client.onDidChangeState(() => void ask().catch(() => undefined)),
  );
}
