/** Reads a rule's page: its sections, the specs in them, and the caret lines that say which finding must stand where. */
import type { CheckResult } from '../../server/core/checker.ts';
import type { Earlier } from '../../server/core/film.ts';
import { dateDays } from '../../server/core/units.ts';
import { heardOf, type SaidMusic } from './music.ts';
import { footageOf, type SaidClips } from './footage.ts';
import { checkerFor, sheet, sheetPath, spec, specPath } from './workspace.ts';

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
  readonly kind: 'shoot' | 'takes';
  /** What is checked, whole: blocks that the page leaves out are those of a spec without findings. */
  readonly text: string;
  /** Other files of the repo, by path. */
  readonly files: Readonly<Record<string, string>>;
  /** The clips that were found; undefined where nobody looks. */
  readonly clips?: SaidClips;
  /** What is heard in music, by its path. */
  readonly music?: SaidMusic;
  /** What the spec was at revisions of git; undefined where there is no git. */
  readonly earlier?: ReadonlyMap<string, string>;
  /** `2026-12-02`. */
  readonly today?: string;
}

/**
 * The specs of a section, one for each yaml block; a block with a path after `yaml` is another file beside them all.
 *
 * Where a block is `yaml takes` (or `yaml takes 2026-12-02`, which is then today), the sheets are the examples, and the
 * block without a name is what the spec beside them says otherwise. `yaml at 4f2a91c` is the spec at that revision of git. A block `json clips` holds what is known of clips, and
 * one of `json music` what is heard in files of music.
 */
export function examples(section: string): Example[] {
  const blocks = [...section.matchAll(/^```yaml *([^\n]*)\n([\s\S]*?)^```/gm)].map((match) => ({
    name: match[1]!.trim(),
    text: match[2]!,
  }));
  const isSheet = ({ name }: { name: string }) => /^takes\b/.test(name) && !name.includes('.');
  const isEarlier = ({ name }: { name: string }) => name.startsWith('at ');
  const named = blocks.filter((block) => block.name && !isSheet(block) && !isEarlier(block));
  const commits = blocks.filter(isEarlier).map(({ name, text }) => [name.slice(3), spec(text)] as const);
  const earlier = commits.length > 0 ? { earlier: new Map(commits) } : {};
  const files = Object.fromEntries(named.map(({ name, text }) => [name, text]));
  const unnamed = blocks.filter(({ name }) => !name);
  const sheets = blocks.filter(isSheet);
  const heard = /^```json music\n([\s\S]*?)^```/m.exec(section)?.[1];
  const music = heard === undefined ? undefined : (JSON.parse(heard) as SaidMusic);
  if (sheets.length === 0)
    return unnamed.map(({ text }) => ({
      kind: 'shoot',
      text: spec(text),
      files,
      ...(music && { music }),
      ...earlier,
    }));
  const plan = { [specPath]: spec(unnamed.map(({ text }) => text).join('')), ...files };
  const said = /^```json clips\n([\s\S]*?)^```/m.exec(section)?.[1];
  const clips = said === undefined ? undefined : (JSON.parse(said) as SaidClips);
  return sheets.map(({ name, text }) => {
    const today = name.split(' ')[1];
    return { kind: 'takes', text: sheet(text), files: plan, ...(clips && { clips }), ...(today && { today }) };
  });
}

/** What is found in an example, or in another text in its place. */
export function checkExample(example: Example, instead = example.text): CheckResult {
  const { kind, files, clips, music, today, earlier } = example;
  if (earlier)
    return checkerFor(files, { earlier: (_path, revision) => atRevision(earlier, revision) }).check(specPath, instead)!;
  if (kind === 'shoot') return checkerFor(files, { music: heardOf(music) }).checkAs('shoot', instead);
  const footage = clips && footageOf(clips);
  const outside = { footage: () => footage, today: () => (today === undefined ? undefined : dateDays(today)) };
  return checkerFor({ ...files, [sheetPath]: instead }, outside).check(sheetPath, instead)!;
}

function atRevision(earlier: ReadonlyMap<string, string>, revision: string): Earlier {
  const text = earlier.get(revision);
  const film = text === undefined ? undefined : checkerFor().checkAs('shoot', text).film;
  return film ? { kind: 'plan', film } : { kind: 'unknown', isCutOff: false };
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
