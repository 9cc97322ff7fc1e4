/** Paths of kits and papers that follow when files are moved or renamed. */
import type { ScalarNode } from '../core/document/node.ts';
import { quote } from '../core/document/edits.ts';
import { pathFault } from '../core/paths.ts';
import type { Edit } from '../core/finding.ts';
import type { FileEdits } from './rename.ts';
import type { RepoFiles } from './repo-files.ts';

/** A file or folder that moves, by its paths from the repo's root. */
export interface Move {
  readonly from: string;
  readonly to: string;
}

/** Edits of the specs and settings that name what moves. What leaves the repo keeps its path: the finding says that it is gone. */
export function followMoves(files: RepoFiles, moves: readonly Move[]): FileEdits[] {
  const real = moves.filter(({ from, to }) => from !== to && from !== '' && pathFault(to) === undefined);
  if (real.length === 0) return [];
  return files.files().flatMap(({ path, doc, places }) => {
    const edits = places.paths.flatMap((node) => follow(node, real));
    // In a file that can't be read as it is, nobody knows what is a path.
    return edits.length > 0 && !doc.broken ? [{ path, edits }] : [];
  });
}

function follow(node: ScalarNode, moves: readonly Move[]): Edit[] {
  const move = moves.find(({ from }) => node.text === from || node.text.startsWith(`${from}/`));
  if (!move) return [];
  const text = move.to + node.text.slice(move.from.length);
  return [{ start: node.start, end: node.end, text: node.quoted || !isPlain(text) ? quote(text) : text }];
}

/** Can it stand in YAML without quotes, in braces and brackets too? */
function isPlain(path: string): boolean {
  return /^[\p{L}\p{N}_./][\p{L}\p{N}_./ -]*$/u.test(path) && !path.endsWith(' ');
}
