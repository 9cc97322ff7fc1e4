/** From the text of a file to its tree. Never throws, whatever the text. */
import { Composer } from 'yaml';
import type { Document } from 'yaml';
import { longerThan, LineMap } from './lines.ts';
import type { Comment, Node, Range } from './node.ts';
import { oddCharacters, textCutByHash } from './oddities.ts';
import type { Problem } from './problem.ts';
import { problem, shown } from './problem.ts';
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
  const lines = new LineMap(text);
  const unread = unreadable(text);
  if (unread) return { text, root: undefined, comments: [], problems: [unread], lines, broken: true };
  return { text, lines, ...read(text, tokenise(withoutLoneReturns(text))) };
}

/** A lone \r ends a line in YAML 1.2 and in editors but not in the library; \n is as long, so offsets stay. */
function withoutLoneReturns(text: string): string {
  return text.replace(/\r(?!\n)/g, '\n');
}

/** A stretch of a file, read by itself. */
export interface Part {
  readonly root: Node;
  readonly comments: readonly Comment[];
  readonly problems: readonly Problem[];
}

/** Levels that a stretch may need less than a file: those of the blocks that it was cut from. */
const levelsAround = 4;

/**
 * Reads whole lines of a file by themselves, with offsets from their start. Undefined where they may mean something
 * else among the other lines, or where the file as a whole would have to be looked at: broken text, marks and names
 * that reach further, characters that make a file unreadable, and a lone \r, at which nobody looks for the next stretch.
 */
export function readPart(text: string): Part | undefined {
  if (withoutLoneReturns(text) !== text) return undefined;
  const tokens = tokenise(text, deepest - levelsAround);
  const { comments, tooDeep, second, tags, directives, questions, names } = tokens;
  const reaching = [...tags, ...directives, ...questions, ...names];
  if (tooDeep !== undefined || second || reaching.length > 0 || oddCharacters(text).length > 0) return undefined;
  const composed = compose(tokens, text.length);
  const { root, problems, whole } = buildTree(composed?.contents, text);
  if (!whole || syntaxProblems(composed?.errors ?? [], text, tokens).length > 0) return undefined;
  const all = [...problems, ...textCutByHash(text, root, comments)];
  return { root, comments, problems: all.sort(byStart) };
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

/** The first document as the library sees it. */
function compose({ tokens }: Tokens, length: number): Document | undefined {
  const limit = Error.stackTraceLimit;
  // The library makes an error object for each fault; their stack traces, which nobody reads, would take seconds.
  Error.stackTraceLimit = 0;
  try {
    return [...new Composer(options).compose(tokens, true, length)][0];
  } finally {
    Error.stackTraceLimit = limit;
  }
}

const options = {
  version: '1.2',
  schema: 'core',
  // Tags are reported, so nothing has to be made of them.
  resolveKnownTags: false,
  merge: false,
  // The library compares every key with every other one; ours does it in one pass.
  uniqueKeys: false,
} as const;

/** What keeps a file from being read at all. */
function unreadable(text: string): Problem | undefined {
  if (longerThan(text, largestFileBytes)) {
    const message = 'This file is larger than 1 MiB, which is the most that is read. Split it into several files.';
    return problem('file-too-big', { start: 0, end: 0 }, message);
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
  return problem('empty-file', place, 'Nothing is written here yet. Start with `title:` and the name of the film.');
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
