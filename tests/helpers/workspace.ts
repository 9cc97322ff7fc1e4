/** A repo in memory: paths and texts in, the checker's answers out. */
import { readFileSync } from 'node:fs';
import { Checker, type CheckResult, type Outside } from '../../server/core/checker.ts';
import type { Entry, Host } from '../../server/core/host.ts';
import { rules } from '../../server/rules/index.ts';

const fixture = (name: string) => readFileSync(new URL(`../fixtures/kits/${name}`, import.meta.url), 'utf8');

/** The two kits that every test repo has. */
export const kits: Readonly<Record<string, string>> = {
  'kits/camera.kit.yaml': fixture('camera.kit.yaml'),
  'kits/phone.kit.yaml': fixture('phone.kit.yaml'),
};

/** Beside them a kit of the test's own. */
export const ownKit = (text: string): Readonly<Record<string, string>> => ({ 'kits/own.kit.yaml': text });

export function memoryHost(files: Readonly<Record<string, string>>): Host {
  const all = new Map(Object.entries({ ...kits, ...files }));
  return {
    read: (path) => (all.has(path) ? { text: all.get(path)! } : { problem: 'missing' }),
    exists: (path) => all.has(path),
    list: (folder) => entries([...all.keys()], folder),
  };
}

function entries(paths: readonly string[], folder: string): Entry[] {
  const start = folder === '' ? '' : `${folder}/`;
  const found = new Map<string, Entry>();
  for (const path of paths.filter((one) => one.startsWith(start))) {
    const [name = '', ...rest] = path.slice(start.length).split('/');
    found.set(name, { name, isFolder: rest.length > 0 });
  }
  return [...found.values()].sort((a, b) => (a.name < b.name ? -1 : 1));
}

export function checkerFor(files: Readonly<Record<string, string>> = {}, outside: Outside = {}): Checker {
  return new Checker(memoryHost(files), rules, outside);
}

/** Checks one spec beside some other files. */
export function checkSpec(text: string, files: Readonly<Record<string, string>> = {}): CheckResult {
  return checkerFor(files).checkAs('shoot', text);
}

/** A spec without findings, block by block; `spec` puts the given blocks in the place of these. */
const base: Readonly<Record<string, string>> = {
  title: 'title: Music box, a first look\n',
  kit: 'kit: kits/camera.kit.yaml\n',
  region: 'region: DE\n',
  product: 'product: { size: 9 x 6 x 7 cm, finish: satin, weight: 420 g }\n',
  deliver:
    'deliver:\n  film: { raster: 1920x1080, rate: 25, length: 10 s, codec: h264, bitrate: 16 Mb/s, sound: none }\n',
  camera: `camera:
  lens: normal
  support: tripod
  distance: 60 cm
  height: 8 cm
  raster: 3840x2160
  rate: 25
  bits: 10
  colour-space: bt709
  shutter: 1/50 s
  aperture: f/8
  iso: 400
  white-balance: 5000 K
  focus: locked
`,
  backdrop: 'backdrop: { material: paper, colour: "#d9d4c8", size: 200 x 200 cm, behind: 70 cm }\n',
  surface: 'surface: { material: walnut board, finish: satin, size: 120 x 80 cm, height: 75 cm }\n',
  room: 'room: { light: 4 lx, source: window, temperature: 5000 K }\n',
  lamps: `lamps:
  key: { use: panel, temperature: 5000 K, level: 40 %, distance: 60 cm, angle: 45°, height: 40 cm, role: key }
  fill: { use: tube, temperature: 5000 K, level: 50 %, distance: 70 cm, angle: 310°, height: 30 cm, role: fill }
`,
  shots: 'shots:\n  box: { record: 12 s }\n',
  cut: 'cut:\n  - { shot: box, length: 10 s }\n',
};

/** A whole spec from a few of its top-level blocks: the other blocks are those of a spec without findings. */
export function spec(blocks: string): string {
  const said = new Set([...blocks.matchAll(/^([a-z][a-z0-9-]*):/gm)].map((match) => match[1]!));
  const rest = Object.entries(base).filter(([key]) => !said.has(key));
  return rest.map(([, text]) => text).join('') + blocks;
}

/** Where the base spec and a sheet of it lie. */
export const [specPath, sheetPath] = ['film.shoot.yaml', 'film.takes.yaml'];

/** A sheet of the base spec from its other blocks. */
export function sheet(blocks: string): string {
  return /^spec:/m.test(blocks) ? blocks : `spec: ${specPath}\n${blocks}`;
}

/** Checks a sheet beside a spec that has the given blocks, and beside some other files. */
export function checkSheet(
  blocks: string,
  {
    plan = '',
    files = {},
    outside,
  }: { plan?: string; files?: Readonly<Record<string, string>>; outside?: Outside } = {},
): CheckResult {
  const text = sheet(blocks);
  const all = { [specPath]: spec(plan), [sheetPath]: text, ...files };
  return checkerFor(all, outside).check(sheetPath, text)!;
}
