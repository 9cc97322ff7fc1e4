/** Moves a setting that several shots repeat up to the block at the top of the file that all shots start from. */
import { insertPair, replaceNode } from '../../core/document/edits.ts';
import { child, type MapNode, type Node, type Pair, pairOf } from '../../core/document/node.ts';
import type { Doc } from '../../core/document/parse.ts';
import type { Film, Shot } from '../../core/film.ts';
import type { Edit } from '../../core/finding.ts';
import { quoted } from '../../core/say.ts';
import { nodeAt } from '../node-at.ts';
import { takeOut } from './keep.ts';
import type { RefactoringRequest, Refactoring } from './refactoring.ts';

/** Blocks that shots and set-ups take over from the top of the file, field by field. */
const shared = ['camera', 'backdrop', 'surface', 'room'] as const;
type Shared = (typeof shared)[number];

export function moveUp({ result: { doc, film }, offset }: RefactoringRequest): Refactoring[] {
  const path = nodeAt(doc.root, offset)?.path ?? [];
  const [list, owner, name, key] = path;
  const block = shared.find((one) => one === name);
  if (
    (list !== 'shots' && list !== 'set-ups') ||
    typeof owner !== 'string' ||
    !block ||
    typeof key !== 'string' ||
    !film
  )
    return [];
  const value = child(child(child(child(doc.root, list), owner), block), key);
  const text = value && oneLine(value, doc);
  const top = child(doc.root, block);
  if (text === undefined || doc.root?.kind !== 'map' || (top && top.kind !== 'map') || top?.alias !== undefined)
    return [];
  const all: Move = { doc, film, block, key, text, top };
  const shots = [...film.shots.values()];
  // Whoever takes the setting from the top, or has none, would get another one.
  if (!shots.every((shot) => isTold(shot, all))) return [];
  const alike = shots.filter((shot) => oneLine(shot[block]!.fields.node(key)!, doc) === text);
  if (alike.length * 2 < shots.length) return [];
  const made = removals(all);
  if (made.count < 2) return [];
  const title = `Move ${quoted(`${key}: ${text}`)} up to ${quoted(block)} (${made.count} places say it)`;
  return [{ title, files: [{ edits: [...said(all, doc.root), ...made.edits].sort((a, b) => a.start - b.start) }] }];
}

interface Move {
  readonly doc: Doc;
  readonly film: Film;
  readonly block: Shared;
  readonly key: string;
  readonly text: string;
  readonly top?: MapNode;
}

/** As written, where that is on one line without a comment in it and means the same in another place. */
function oneLine(node: Node, { text }: Doc): string | undefined {
  const written = text.slice(node.start, node.end);
  const plain = node.alias === undefined && (node.kind === 'scalar' || node.kind === 'list') && written !== '';
  return plain && !/[\n\r#&|>]/.test(written) ? written : undefined;
}

/** Does the shot have the setting from itself or from its set-up? */
function isTold(shot: Shot, { block, key, top }: Move): boolean {
  const node = shot[block]?.fields.node(key);
  return node !== undefined && node !== child(top, key);
}

/** Takes the setting out of every shot and set-up that would then have the same from the top. */
function removals(move: Move): { edits: Edit[]; count: number } {
  const { doc, film } = move;
  const found = ['shots', 'set-ups'].flatMap((list) => {
    const owners = child(doc.root, list);
    const pairs = owners?.kind === 'map' ? owners.pairs : [];
    return pairs.flatMap((owner) => {
      const own = saysIt(owner, move);
      const shot = list === 'shots' ? film.shots.get(owner.key.text) : undefined;
      const under = shot?.setUpName && pairOf(child(doc.root, 'set-ups'), shot.setUpName.value);
      // Without its own word the shot would take its set-up's.
      const shadowed = under && pairOf(child(under.value, move.block), move.key) && !saysIt(under, move);
      const edits = own && !shadowed && takeOut(doc, owner.value as MapNode, own, move.key);
      return edits ? [edits] : [];
    });
  });
  return { edits: found.flat(), count: found.length };
}

/** The block of a shot or set-up in which the setting is written with the same text. */
function saysIt({ value }: Pair, { doc, block, key, text }: Move): Pair | undefined {
  const own = pairOf(value, block);
  const node = child(own?.value, key);
  return value.kind === 'map' && node && oneLine(node, doc) === text ? own : undefined;
}

function said({ doc, block, key, text, top }: Move, root: MapNode): Edit[] {
  if (!top) return insertPair(doc.text, root, block, `{ ${key}: ${text} }`);
  const now = child(top, key);
  return now ? replaceNode(doc.text, now, text) : insertPair(doc.text, top, key, text);
}
