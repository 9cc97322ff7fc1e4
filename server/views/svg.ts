/**
 * Drawings as data: elements that become SVG text here, or ink elsewhere. Everything that is written is escaped, and
 * colours are named, so that whoever shows the drawing can choose them.
 */
import type { Range } from '../core/document/node.ts';

/** Colours by what they are for. On `paper` and `shade` the first four keep a contrast of 4.5 or more (WCAG 2.2, 1.4.3). */
export const inks = {
  ink: '#16191d',
  soft: '#4a515a',
  accent: '#0b5394',
  alarm: '#a3221a',
  line: '#7d858f',
  faint: '#c6ccd3',
  shade: '#eef0f3',
  paper: '#ffffff',
} as const;
export type InkName = keyof typeof inks;

/** A colour by its name; plain strings are colours that the user gave. */
export interface Ink {
  readonly ink: InkName;
}

export const ink: Readonly<Record<InkName, Ink>> = Object.fromEntries(
  Object.keys(inks).map((name) => [name, { ink: name }]),
) as Record<InkName, Ink>;

export type Attr = string | number | Ink | undefined;
export type Attrs = Readonly<Record<string, Attr>>;

export interface El {
  readonly name: 'svg' | 'g' | 'path' | 'rect' | 'circle' | 'line' | 'text' | 'image' | 'title' | 'desc';
  readonly attrs: Attrs;
  readonly children: readonly (El | string)[];
}

export interface Point {
  readonly x: number;
  readonly y: number;
}

export function el(name: El['name'], attrs: Attrs = {}, children: readonly (El | string)[] = []): El {
  return { name, attrs, children };
}

/** A thing that comes from the spec: the characters it comes from, so that a reader can be taken there. */
export function from(range: (Range & { readonly file?: string }) | undefined, children: readonly El[]): El {
  if (!range) return el('g', {}, children);
  return el('g', { 'data-start': range.start, 'data-end': range.end, 'data-file': range.file }, children);
}

export function line(a: Point, b: Point, attrs: Attrs = {}): El {
  return el('line', { x1: a.x, y1: a.y, x2: b.x, y2: b.y, stroke: ink.ink, 'stroke-width': 1, ...attrs });
}

/** An outline through points, closed unless `open`. */
export function polygon(points: readonly Point[], attrs: Attrs = {}, open = false): El {
  return el('path', { d: pathOf(points, open), fill: 'none', stroke: ink.ink, 'stroke-width': 1, ...attrs });
}

function pathOf(points: readonly Point[], open = false): string {
  const steps = points.map(({ x, y }, index) => `${index === 0 ? 'M' : 'L'}${digits(x)} ${digits(y)}`);
  return steps.join('') + (open ? '' : 'Z');
}

/** Separate strokes as one path. */
export function strokes(lines: readonly (readonly [Point, Point])[], attrs: Attrs = {}): El {
  const d = lines.map(([a, b]) => pathOf([a, b], true)).join('');
  return el('path', { d, fill: 'none', stroke: ink.ink, 'stroke-width': 1, ...attrs });
}

export interface TextStyle {
  readonly size?: number;
  readonly bold?: boolean;
  readonly anchor?: 'start' | 'middle' | 'end';
  readonly fill?: Ink | string;
  /** A rim of paper around the letters, for words that stand on lines. */
  readonly halo?: boolean;
  readonly more?: Attrs;
}

/** One line of text; `at` is its baseline. */
export function text(at: Point, words: string, style: TextStyle = {}): El {
  const { size = 12, bold, anchor, fill = ink.ink, halo, more } = style;
  const rim = halo ? { stroke: ink.paper, 'stroke-width': 3, 'stroke-linejoin': 'round', 'paint-order': 'stroke' } : {};
  const attrs = {
    x: at.x,
    y: at.y,
    'font-size': size,
    'font-weight': bold ? 'bold' : undefined,
    'text-anchor': anchor === 'start' ? undefined : anchor,
    fill,
    ...rim,
    ...more,
  };
  return el('text', attrs, [words]);
}

export interface SvgStyle {
  /** Colours as custom properties (`--plan-ink` …) with ours behind them; else ours alone, for any viewer of SVG. */
  readonly themed?: boolean;
  /** Without the places of the spec, which nobody is taken to from paper. */
  readonly isPrinted?: boolean;
}

export function toText(element: El, style: SvgStyle = {}): string {
  const { name, attrs, children } = element;
  let open = `<${name}`;
  for (const key in attrs) {
    const value = attrs[key];
    if (value === undefined || (style.isPrinted && key.startsWith('data-'))) continue;
    open += ` ${key}="${attrText(value, style)}"`;
  }
  if (children.length === 0) return `${open}/>`;
  let inside = '';
  for (const one of children) inside += typeof one === 'string' ? escaped(one) : toText(one, style);
  return `${open}>${inside}</${name}>`;
}

function attrText(value: string | number | Ink, { themed }: SvgStyle): string {
  if (typeof value === 'number') return digits(value);
  if (typeof value === 'string') return escaped(value);
  return themed ? `var(--plan-${value.ink},${inks[value.ink]})` : inks[value.ink];
}

/** At most two decimals; what is no number is written as 0, so that no drawing breaks on it. */
export function digits(value: number): string {
  if (!Number.isFinite(value)) return '0';
  const rounded = Math.round(value * 100) / 100;
  return String(Object.is(rounded, -0) ? 0 : rounded);
}

const entities: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
  '\t': ' ',
  '\n': ' ',
  '\r': ' ',
};

/**
 * Text that stays text in HTML and in XML: marks are written as entities, and characters that XML forbids, that turn
 * text round or that are half a character become U+FFFD.
 */
export function escaped(words: string): string {
  return words.replace(
    // eslint-disable-next-line no-control-regex -- control characters are what this looks for
    /[&<>"'\t\n\r]|[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f\u061c\u200e\u200f\u2028\u2029\u202a-\u202e\u2066-\u2069\ufeff\ufffe\uffff]|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g,
    (character) => entities[character] ?? '\ufffd',
  );
}
