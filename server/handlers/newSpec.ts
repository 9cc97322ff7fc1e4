/** Wires the text of a new spec to the protocol, by a request of our own. */
import { child } from '../core/document/node.ts';
import { parseDocument } from '../core/document/parse.ts';
import { mainsHzOf, newSpecText } from '../features/newSpec.ts';
import type { Session } from './session.ts';

export const newSpecRequest = 'shootSpec/newSpec';

/** The editor reads the files, which may be on no disk. */
interface Asked {
  readonly title: string;
  readonly kit?: { readonly path: string; readonly text: string };
  /** The text of the settings file, which may say the region of every spec. */
  readonly settings?: string;
  readonly region?: string;
}

/** Without a text where neither the person nor the settings said the region: it has to be asked for. */
interface Answer {
  readonly text?: string;
}

export function registerNewSpec({ connection, ready }: Session): void {
  connection.onRequest(
    newSpecRequest,
    ready(({ title, kit, settings, region }: Asked): Answer => {
      const mainsHz = mainsHzOf(region ?? settledRegion(settings) ?? '');
      if (mainsHz === undefined && region === undefined) return {};
      const root = kit && parseDocument(kit.text).root;
      const gear = kit && root && { path: kit.path, root };
      return { text: newSpecText({ title, kit: gear, region, mainsHz: mainsHz ?? 50 }) };
    }),
  );
}

function settledRegion(settings: string | undefined): string | undefined {
  const region = settings === undefined ? undefined : child(parseDocument(settings).root, 'region');
  return region?.kind === 'scalar' ? region.text : undefined;
}
