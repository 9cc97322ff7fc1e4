/** Wires the comparison of an open file with the last commit to the protocol, by a request of our own. */
import { basename, dirname, posix } from 'node:path';
import { compare } from '../compare/compare.ts';
import { isQuiet } from '../compare/comparison.ts';
import { comparedMarkdown } from '../compare/output.ts';
import { changedPictures } from '../compare/pictures.ts';
import { Checker, type CheckResult } from '../core/checker.ts';
import { beside, Checkout, GitFault, pathInRepo, type Revision } from '../git.ts';
import { filePath } from '../address.ts';
import { type Compared, pictureInside } from './compare-with.ts';
import type { DocumentParams, OpenChecked, Session } from './session.ts';

export const compareRequest = 'shootSpec/compare';

export function registerCompare(session: Session): void {
  const { connection, ready } = session;
  connection.onRequest<Compared | null, unknown>(
    compareRequest,
    ready(async ({ textDocument }: DocumentParams): Promise<Compared | null> => {
      const file = filePath(textDocument.uri);
      if (file === undefined)
        return { message: 'This file is not saved in a folder on a disk, so it has no earlier version.' };
      if (!session.at(textDocument.uri)) return null;
      try {
        return await sinceLastCommit(session, textDocument.uri, file);
      } catch (error) {
        if (error instanceof GitFault) return { message: error.message };
        throw error;
      }
    }),
  );
}

async function sinceLastCommit(session: Session, uri: string, file: string): Promise<Compared | null> {
  const checkout = await Checkout.around(dirname(file), beside);
  const commit = await checkout.commitOf('HEAD');
  if (commit === undefined)
    return { message: 'Nothing has been committed in this repo yet, so there is no earlier version.' };
  const revision = await checkout.revision(commit);
  const name = posix.join(pathInRepo(checkout.top, dirname(file)), basename(file));
  const was = revision.has(name) ? undefined : (await checkout.movedSince(commit)).get(name);
  const open = session.at(uri); // As it is now that git has answered.
  if (!open) return null;
  if (was === undefined && !revision.has(name))
    return { message: 'This file is new: the last commit does not have it, so there is no earlier version.' };
  const before = checkedIn(session, revision, was ?? name, open);
  if (!before)
    return { message: 'The last commit has a version of this file that is too large, or a link that leads nowhere.' };
  const comparison = compare(before, open.current.result);
  if (was === undefined && isQuiet(comparison)) return { message: 'Nothing in the plan differs from the last commit.' };
  const lead = `What differs in the editor, saved or not, from the last commit (\`${commit.slice(0, 8)}\`).`;
  const pictures = changedPictures(before, open.current.result);
  const files = [{ file: name, was, what: 'changed', comparison, pictures } as const];
  return { markdown: `${lead}\n\n${comparedMarkdown(files, pictureInside)}` };
}

/** A version of an open file, with the kits and settings that were beside it. */
function checkedIn(
  session: Session,
  revision: Revision,
  name: string,
  { file, current }: OpenChecked,
): CheckResult | undefined {
  const folder = session.repos.folderAround(filePath(file.uri)!);
  const top = folder === undefined ? undefined : pathInRepo(revision.top, folder);
  const root = revision.rootFor(name, top, top);
  const path = revision.pathIn(root, name);
  const read = revision.read(path, root);
  if (!('text' in read)) return undefined;
  const checker = new Checker(revision.host(root), current.place.checker.rules);
  return checker.checkAs(
    current.place.kind,
    read.text,
    session.settings({ checker, path, root: current.place.root }),
    path,
  );
}
