/** What a spec says is fixed: `# fixed` at the end of a line keeps the values on it, `# fixed: iso, shutter` only those. */
import type { Doc } from '../../core/document/parse.ts';
import type { Fields } from '../../core/resolve/fields.ts';

/** Is the value that counts for this key marked as fixed, wherever it is written? */
export type Pinned = (fields: Fields, key: string) => boolean;

const form = /^fixed\b\s*(?::\s*(.*))?$/;

export function pinsOf(doc: Doc): Pinned {
  const pins = new Map<number, ReadonlySet<string> | 'all'>();
  const alone = new Set(doc.comments.filter((one) => one.alone).map((one) => doc.lines.line(one.start)));
  for (const comment of doc.comments) {
    const match = form.exec(comment.text);
    if (!match) continue;
    let line = doc.lines.line(comment.start);
    if (comment.alone)
      do line++;
      while (alone.has(line));
    const keys = (match[1] ?? '').split(/[\s,]+/).filter((key) => key !== '');
    pins.set(line, keys.length > 0 ? new Set(keys) : 'all');
  }
  return (fields, key) => {
    const node = fields.node(key);
    const pin = node && !fields.file ? pins.get(doc.lines.line(node.start)) : undefined;
    return pin === 'all' || (pin?.has(key) ?? false);
  };
}
