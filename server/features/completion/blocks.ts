/** Whole blocks to start from: the schema's own examples, with places to go through. */
import { parseDocument } from '../../core/document/parse.ts';
import type { MapNode, Node } from '../../core/document/node.ts';
import { escapeSnippet } from './item.ts';

/** A block as a snippet: each name of the user's own and each value is a place to go on from. */
class Body {
  #stop = 0;

  stop(text: string): string {
    return `\${${++this.#stop}:${escapeSnippet(text)}}`;
  }

  lines(node: Node, indent: string, namesOwn: boolean): string {
    if (node.kind === 'map') return this.#map(node, indent, namesOwn);
    if (node.kind === 'scalar') return this.stop(written(node.text, node.quoted));
    const isPlain = node.items.every((item) => item.kind === 'scalar');
    if (isPlain) return `[${node.items.map((item) => this.lines(item, indent, false)).join(', ')}]`;
    return node.items.map((item) => `${indent}- ${this.lines(item, `${indent}  `, false).trimStart()}`).join('\n');
  }

  #map(map: MapNode, indent: string, namesOwn: boolean): string {
    return map.pairs
      .map(({ key, value }) => {
        const name = namesOwn ? this.stop(key.text) : key.text;
        const isBlock =
          value.kind === 'map' || (value.kind === 'list' && value.items.some((item) => item.kind !== 'scalar'));
        return `${indent}${name}:${isBlock ? '\n' : ' '}${this.lines(value, `${indent}  `, false)}`;
      })
      .join('\n');
  }
}

function written(text: string, quoted: boolean): string {
  return quoted ? `"${text}"` : text;
}

/**
 * The lines of an example, indented by `indent` spaces, the first one too.
 * @param example as it would stand behind its key on one line
 */
export function blockSnippet(example: string, indent: number, namesOwn: boolean): string | undefined {
  const { root } = parseDocument(`example: ${example}\n`);
  const value = root?.kind === 'map' ? root.pairs[0]?.value : undefined;
  if (!value || value.kind === 'scalar') return undefined;
  return new Body().lines(value, ' '.repeat(indent), namesOwn);
}
