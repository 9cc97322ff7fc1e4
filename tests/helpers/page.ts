/** Reads a rule's page: its sections, the specs in them, and the caret lines that say which finding must stand where. */
import { spec } from './workspace.ts';

export interface Page {
  readonly title: string;
  readonly summary: string;
  readonly sections: ReadonlyMap<string, string>;
}

export function readPage(markdown: string): Page {
  const [head = '', ...parts] = markdown.split(/^## /m);
  const [title = '', summary = ''] = head.split('\n').filter((line) => line.trim() !== '');
  const sections = parts.map((part): [string, string] => {
    const end = part.indexOf('\n');
    return [part.slice(0, end).trim(), part.slice(end + 1)];
  });
  return { title: title.replace(/^# /, ''), summary, sections: new Map(sections) };
}

export interface Example {
  /** The spec, whole: blocks that the page leaves out are those of a spec without findings. */
  readonly text: string;
  /** Other files of the repo, by path. */
  readonly files: Readonly<Record<string, string>>;
}

/** The specs of a section, one for each yaml block; a block with a path after `yaml` is another file beside them all. */
export function examples(section: string): Example[] {
  const blocks = [...section.matchAll(/^```yaml *(\S*)\n([\s\S]*?)^```/gm)].map((match) => ({
    path: match[1]!,
    text: match[2]!,
  }));
  const files = Object.fromEntries(blocks.filter((block) => block.path).map((block) => [block.path, block.text]));
  return blocks.filter((block) => !block.path).map((block) => ({ text: spec(block.text), files }));
}

export interface Mark {
  readonly start: number;
  readonly end: number;
  readonly label: string;
}

/** The caret lines of a text: comments such as `#   ^^^^ rule-id` mark the characters above them. They stay in the text. */
export function marks(text: string): Mark[] {
  const found: Mark[] = [];
  let offset = 0;
  let above = 0;
  for (const line of text.split('\n')) {
    const match = /^(\s*#\s*)(\^+)\s+(\S+)\s*$/.exec(line);
    if (match) {
      const start = above + match[1]!.length;
      found.push({ start, end: start + match[2]!.length, label: match[3]! });
    } else {
      above = offset;
    }
    offset += line.length + 1;
  }
  return found;
}

/** The same text without its caret lines, for comparing. */
export function withoutMarks(text: string): string {
  return text.replace(/^\s*#\s*\^+\s+\S+\s*\n/gm, '');
}
