/**
 * Writes the text of a new shoot spec: two shots of one product, set so that nothing in it is wrong for the kit.
 *
 * It is a start to write over, so it says only what a film cannot do without. Numbers are taken from the kit where
 * it states them (lens, mode, ISO, lamp colour), and are ordinary table-top ones where it does not.
 */
import { mainsOfCountry } from '../calc/mains.ts';
import { child, pairOf } from '../core/document/node.ts';
import type { MapNode, Node } from '../core/document/node.ts';
import { ends, kelvin, lengthMm, number, region as readRegion } from '../core/units.ts';
import type { Ends } from '../core/units.ts';

export interface NewSpec {
  readonly title: string;
  /** Path from the repo's root, and the tree of the file; absent when gear is not to be looked up. */
  readonly kit?: { readonly path: string; readonly root: Node };
  /** As the format writes it: `DE`, `50 Hz`, `JP 60 Hz`. Absent where the settings file says it. */
  readonly region?: string;
  /** Mains frequency of that region, which the frame rate follows. */
  readonly mainsHz: number;
}

const daylightK = 5600;
const tableDistanceMm = 600;

export function newSpecText(spec: NewSpec): string {
  const gear = chooseGear(spec);
  const rate = gear.rate;
  return `${[
    `title: ${quoted(spec.title)}`,
    ...(spec.kit ? [`kit: ${quoted(spec.kit.path)}`] : []),
    ...(spec.region ? [`region: ${spec.region}`] : []),
    '',
    'product: { size: 9 x 6 x 7 cm, finish: matte }   # wide x deep x high, seen from the front',
    '',
    'deliver:',
    `  film: { raster: 1920x1080, rate: ${rate}, length: 12 s, bitrate: 16 Mb/s, sound: none }`,
    '',
    'camera:   # every shot starts from this',
    ...gear.camera.map((line) => `  ${line}`),
    `  distance: ${gear.distanceCm} cm`,
    `  raster: ${gear.raster}`,
    `  rate: ${rate}`,
    `  shutter: ${spec.mainsHz === 60 ? '1/60 s' : '1/50 s'}`,
    `  iso: ${gear.iso}`,
    `  white-balance: ${gear.lightK} K`,
    '  focus: locked',
    '',
    ...(gear.lamp ? ['lamps:', `  key: ${gear.lamp}`, ''] : []),
    'shots:',
    '  whole: { record: 10 s }',
    '  turned: { record: 10 s, turn: { starts: 30° } }',
    '',
    'cut:',
    '  - { shot: whole, length: 6 s }',
    '  - { shot: turned, length: 6 s }',
  ].join('\n')}\n`;
}

interface Chosen {
  /** Lines of the camera block that name gear. */
  readonly camera: readonly string[];
  readonly distanceCm: number;
  readonly raster: string;
  readonly rate: string;
  readonly iso: number;
  readonly lightK: number;
  readonly lamp?: string;
}

function chooseGear({ kit, mainsHz }: NewSpec): Chosen {
  const cameras = named(child(kit?.root, 'cameras'));
  const camera = cameras[0];
  const lenses = named(child(kit?.root, 'lenses')).filter((lens) => camera === undefined || fits(lens, camera.name));
  const lens = lenses[0];
  const mode = chooseMode(camera, mainsHz);
  const lamp = named(child(kit?.root, 'lamps'))[0];
  const lightK = lamp ? nearestWithin(daylightK, ends(kelvin)(textOf(lamp.block, 'temperature'))) : daylightK;
  const stop = lens ? stopLine(lens.block) : 'aperture: f/5.6';
  const nearestMm = lengthMm(textOf(lens?.block, 'nearest-focus')) ?? 0;
  return {
    camera: [
      ...(camera && cameras.length > 1 ? [`use: ${camera.name}`] : []),
      ...(lens && lenses.length > 1 ? [`lens: ${lens.name}`] : []),
      ...focalLine(lens?.block),
      ...(stop ? [stop] : []),
    ],
    // A little beyond the nearest focus where the lens needs more room than a table gives.
    distanceCm: Math.ceil(Math.max(tableDistanceMm, nearestMm * 1.2) / 10),
    raster: mode.raster,
    rate: mode.rate,
    iso: nearestWithin(number(textOf(camera?.block, 'base-iso')) ?? 100, ends(number)(textOf(camera?.block, 'iso'))),
    lightK,
    ...(lamp && {
      lamp: `{ use: ${lamp.name}, temperature: ${lightK} K, distance: 80 cm, angle: 45°, height: 50 cm }`,
    }),
  };
}

interface NamedBlock {
  readonly name: string;
  readonly block: MapNode;
}

function named(node: Node | undefined): NamedBlock[] {
  if (node?.kind !== 'map') return [];
  return node.pairs.flatMap(({ key, value }) => (value.kind === 'map' ? [{ name: key.text, block: value }] : []));
}

/** The words of a value: one for a scalar, several for a list of scalars. */
function words(node: Node | undefined): string[] {
  if (node?.kind === 'scalar') return [node.text];
  if (node?.kind === 'list') return node.items.flatMap((item) => (item.kind === 'scalar' ? [item.text] : []));
  return [];
}

function textOf(block: Node | undefined, key: string): string {
  return words(child(block, key))[0] ?? '';
}

function fits(lens: NamedBlock, camera: string): boolean {
  return pairOf(lens.block, 'fits') === undefined || words(child(lens.block, 'fits')).includes(camera);
}

/** The first mode with a rate that suits the mains, otherwise the first mode of all. */
function chooseMode(camera: NamedBlock | undefined, mainsHz: number): { raster: string; rate: string } {
  const wanted = mainsHz === 60 ? ['29.97', '30', '59.94', '60'] : ['25', '50'];
  const list = child(camera?.block, 'modes');
  const modes = (list?.kind === 'list' ? list.items : list ? [list] : []).map((mode) => ({
    raster: textOf(mode, 'raster'),
    rates: words(child(mode, 'rate')),
  }));
  for (const rate of wanted) {
    const mode = modes.find((candidate) => candidate.raster !== '' && candidate.rates.includes(rate));
    if (mode) return { raster: mode.raster, rate };
  }
  const first = modes.find((mode) => mode.raster !== '' && mode.rates.length > 0);
  return { raster: first?.raster ?? '3840x2160', rate: first?.rates[0] ?? wanted[0]! };
}

/** A lens with one stop needs no word; of a range, f/5.6 or the nearest to it is an ordinary start. */
function stopLine(lens: Node): string | undefined {
  const written = textOf(lens, 'aperture');
  const range = ends((text) => (text.startsWith('f/') ? number(text.slice(2)) : undefined))(written);
  if (range === undefined || range.from === range.to) return undefined;
  return `aperture: f/${nearestWithin(5.6, range)}`;
}

/** A zoom lens must say where it is set: at its middle. */
function focalLine(lens: Node | undefined): string[] {
  const range = ends(lengthMm)(textOf(lens, 'focal'));
  if (range === undefined || range.from === range.to) return [];
  return [`focal: ${Math.round((range.from + range.to) / 2)} mm`];
}

function nearestWithin(value: number, range: Ends | undefined): number {
  if (range === undefined) return value;
  const [low, high] = [Math.min(range.from, range.to), Math.max(range.from, range.to)];
  return Math.min(Math.max(value, low), high);
}

/** Mains frequency of a region as the format writes it; undefined where it is no region, or one with two kinds of mains. */
export function mainsHzOf(text: string): number | undefined {
  const region = readRegion(text);
  if (region === undefined) return undefined;
  const country = region.country === undefined ? undefined : mainsOfCountry(region.country);
  if (region.country !== undefined && country === undefined) return undefined;
  return region.mainsHz ?? (country?.hz.length === 1 ? country.hz[0] : undefined);
}

/** Plain where YAML reads it back unchanged, in double quotes otherwise. */
function quoted(text: string): string {
  const plain = /^[\p{L}\d][\p{L}\d ,.()/'_-]*$/u.test(text) && !/ $|^[\d.]+$|^(true|false|null)$/i.test(text);
  return plain ? text : JSON.stringify(text);
}

/** A kit to start from, for somebody who has written none: ordinary numbers of a phone and a small panel. */
export const firstKitText = `title: A phone and one lamp
# These are ordinary numbers, not yours: put in what the makers of your gear state.

cameras:
  phone:
    sensor: 9.8 x 7.3 mm
    base-iso: 50
    iso: 50 to 3200
    shutter: 1/8000 s to 1/24 s
    modes:
      - { raster: 3840x2160, rate: [24, 25, 30], codec: h265, bits: 10, bitrate: 75 Mb/s }
      - { raster: 3840x2160, rate: [50, 60], codec: h265, bits: 10, bitrate: 120 Mb/s }

lenses:
  main: { focal: 6.9 mm, aperture: f/1.8, nearest-focus: 15 cm }

lamps:
  panel: { output: 1400 lx at 1 m, temperature: 2800 K to 6500 K, beam: 100°, size: 30 x 20 cm, draw: 40 W }
`;
