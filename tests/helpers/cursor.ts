/** Features as text with a cursor mark in and plain text out: `‸` is where the cursor stands. */
import { applyEdits } from '../../server/core/document/edits.ts';
import { parseDocument } from '../../server/core/document/parse.ts';
import { kindOf } from '../../server/core/paths.ts';
import type { FileContext, FilePlace } from '../../server/features/navigation.ts';
import { placesOf } from '../../server/features/places.ts';
import type { FileEdits, Refusal } from '../../server/features/rename.ts';
import { RepoFiles } from '../../server/features/repo-files.ts';
import { mark } from './marks.ts';
import { checkerFor, kits } from './workspace.ts';

const cursor = '‸';

export function split(marked: string): { text: string; offset: number } {
  const offset = marked.indexOf(cursor);
  if (offset < 0) throw new Error(`No ${cursor} in: ${marked}`);
  return { text: marked.replace(cursor, ''), offset };
}

/** A repo of some files beside the two usual kits; the one that holds the cursor is asked about. */
export class Repo {
  readonly files: Readonly<Record<string, string>>;
  readonly path: string;
  readonly offset: number;
  readonly here: FileContext;

  constructor(marked: Readonly<Record<string, string>>) {
    const asked = Object.keys(marked).find((path) => marked[path]!.includes(cursor));
    if (!asked) throw new Error(`No ${cursor} in any file`);
    const { text, offset } = split(marked[asked]!);
    this.files = { ...kits, ...marked, [asked]: text };
    this.path = asked;
    this.offset = offset;
    const checker = checkerFor(this.files);
    const files = new RepoFiles(checker.host, (path) => checker.settings(path));
    const doc = parseDocument(text);
    const kind = kindOf(asked)!;
    this.here = { kind, path: asked, doc, places: placesOf(kind, doc.root), files };
  }

  /** Each place as its line with the characters marked, after the path where it is in another file. */
  shown(places: readonly FilePlace[]): string[] {
    return places.map(({ path, start, end }) => {
      const text = this.files[path ?? this.path]!;
      const from = text.lastIndexOf('\n', start - 1) + 1;
      const to = text.indexOf('\n', end);
      const line = text.slice(from, to < 0 ? undefined : to);
      const shown = mark(line, [{ start: start - from, end: end - from }]).trim();
      return path === undefined ? shown : `${path}: ${shown}`;
    });
  }

  /** The texts of the files that an answer changes, or why it refused. */
  after(made: readonly FileEdits[] | Refusal): Record<string, string> | string {
    if ('problem' in made) return made.problem;
    return Object.fromEntries(
      made.map(({ path = this.path, edits }) => [path, applyEdits(this.files[path]!, edits) ?? 'edits overlap']),
    );
  }
}
