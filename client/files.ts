/** Files that are made of a plan: a picture, and the sheet for the set. The server makes them, the person says where to. */
import * as vscode from 'vscode';
import type { BaseLanguageClient as LanguageClient } from 'vscode-languageclient';
import type { Kept } from './panel/messages.ts';

/** What a request of ours takes; a position or a shot chooses the shot. */
interface Wish {
  readonly uri: string;
  readonly view?: string;
  readonly shot?: string;
  readonly deliverable?: string;
  readonly isLit?: boolean;
  readonly position?: vscode.Position;
  readonly as?: 'html' | 'pdf';
  /** Who reads it; whoever makes the film where nothing is said. */
  readonly for?: 'set' | 'client';
  /** Of the place where a picture is shown, in CSS pixels. */
  readonly width?: number | undefined;
  readonly height?: number | undefined;
}

/** What a keyboard shortcut or another extension may say beforehand; only the rest is asked. */
export interface Answers {
  readonly to?: vscode.Uri;
  readonly view?: string;
  readonly shot?: string;
}

/** Undefined where there is nothing to draw, and while the server does not run. */
export async function askFor<T>(client: LanguageClient, request: string, wish: Wish): Promise<T | undefined> {
  const { uri, ...rest } = wish;
  const params = { textDocument: { uri }, ...rest };
  try {
    return (await client.sendRequest<T | null>(request, params)) ?? undefined;
  } catch (error) {
    client.warn(`${request} was not answered.`, error, false);
    return undefined;
  }
}

export async function savePicture(client: LanguageClient, chosen: Kept, answers: Answers = {}): Promise<void> {
  const { uri, view, shot, deliverable, isLit } = { ...chosen, ...answers };
  if (uri === undefined) return;
  const answer = await askFor<{ svg: string }>(client, 'shootSpec/pictureFile', {
    uri,
    view,
    shot,
    deliverable,
    isLit,
  });
  if (!answer) return nothingToDraw();
  const name = `${[baseName(uri), shot, view ?? 'set-above'].filter(Boolean).join('-')}.svg`;
  const target = answers.to ?? (await askWhere(uri, name, { [vscode.l10n.t('Picture')]: ['svg'] }));
  if (target) await write(target, new TextEncoder().encode(answer.svg));
}

/** HTML or, where one can be made, PDF, as the name ends that the person gives. */
export async function saveSheet(client: LanguageClient, uri: string, answers: PaperAnswers): Promise<void> {
  await savePaper(client, uri, { name: 'sheet' }, answers);
}

/** The plan as the client reads it, in the same ways. */
export async function saveClientPlan(client: LanguageClient, uri: string, answers: PaperAnswers): Promise<void> {
  await savePaper(client, uri, { name: 'plan', for: 'client' }, answers);
}

type PaperAnswers = Answers & { readonly makesPdf: boolean };

async function savePaper(
  client: LanguageClient,
  uri: string,
  { name, ...wish }: { readonly name: string; readonly for?: 'client' },
  { makesPdf, to }: PaperAnswers,
): Promise<void> {
  const filters = {
    [vscode.l10n.t('Page for any browser')]: ['html'],
    ...(makesPdf && { [vscode.l10n.t('Paper')]: ['pdf'] }),
  };
  const target = to ?? (await askWhere(uri, `${baseName(uri)}-${name}.html`, filters));
  if (!target) return;
  const as = target.path.toLowerCase().endsWith('.pdf') ? 'pdf' : 'html';
  if (as === 'pdf' && !makesPdf) {
    const words = vscode.l10n.t(
      'No PDF is made in a browser. Give a name that ends in .html: browsers print that page.',
    );
    void vscode.window.showInformationMessage(words);
    return;
  }
  const answer = await askFor<{ html?: string; pdfBase64?: string }>(client, 'shootSpec/sheetFile', {
    uri,
    as,
    ...wish,
  });
  if (!answer) return nothingToDraw();
  const { html = '', pdfBase64 } = answer;
  await write(
    target,
    pdfBase64 === undefined
      ? new TextEncoder().encode(html)
      : Uint8Array.from(atob(pdfBase64), (sign) => sign.charCodeAt(0)),
  );
}

/** The page that is worked with on the set. */
export async function saveSetPage(client: LanguageClient, uri: string, answers: Answers = {}): Promise<void> {
  const filters = { [vscode.l10n.t('Page for any browser')]: ['html'] };
  const target = answers.to ?? (await askWhere(uri, `${baseName(uri)}-set.html`, filters));
  if (!target) return;
  const answer = await askFor<{ html: string }>(client, 'shootSpec/sheetFile', { uri, for: 'set' });
  if (!answer) return nothingToDraw();
  await write(target, new TextEncoder().encode(answer.html));
}

async function askWhere(uri: string, name: string, filters: Record<string, string[]>): Promise<vscode.Uri | undefined> {
  const spec = vscode.Uri.parse(uri);
  const folder =
    spec.scheme !== 'untitled' ? vscode.Uri.joinPath(spec, '..') : vscode.workspace.workspaceFolders?.[0]?.uri;
  return vscode.window.showSaveDialog({ defaultUri: folder && vscode.Uri.joinPath(folder, plainName(name)), filters });
}

async function write(target: vscode.Uri, bytes: Uint8Array): Promise<void> {
  await vscode.workspace.fs.writeFile(target, bytes);
  vscode.window.setStatusBarMessage(vscode.l10n.t('Wrote {0}', nameOf(target)), 4000);
}

function nothingToDraw(): void {
  void vscode.window.showInformationMessage(
    vscode.l10n.t('Nothing can be drawn yet: the plan needs a shot that can be read.'),
  );
}

/** The last part of an address. */
export function nameOf(uri: vscode.Uri): string {
  return uri.path.split('/').at(-1) ?? '';
}

export function baseName(uri: string): string {
  return nameOf(vscode.Uri.parse(uri)).replace(/\.shoot\.yaml$/, '');
}

/** A name that every file system takes. */
export function plainName(name: string): string {
  return name.replace(/[^\p{L}\p{N}._-]+/gu, '-');
}
