/** Completion as text with a cursor mark in and plain text out. */
import { parseDocument } from '../../server/core/document/parse.ts';
import type { Footage } from '../../server/core/footage.ts';
import { kindOf } from '../../server/core/paths.ts';
import { completionsAt } from '../../server/features/completion/index.ts';
import type { Item } from '../../server/features/completion/item.ts';
import { placesOf } from '../../server/features/places.ts';
import { RepoFiles } from '../../server/features/repo-files.ts';
import { rules } from '../../server/rules/index.ts';
import { split } from './cursor.ts';
import { checkerFor } from './workspace.ts';

export interface Situation {
  /** What is known of the clips. */
  readonly footage?: Footage;
  /** The newest commit, where there is git. */
  readonly lastCommit?: string;
  readonly path?: string;
  readonly files?: Readonly<Record<string, string>>;
  /** The last text that could be read, where that is not the text itself. */
  readonly good?: string;
}

export function completions(
  marked: string,
  { path = 'a.shoot.yaml', files = {}, good, footage, lastCommit }: Situation = {},
): Item[] {
  const { text, offset } = split(marked);
  const checker = checkerFor(files, { ...(footage && { footage: () => footage }), lastCommit: () => lastCommit });
  const kind = kindOf(path)!;
  const settings = checker.settings(path);
  const now = checker.checkAs(kind, text, settings, path);
  const readable = now.doc.broken ? good : text;
  const result = readable === undefined ? now : checker.checkAs(kind, readable, settings, path);
  const { doc } = result;
  return completionsAt({
    kind,
    text,
    offset,
    lines: parseDocument(text).lines,
    rules,
    here: {
      kind,
      path,
      doc,
      places: placesOf(kind, doc.root),
      files: new RepoFiles(checker.host, (one) => checker.settings(one)),
    },
    sheet: result.sheet,
    ...(result.film && { base: { result, trials: (root) => checker.trials(root, settings) } }),
  });
}

export const labels = (items: readonly Item[]): string[] => items.map((item) => item.label);

/** `label: detail` of each. */
export const told = (items: readonly Item[]): string[] => items.map(({ label, detail }) => `${label}: ${detail ?? ''}`);

/** The text after one of them is taken, places to go on from as `‸`. */
export function taken(marked: string, label: string, situation: Situation = {}): string {
  const { text } = split(marked);
  const item = completions(marked, situation).find((one) => one.label === label);
  if (!item) throw new Error(`${label} is not offered: ${labels(completions(marked, situation)).join(', ')}`);
  return text.slice(0, item.start) + plainText(item, '‸') + text.slice(item.end);
}

/** What is put into the text, its places filled as they stand, and `at` where the cursor goes. */
export function plainText({ isSnippet, text }: Item, at = ''): string {
  if (!isSnippet) return text;
  return text
    .replace(/\$\{\d+:((?:[^}\\]|\\.)*)\}/g, '$1')
    .replace(/\$\d+/g, at)
    .replace(/\\([\\$}])/g, '$1');
}
