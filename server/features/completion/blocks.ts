/** Whole blocks to start from, by the place where they stand, with places to go through. */
import { parseDocument } from '../../core/document/parse.ts';
import { at, type MapNode, type Node } from '../../core/document/node.ts';
import { type Field, fieldAt, type FieldPath, type FileKind } from '../../core/schema/fields.ts';
import { firstKit, newKitSnippet, newKitText } from '../new-kit.ts';
import { newSpecText } from '../new-spec.ts';
import { secondsText } from '../../core/say.ts';
import type { Ask } from './ask.ts';
import { clipNames } from './clip-names.ts';
import { escapeSnippet, type Item, nameText } from './item.ts';
import { type Frame, placeOf } from './keys.ts';
import { kindWord, namesFor, pathsFor } from './known-names.ts';
import type { InsertionPoint } from './insertion-point.ts';

interface Template {
  readonly label: string;
  readonly what: string;
  /** As it would stand behind its key on one line. */
  readonly example: string;
}

/** What is written again and again in a block of names or in a list, by its path; elsewhere the schema's example serves. */
const templates: Readonly<Record<string, readonly Template[]>> = {
  'shoot shots': [
    {
      label: 'new shot',
      what: 'One shot',
      example: '{ close: { subject: product, camera: { distance: 45 cm }, record: 10 s, takes: 2 } }',
    },
    {
      label: 'new shot that turns',
      what: 'One shot on the turntable',
      example: '{ turned: { record: 12 s, turn: { starts: 0°, by: 90° } } }',
    },
  ],
  'shoot set-ups': [
    {
      label: 'new set-up',
      what: 'What changes for several shots at once',
      example: '{ near: { build: 30 min, lit: [key], camera: { distance: 40 cm } } }',
    },
  ],
  'shoot lamps': [
    {
      label: 'new lamp',
      what: 'One lamp in its place',
      example:
        '{ fill: { use: panel, role: fill, temperature: 5600 K, level: 50 %, distance: 80 cm, angle: 315°, height: 50 cm } }',
    },
    {
      label: 'lamp moved',
      what: 'The same lamp placed again',
      example: '{ key-near: { moved-from: key, distance: 45 cm } }',
    },
  ],
  'shoot deliver': [
    {
      label: 'new deliverable',
      what: 'One finished file that is owed',
      example:
        '{ story: { shown-on: social, raster: 1080x1920, rate: 25, length: 20 s, bitrate: 16 Mb/s, sound: none } }',
    },
  ],
  'shoot cut': [
    { label: 'new piece', what: 'One piece of a shot', example: '[{ shot: whole, length: 4 s }]' },
    {
      label: 'new piece with a push-in',
      what: 'One piece of a shot, slowly enlarged in the edit',
      example: '[{ shot: whole, length: 4 s, zoom: 1 to 1.2 }]',
    },
  ],
  'shoot titles': [
    { label: 'new title', what: 'Words on the picture', example: '[{ text: "Made by hand", at: 2 s, hold: 3 s }]' },
  ],
  'takes takes': [
    { label: 'new takes', what: 'The takes of one shot', example: '{ opening: [{ clip: C0013.MP4, judged: best }] }' },
  ],
  'takes takes *': [
    { label: 'new take', what: 'One take and how good it is', example: '[{ clip: C0013.MP4, judged: best }]' },
    {
      label: 'new take in a clip that holds several',
      what: 'One take and where it lies',
      example: '[{ clip: C0015.MP4, part: 40 s to 52 s, judged: good }]',
    },
  ],
  'takes masters': [{ label: 'new master', what: 'A file that was exported', example: '{ film: film-1.mp4 }' }],
  'kit lamps': [
    {
      label: 'new lamp',
      what: 'One lamp that you own',
      example:
        '{ panel: { output: 1400 lx at 1 m, temperature: 2800 K to 6500 K, cri: 95, beam: 100°, size: 30 x 20 cm, pulses: 20 kHz, draw: 40 W } }',
    },
  ],
  'kit lenses': [
    {
      label: 'new lens',
      what: 'One lens that you own',
      example: '{ normal: { focal: 25 mm, aperture: f/1.7 to f/22, nearest-focus: 25 cm } }',
    },
  ],
  'kit modes': [
    {
      label: 'new mode',
      what: 'A picture size and the rates that the camera records',
      example: '[{ raster: 3840x2160, rate: [24, 25, 30], codec: h265, bits: 10, bitrate: 75 Mb/s }]',
    },
  ],
};

/** Whole blocks for a place where a key may stand: in an empty file, block or item, or under a name of one's own. */
export function blockItemsAt(field: Field, ask: Ask, spot: InsertionPoint, frame: Frame): Item[] {
  if (frame.flow || frame.hasColon || field.shape === 'value' || field.shape === 'values') return [];
  if (spot.path.length === 0) return spot.siblings.size === 0 ? wholeFile(ask, frame) : [];
  const isItem = typeof spot.path.at(-1) === 'number';
  if (field.shape !== 'named' && spot.siblings.size > 0) return [];
  const list = isItem ? fieldAt(ask.kind, spot.path.slice(0, -1)) : field;
  return templatesOf(list ?? field, ask.kind, isItem ? spot.path.slice(0, -1) : spot.path).flatMap(
    ({ label, what, example }) => {
      const lines = new Body(ask, spot).lines(example, isItem || field.shape === 'lines');
      return lines === undefined ? [] : block(label, what, `${lines.trimStart()}$0`, frame);
    },
  );
}

const anExample = 'an example';

function templatesOf(field: Field, kind: FileKind, path: FieldPath): readonly Template[] {
  // A list under a name of the user's own is known by the block of names.
  const isUnderName = fieldAt(kind, path.slice(0, -1))?.shape === 'named';
  const own = templates[isUnderName ? `${kind} ${String(path.at(-2))} *` : `${kind} ${field.key}`];
  if (own) return own;
  const [example] = field.examples;
  if (example === undefined) return [];
  return [{ label: field.defines ? `new ${kindWord(field.defines)}` : anExample, what: field.title, example }];
}

function block(label: string, detail: string, text: string, frame: Frame): Item {
  const snippet = escapeSnippet(frame.before) + text;
  // An `a` means a key that starts with it.
  const filter = label === anExample ? { filter: 'new example' } : {};
  return { label, kind: 'block', detail, text: snippet, isSnippet: true, more: false, ...filter, ...placeOf(frame) };
}

/** A whole film, or a whole kit, to write over. */
function wholeFile(ask: Ask, frame: Frame): Item[] {
  if (ask.kind === 'kit') {
    return [block('new kit', 'A phone and one lamp to start from', newKitSnippet(newKitText(firstKit)), frame)];
  }
  if (ask.kind === 'takes') return newSheet(ask, frame);
  if (ask.kind !== 'shoot') return [];
  const [path] = pathsFor(fieldAt('shoot', ['kit'])!, ask.here);
  const root = path && ask.here.files.file(path.name)?.doc.root;
  const kit = root ? { kit: path.name, gear: root } : {};
  const text = newSpecText({ title: 'Name of the film', ...kit, region: 'DE', mainsHz: 50 });
  const stops = escapeSnippet(text)
    .replace(/^title: (.*)/, 'title: ${1:$1}')
    .replace(/^region: (.*)/m, 'region: ${2:$1}');
  return [block('new spec', 'A film of two shots to start from', `${stops}$0`, frame)];
}

/** A sheet of the first spec beside it, for the first day on which it is shot. */
function newSheet({ here }: Ask, frame: Frame): Item[] {
  const [spec] = pathsFor(fieldAt('takes', ['spec'])!, here);
  if (!spec) return [];
  const { path = '', files } = here;
  const root = files.file(path.slice(0, path.lastIndexOf('/') + 1) + spec.name)?.doc.root;
  const [shot] = namesIn(at(root, ['shots']));
  const day = at(root, ['schedule', 0, 'day']);
  const lines = [
    `spec: \${1:${escapeSnippet(nameText(spec.name))}}`,
    ...(day?.kind === 'scalar' ? [`day: \${2:${escapeSnippet(day.text)}}`] : []),
    'takes:',
    `  \${3:${escapeSnippet(shot ?? 'shot')}}:`,
    '    - $0',
  ];
  return [block('new sheet', 'The takes of a day to start from', lines.join('\n'), frame)];
}

function namesIn(node: Node | undefined): string[] {
  return node?.kind === 'map' ? node.pairs.map(({ key }) => key.text) : [];
}

/** A block as a snippet: each name of the user's own and each value is a place to go on from. */
class Body {
  #stop = 0;
  readonly #ask: Ask;
  readonly #spot: InsertionPoint;

  constructor(ask: Ask, spot: InsertionPoint) {
    this.#ask = ask;
    this.#spot = spot;
  }

  /** The lines of an example at the column of the spot, the first one indented too. */
  lines(example: string, isItem: boolean): string | undefined {
    const value = valueOf(example);
    const inner = isItem && value?.kind === 'list' ? value.items[0] : value;
    const { path } = this.#spot;
    const at = isItem && typeof path.at(-1) !== 'number' ? [...path, 0] : path;
    if (!inner || inner.kind === 'scalar') return undefined;
    const column = this.#spot.column + (at === path ? 0 : 2);
    return this.#node(inner, column, at);
  }

  #node(node: Node, column: number, path: FieldPath): string {
    if (node.kind === 'map') return this.#map(node, column, path);
    // Words are typed over between their quotes.
    if (node.kind === 'scalar' && node.quoted) return `"${this.#place(node.text)}"`;
    if (node.kind === 'scalar') return this.#place(this.#known(node.text, path));
    const isPlain = node.items.every((item) => item.kind === 'scalar');
    if (isPlain) return `[${node.items.map((item, index) => this.#node(item, 0, [...path, index])).join(', ')}]`;
    return node.items
      .map((item, index) => `${' '.repeat(column)}- ${this.#node(item, column + 2, [...path, index]).trimStart()}`)
      .join('\n');
  }

  #map(map: MapNode, column: number, path: FieldPath): string {
    const field = fieldAt(this.#ask.kind, path);
    const namesOwn = field?.shape === 'named' && (field.defines !== undefined || field.names.length > 0);
    return map.pairs
      .map(({ key, value }) => {
        const name = namesOwn ? this.#place(this.#free(key.text, path)) : key.text;
        const isBlock =
          value.kind === 'map' || (value.kind === 'list' && value.items.some((item) => item.kind !== 'scalar'));
        const inner = this.#node(value, column + 2, [...path, key.text]);
        return `${' '.repeat(column)}${name}:${isBlock ? '\n' : ' '}${inner}`;
      })
      .join('\n');
  }

  #place(text: string): string {
    return `\${${++this.#stop}:${escapeSnippet(text)}}`;
  }

  /** What the film or its kit has, in place of what only the example has. */
  #known(text: string, path: FieldPath): string {
    if (path[0] === 'deliver' && path.at(-1) === 'length') return filmLength(this.#ask) ?? text;
    if (path[0] === 'titles' && path.at(-1) === 'at') return titleStart(this.#ask) ?? text;
    const shot = path[0] === 'cut' && path.at(-1) === 'shot' ? shotNotInCut(this.#ask) : undefined;
    if (shot !== undefined) return nameText(shot);
    const field = fieldAt(this.#ask.kind, path);
    const [clip] = field ? clipNames(field, this.#ask) : [];
    if (clip) return nameText(clip.name);
    const names = field && field.names.length > 0 ? namesFor(field, this.#ask.here).map(({ name }) => name) : [];
    return names.length === 0 || names.includes(text) ? text : names[0]!;
  }

  /** A name that is not taken yet in the block of the spot: one that is defined elsewhere where it stands for such a one. */
  #free(name: string, path: FieldPath): string {
    if (path.length !== this.#spot.path.length) return name;
    const field = fieldAt(this.#ask.kind, path);
    const known = field && !field.defines ? namesFor(field, this.#ask.here).map((one) => one.name) : [];
    const open = known.find((one) => !this.#spot.siblings.has(one));
    if (open !== undefined) return open;
    let free = name;
    for (let count = 2; this.#spot.siblings.has(free); count++) free = `${name}-${count}`;
    return free;
  }
}

/** As the first finished file that is owed whole says it, else as long as the cut is. */
function filmLength({ base }: Ask): string | undefined {
  const film = base?.result.film;
  const whole = [...(film?.deliverables.values() ?? [])].find((one) => one.lengthS !== undefined && !one.section);
  const lengthS = whole?.lengthS ?? film?.cut.at(-1)?.endS;
  return lengthS ? secondsText(lengthS, 3) : undefined;
}

/** So long a new title stands; it begins as long after the title before it. */
const titleHoldS = 3;

/** After the titles that are there, or at the end of the film where it ends before. */
function titleStart({ base }: Ask): string | undefined {
  const { titles = [], cutS = Infinity } = base?.result.film ?? {};
  const ends = titles.flatMap(({ atS, holdS }) => (atS === undefined ? [] : atS + (holdS ?? 0)));
  const latestS = Math.max(0, cutS - titleHoldS);
  const [usualS, afterS] = [2, Math.max(0, ...ends) + 1];
  const startS = Math.min(latestS, ends.length === 0 ? usualS : afterS);
  return Number.isFinite(startS) ? secondsText(Math.floor(startS * 10 + 1e-6) / 10) : undefined;
}

/** The first shot that no piece shows yet. */
function shotNotInCut({ base }: Ask): string | undefined {
  return [...(base?.result.film?.shots.values() ?? [])].find(({ pieces }) => pieces.length === 0)?.name;
}

function valueOf(example: string): Node | undefined {
  const { root } = parseDocument(`example: ${example}\n`);
  return root?.kind === 'map' ? root.pairs[0]?.value : undefined;
}

/** The lines of a field's example under its key, which stands at the spot's column. */
export function exampleBelow(field: Field, ask: Ask, spot: InsertionPoint): string | undefined {
  const [example] = field.examples;
  const below = { ...spot, column: spot.column + 2, siblings: new Map<string, string>() };
  return example === undefined ? undefined : new Body(ask, below).lines(example, false);
}
