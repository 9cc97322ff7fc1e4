/** Wires the comparison of an open plan with its saved text, or with another open plan, to the protocol. */
import { compare } from '../compare/compare.ts';
import { isQuiet } from '../compare/comparison.ts';
import { type AddressOf, comparedMarkdown } from '../compare/output.ts';
import { changedPictures } from '../compare/pictures.ts';
import type { CheckResult } from '../core/checker.ts';
import { markdownWords } from '../formats/escape.ts';
import { base64 } from '../views/lit/index.ts';
import type { DocumentParams, OpenChecked, Session } from './session.ts';

interface AskedOther extends DocumentParams {
  /** Another open plan; without it the plan as it is saved. */
  readonly other?: string;
}

/** Markdown of what differs; a sentence where nothing does or nothing can be compared. */
export type Compared = { readonly markdown: string } | { readonly message: string };

export function registerCompareWith(session: Session): void {
  const { connection, ready } = session;
  connection.onRequest<Compared | null, unknown>(
    'shootSpec/compareWith',
    ready(async ({ textDocument, other }: AskedOther): Promise<Compared | null> => {
      const open = session.at(textDocument.uri);
      if (!open) return null;
      const another = other === undefined ? undefined : session.at(other);
      const before = other === undefined ? savedOf(open, session) : another?.current.result;
      if (!before) return { message: 'There is nothing to compare with: that plan is not there, or can’t be read.' };
      const comparison = compare(before, open.current.result);
      if (isQuiet(comparison)) return { message: 'Nothing in the plan differs.' };
      const from = another ? markdownWords(nameOf(another)) : 'what is saved';
      const pictures = changedPictures(before, open.current.result);
      const files = [{ file: nameOf(open), what: 'changed', comparison, pictures } as const];
      return { markdown: `What differs in the editor from ${from}.\n\n${comparedMarkdown(files, pictureInside)}` };
    }),
  );
}

/** The page is not saved, so its pictures are in it. */
export const pictureInside: AddressOf = (_file, picture, side) => `data:image/png;base64,${base64(picture[side]!)}`;

function savedOf(
  { current }: OpenChecked,
  { repos, settings }: Pick<Session, 'repos' | 'settings'>,
): CheckResult | undefined {
  const { place } = current;
  const read = place.path === undefined ? undefined : repos.disk.host(place.root).read(place.path);
  return read && 'text' in read ? place.checker.checkAs(place.kind, read.text, settings(place), place.path) : undefined;
}

function nameOf({ file, current }: OpenChecked): string {
  const path = current.place.path ?? file.uri;
  return path.slice(path.lastIndexOf('/') + 1);
}
