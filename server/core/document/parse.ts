/** From the text of a file to its tree. Never throws, whatever the text. */
import { compose, withoutLoneReturns } from './compose.ts';
import { longerThan, LineMap } from './lines.ts';
import type { Comment, Node, Range } from './node.ts';
import { oddCharacters, textCutByHash } from './oddities.ts';
import type { Problem } from './problem.ts';
import { problem } from './problem.ts';
import { shown } from '../say.ts';
import { syntaxProblems } from './syntax.ts';
import type { Tokens } from './tokens.ts';
import { deepest, tokenise } from './tokens.ts';
import { buildTree } from './tree.ts';

export type { Problem } from './problem.ts';

/** The largest file that is read, in bytes of UTF-8. */
export const largestFileBytes = 1024 * 1024;

export interface Doc {
  readonly text: string;
  /** What could be read; undefined for an empty file and where reading was not tried. */
  readonly root: Node | undefined;
  readonly comments: readonly Comment[];
  /** In the order of the text. */
  readonly problems: readonly Problem[];
  readonly lines: LineMap;
  /** True when `root` may not be what is meant: only `problems` are then worth showing. */
  readonly broken: boolean;
}

/** Reads one file. Any string gives a document, and every range in it lies inside the text. */
export function parseDocument(text: string): Doc {
  const unread = unreadable(text);
  // Where nothing is read, only the start of the file is pointed at.
  const lines = new LineMap(unread?.rule === 'spec-too-big' ? '' : text);
  if (unread) return { text, root: undefined, comments: [], problems: [unread], lines, broken: true };
  return { text, lines, ...read(text, tokenise(withoutLoneReturns(text))) };
}

function byStart(a: Range, b: Range): number {
  return a.start - b.start || a.end - b.end;
}

function read(text: string, tokens: Tokens): Pick<Doc, 'root' | 'comments' | 'problems' | 'broken'> {
  const { comments, tooDeep } = tokens;
  if (tooDeep !== undefined) {
    const message = `This is nested more than ${deepest} levels deep, which is the most that is read.`;
    const place = { start: tooDeep, end: Math.min(tooDeep + 1, text.length) };
    return { root: undefined, comments, problems: [problem('nested-too-deep', place, message)], broken: true };
  }
  const composed = compose(tokens, text.length);
  const tree = buildTree(composed?.contents, text);
  const syntax = syntaxProblems(composed?.errors ?? [], text, tokens);
  const root = isEmpty(tree.root) ? undefined : tree.root;
  if (syntax.length > 0) return { root, comments, problems: syntax, broken: true };
  const silent = root ? textCutByHash(text, root, comments) : [emptyFile(tree.root)];
  const problems = [...tree.problems, ...documentProblems(tokens), ...oddCharacters(text), ...silent];
  problems.sort(byStart);
  return { root, comments, problems, broken: !tree.whole };
}

/** What keeps a file from being read at all. */
function unreadable(text: string): Problem | undefined {
  if (longerThan(text, largestFileBytes)) {
    const message = 'This file is larger than 1 MiB, which is the most that is read. Split it into several files.';
    return problem('spec-too-big', { start: 0, end: 0 }, message);
  }
  const binary = binaryAt(text);
  if (binary !== undefined) {
    const message = 'This is not a text file: it holds characters that no text has. Save it again as UTF-8 text.';
    return problem('not-text', { start: binary, end: binary + 1 }, message);
  }
  const conflict = conflictMarks(text);
  if (!conflict) return undefined;
  const message =
    'Two versions of this file were merged and left both here, between `<<<<<<<` and `>>>>>>>`. Keep the right lines and delete the marks.';
  return problem('conflict-marks', conflict, message);
}

/** A NUL, or among the first characters more than one in ten that no text has. */
function binaryAt(text: string): number | undefined {
  const nul = text.indexOf('\0');
  if (nul >= 0) return nul;
  const head = text.slice(0, 4096);
  // eslint-disable-next-line no-control-regex -- these are what is looked for
  const odd = [...head.matchAll(/[\x01-\x08\x0e-\x1a\x1c-\x1f\ufffd]/g)];
  return odd.length >= 4 && odd.length > head.length / 10 ? odd[0]?.index : undefined;
}

function conflictMarks(text: string): Range | undefined {
  const marks = [...text.matchAll(/(?<=^|[\r\n])(?:<{7}|>{7})(?: [^\r\n]*)?(?=$|[\r\n])/g)];
  const [first] = marks;
  const last = marks.at(-1);
  return first && last ? { start: first.index, end: last.index + last[0].length } : undefined;
}

function isEmpty(root: Node): boolean {
  return root.kind === 'scalar' && !root.quoted && root.value === null && root.alias === undefined;
}

function emptyFile(nothing: Node): Problem {
  const place = nothing.end > nothing.start ? nothing : { start: 0, end: 0 };
  const message = 'Nothing is written here yet. Start with `title:` and a name.';
  // Everybody begins so, and nothing is wrong.
  return problem('empty-file', place, message, { severity: 'info' });
}

function documentProblems({ tags, directives, questions, second }: Tokens): Problem[] {
  const found: Problem[] = [];
  for (const tag of tags) {
    const message = `\`${shown(tag.text)}\` is a YAML tag, and no tag means anything here. Delete it, or put quotes round text that starts with \`!\`.`;
    found.push(problem('yaml-tag', tag, message));
  }
  for (const directive of directives) {
    if (/^%YAML\s+1\.2\s*$/.test(directive.text)) continue;
    const message = `\`${shown(directive.text)}\` asks for other rules of reading, and these files are always read as YAML 1.2. Delete the line.`;
    found.push(problem('yaml-version', directive, message));
  }
  for (const question of questions) {
    found.push(problem('complex-key', question, 'Write the name and a colon, without the question mark before them.'));
  }
  if (second) {
    const message = 'A second document starts here, and only the first is read. Put it into a file of its own.';
    found.push(problem('several-documents', second, message));
  }
  return found;
}
