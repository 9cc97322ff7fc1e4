/** From what a rule wants changed to text edits, at the place where the change does what it says and no more. */
import { insertPair } from './document/edits.ts';
import type { MapNode, Node } from './document/node.ts';
import type { Block, Film } from './film.ts';
import type { Edit, Fix } from './finding.ts';
import type { FieldChange, FixIdea } from './rule.ts';
import type { Fields } from './resolve/fields.ts';

/**
 * @param idea what the first of several like reports wants
 * @param alike what all of them want: when they are everyone that takes a value over, it is changed where it stands
 */
export function materialise(idea: FixIdea, alike: readonly FixIdea[], film: Film, text: string): Fix | undefined {
  const edits: Edit[] = [...(idea.edits ?? [])];
  for (const [index, change] of (idea.set ?? []).entries()) {
    const asked = alike.flatMap((one) => one.set?.[index] ?? []);
    const made = changeField(change, asked, film, text);
    if (!made) return undefined;
    edits.push(...made);
  }
  return edits.length > 0 ? { title: idea.title, edits, safe: idea.safe ?? false } : undefined;
}

function changeField(change: FieldChange, asked: readonly FieldChange[], film: Film, text: string): Edit[] | undefined {
  const { fields } = change.block;
  const written = fields.node(change.key);
  const { own } = fields;
  const isOwn = written && own && fields.layers[0] === own && fieldIn(own, written);
  if (written && (isOwn || everyoneAsks(written, change, asked, film))) return replace(written, change.text);
  return write(fields, change.key, change.text, text);
}

function fieldIn(map: MapNode, value: Node): boolean {
  return map.pairs.some((pair) => pair.value === value);
}

function replace(node: Node, text: string): Edit[] | undefined {
  return node.kind === 'scalar'
    ? [{ start: node.start, end: node.end, text: node.start === node.end ? ` ${text}` : text }]
    : undefined;
}

/** True when each block that takes this very value over is asked to change it to the same text. */
function everyoneAsks(written: Node, change: FieldChange, asked: readonly FieldChange[], film: Film): boolean {
  const takers = blocks(film).filter((block) => block.fields.node(change.key) === written);
  return takers.every((taker) => asked.some((one) => one.block === taker && one.text === change.text));
}

function blocks(film: Film): Block[] {
  const ofShots = [...film.shots.values()].flatMap((shot) => [shot.camera, shot.backdrop, shot.surface, shot.room]);
  return [...ofShots, ...film.lamps.values(), ...film.deliverables.values()].filter((block) => block !== undefined);
}

/** Adds a field to the block itself, and the block too where it is not written yet. */
function write(fields: Fields, key: string, value: string, text: string): Edit[] | undefined {
  if (fields.own) return insertPair(text, fields.own, key, value);
  const { parent } = fields;
  return parent && !parent.fields.own?.pairs.some((pair) => pair.key.text === parent.key)
    ? write(parent.fields, parent.key, `{ ${key}: ${value} }`, text)
    : undefined;
}
