/**
 * What a hover says: the numbers that what stands here moves, what the kit says of a name, the field's meaning, and in a
 * line why a rule minds. Editors say the findings themselves.
 */
import type { CheckResult } from '../core/checker.ts';
import { at, type Node, pairsOf, type Range } from '../core/document/node.ts';
import type { Film, Gear } from '../core/film.ts';
import { listFirst } from '../core/say.ts';
import { type Field, fieldAt, fieldMarkdown } from '../core/schema/fields.ts';
import { markdownWords } from '../formats/escape.ts';
import { type FoundNode, nodeAt } from './node-at.ts';
import {
  deliverableNumbers,
  filmNumbers,
  lampNumbers,
  musicNumbers,
  type HoverLine,
  partNumbers,
  pieceNumbers,
  regionNumbers,
  shotNumbers,
  titleNumbers,
} from './hover-lines.ts';

export interface Hover {
  readonly markdown: string;
  readonly range: Range;
}

/** The Markdown page of a rule, and where a reader can open it. */
export interface RulePage {
  readonly text: string;
  readonly address?: string;
}

export function hoverAt(
  result: CheckResult,
  offset: number,
  page: (rule: string) => RulePage | undefined,
): Hover | undefined {
  const cursor = nodeAt(result.doc.root, offset);
  const findings = result.findings.filter((finding) => finding.start <= offset && offset <= finding.end);
  if (!cursor && findings.length === 0) return undefined;
  const field = cursor && fieldAt(result.kind, cursor.path);
  const numbers = cursor ? numbersAt(result, cursor) : [];
  const gear = cursor && field ? gearText(result, field, cursor) : undefined;
  const rules = [...new Set(findings.map((finding) => finding.rule))];
  const why = rules.flatMap((rule) => whyLine(rule, page(rule)) ?? []);
  const parts = [
    [...numbers, ...(gear ? [gear] : [])].map((text) => `- ${markdownWords(text)}`).join('\n'),
    field ? fieldMarkdown(field) : '',
    why.join('\n\n'),
  ].filter((part) => part !== '');
  const range = cursor?.range ?? findings[0]!;
  return parts.length > 0
    ? { markdown: parts.join('\n\n---\n\n'), range: { start: range.start, end: range.end } }
    : undefined;
}

// -- numbers ---------------------------------------------------------------------------------------------------------

type Step = string | number | undefined;

/** What has numbers, by the block it stands in: those of the thing under this name or at this position. */
const numbersOf: Readonly<Record<string, (film: Film, name: Step, inner: Step) => HoverLine[]>> = {
  shots: (film, name) => of(film.shots.get(String(name)), (shot) => shotNumbers(shot, film)) ?? filmNumbers(film),
  lamps: (film, name) => of(film.lamps.get(String(name)), (lamp) => lampNumbers(lamp, film)) ?? [],
  deliver: (film, name) => of(film.deliverables.get(String(name)), (one) => deliverableNumbers(one, film)) ?? [],
  cut: (film, name) => of(film.cut[Number(name)], (piece) => pieceNumbers(piece, film)) ?? filmNumbers(film),
  titles: (film, name) => of(film.titles[Number(name)], (title) => titleNumbers(title, film)) ?? [],
  product: (film, block, part) =>
    (block === 'parts' && of(film.product.parts.get(String(part)), (one) => partNumbers(one, film))) || [],
  camera: cameraNumbers,
  music: musicNumbers,
  region: regionNumbers,
  title: filmNumbers,
};

/** All of the thing at its name; at a key in it those that the key moves. */
function numbersAt({ film }: CheckResult, { path }: FoundNode): string[] {
  const [block, name, inner] = path;
  const all = typeof block === 'string' && Object.hasOwn(numbersOf, block) ? numbersOf[block] : undefined;
  const lines = (film && all?.(film, name, inner)) ?? [];
  const depth = { camera: 1, music: 1, region: 1, title: 1, product: 3 }[String(block)] ?? 2;
  // `zoom-by: { story: 1.2 }`: a name in a block is moved by what moves the block.
  const keys = path
    .slice(depth)
    .filter((step) => typeof step === 'string')
    .slice(-2);
  const shown = keys.length === 0 ? lines : lines.filter((line) => keys.some((key) => line.keys.includes(key)));
  return shown.map((line) => line.text);
}

function of<T>(thing: T | undefined, lines: (thing: T) => HoverLine[]): HoverLine[] | undefined {
  return thing && lines(thing);
}

/** The top's camera has no numbers of its own: those of the first shot stand for it. */
function cameraNumbers(film: Film): HoverLine[] {
  const [shot] = film.shots.values();
  return (shot ? shotNumbers(shot, film) : []).map((line) =>
    film.shots.size > 1 ? { ...line, text: `${line.text}, in ${shot!.name}` } : line,
  );
}

// -- gear ------------------------------------------------------------------------------------------------------------

const gearLists: Readonly<Record<string, (film: Film) => ReadonlyMap<string, Gear>>> = {
  camera: ({ kit }) => kit.cameras,
  lens: ({ kit }) => kit.lenses,
  filter: ({ kit }) => kit.filters,
  'kit-lamp': ({ kit }) => kit.lamps,
  modifier: ({ kit }) => kit.modifiers,
  screen: ({ kit }) => kit.screens,
  support: ({ kit }) => kit.supports,
  turntable: ({ kit }) => kit.turntables,
  microphone: ({ kit }) => kit.microphones,
  card: ({ kit }) => kit.cards,
  battery: ({ kit }) => kit.batteries,
};

/** What the kit says of gear that is named here. */
function gearText({ film, doc }: CheckResult, { names }: Field, { path, range, onKey }: FoundNode): string | undefined {
  const node = onKey ? at(doc.root, path) : undefined;
  const name = onKey ? plainText(node) : doc.text.slice(range.start, range.end);
  for (const kind of film ? names : []) {
    const gear = gearLists[kind]?.(film!).get(name);
    if (gear) return `${name}${gear.file === undefined ? '' : `, ${gear.file}`}: ${saidOf(gear)}`;
  }
  return undefined;
}

/** So many fields of gear are shown. */
const mostFields = 12;

function saidOf({ fields }: Gear): string {
  const keys = [...new Set(fields.layers.flatMap((layer) => pairsOf(layer).map(({ key }) => key.text)))];
  const said = keys.flatMap((key) => {
    const node = fields.node(key);
    if (node?.kind === 'list' && node.items.some((item) => item.kind === 'map')) return `${node.items.length} ${key}`;
    const text = plainText(node);
    return text === '' || key === 'notes' ? [] : `${key} ${text}`;
  });
  return listFirst(said, mostFields);
}

function plainText(node: Node | undefined): string {
  if (node?.kind === 'scalar') return node.text;
  return node?.kind === 'list' ? node.items.map(plainText).join(', ') : '';
}

// -- why -------------------------------------------------------------------------------------------------------------

/** The first sentence of a page's Why, and where to read on. */
function whyLine(rule: string, page: RulePage | undefined): string | undefined {
  const why = page && /^## Why\n([\s\S]*?)(?=^## )/m.exec(page.text)?.[1]?.trim();
  const first = why && /^[\s\S]*?[.:](?=\s|$)/.exec(why)?.[0].replace(/\s+/g, ' ').replace(/:$/, '.');
  if (!page || !first) return undefined;
  return `${first} ${page.address === undefined ? `(\`${rule}\`)` : `[${rule}](${page.address})`}`;
}
