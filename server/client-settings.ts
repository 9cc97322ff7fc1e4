/** What the client has settled for this extension: severities of rules, which hints are shown, and where clips lie. */
import type { ClientCapabilities, Connection } from 'vscode-languageserver';
import type { SeverityOrNone } from './core/settings.ts';
import { type HintKind, hintKinds } from './features/hints.ts';
import type { FootageFolders } from './footage/footages.ts';
import { readHints } from './handlers/hints.ts';

export class ClientSettings {
  severities: ReadonlyMap<string, SeverityOrNone> = new Map();
  hints: ReadonlySet<HintKind> = new Set(hintKinds);
  /** Where clips and masters lie on this machine. */
  folders: FootageFolders = {};

  /** Asks the client, where it can be asked. What it does not say stays as it was. */
  async read({ workspace }: Connection, client: ClientCapabilities): Promise<void> {
    if (!client.workspace?.configuration) return;
    const settings: unknown = await workspace.getConfiguration('shootSpec').catch(() => undefined);
    this.severities = readSeverities(settings);
    this.hints = readHints(settings);
    this.folders = { footage: readPath(settings, 'footage'), masters: readPath(settings, 'masters') };
  }
}

function readPath(settings: unknown, key: 'footage' | 'masters'): string | undefined {
  const path = (settings as Partial<Record<typeof key, unknown>> | null | undefined)?.[key];
  return typeof path === 'string' && path !== '' ? path : undefined;
}

const severityWords: ReadonlySet<unknown> = new Set(['error', 'warning', 'info', 'hint', 'none']);

function readSeverities(settings: unknown): ReadonlyMap<string, SeverityOrNone> {
  const rules = (settings as { rules?: unknown } | undefined)?.rules;
  const entries = rules !== null && typeof rules === 'object' ? Object.entries(rules) : [];
  return new Map(entries.filter((entry): entry is [string, SeverityOrNone] => severityWords.has(entry[1])));
}
