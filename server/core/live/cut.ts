/**
 * Cuts the text of a spec into stretches that can be read one by one: a key at the top of the file with what belongs to
 * it, a shot, a line of the cut. Comments and empty lines go with the stretch before them.
 */

/** The blocks at the top of the file whose entries are stretches of their own. */
export type Section = 'shots' | 'cut';

const sections: ReadonlySet<string> = new Set<Section>(['shots', 'cut']);

/** What stands at the start of a stretch. */
export interface Opening {
  /** The key; for a line of the cut nothing. */
  readonly name: string;
  /** The section that an entry is in; absent for a key at the top. */
  readonly entryOf?: Section;
  /** The section that a key at the top opens. */
  readonly opens?: Section;
  /** How far an entry is indented. */
  readonly indent: number;
}

export interface Cut extends Opening {
  readonly text: string;
}

/** Where in the file a text begins: in a section, whose entries are indented so far if there are any before. */
export interface Start {
  readonly section?: Section | undefined;
  readonly indent?: number | undefined;
}

const topKey = /^([a-z][a-z0-9-]*):(?=[ \t\r\n]|$)([^\n]*)/;
const entryKey = /^ *([A-Za-z0-9_][\w-]*):(?=[ \t\r\n]|$)/;
const entryDash = /^ *-(?= )/;
const nothing = /^[ \t]*(?:#.*)?\r?$/;

/**
 * @param text whole lines
 * @returns undefined where the lines can't be told apart like that, and the file has to be read as a whole
 */
export function cut(text: string, start: Start = {}): Cut[] | undefined {
  const openings: (Opening & { at: number })[] = [];
  let { section, indent } = start;
  for (let at = 0; at < text.length; at = lineAfter(text, at)) {
    const depth = depthAt(text, at);
    if (depth === 'blank') continue;
    if (depth === 'tab') return undefined;
    // Deeper lines belong to what stands above them.
    if (section ? indent !== undefined && depth > indent : depth > 0) continue;
    const line = text.slice(at, lineAfter(text, at));
    // So do the lines of a list, which may start below the first letter of its key.
    if (!section && entryDash.test(line)) continue;
    const top = depth === 0 ? topKey.exec(line) : null;
    if (top) {
      const opened = sections.has(top[1]!) && nothing.test(top[2]!);
      section = opened ? (top[1] as Section) : undefined;
      indent = undefined;
      openings.push({ at, name: top[1]!, indent: 0, ...(section && { opens: section }) });
      continue;
    }
    const name = section && entryName(line, section, depth);
    if (name === undefined || (indent !== undefined && depth !== indent)) return undefined;
    indent = depth;
    openings.push({ at, name, indent, entryOf: section! });
  }
  return openings.map(({ at, ...opening }, index) => ({
    ...opening,
    // What stands before the first key goes with it.
    text: text.slice(index === 0 ? 0 : at, openings[index + 1]?.at ?? text.length),
  }));
}

function entryName(line: string, section: Section, depth: number): string | undefined {
  if (section === 'cut') return entryDash.test(line) ? '' : undefined;
  // What is no key of ours may still be one at the top.
  return depth > 0 ? entryKey.exec(line)?.[1] : undefined;
}

function lineAfter(text: string, at: number): number {
  const end = text.indexOf('\n', at);
  return end < 0 ? text.length : end + 1;
}

/** How many spaces a line starts with; lines of blanks and comments alone have no depth. */
function depthAt(text: string, at: number): number | 'blank' | 'tab' {
  let end = at;
  while (text.charCodeAt(end) === 32) end++;
  const next = text[end];
  if (next === '\t') return 'tab';
  return next === undefined || next === '\n' || next === '#' || next === '\r' ? 'blank' : end - at;
}
