/**
 * Writes the text of a new shoot spec: two shots of one product, set so that nothing in it is wrong for the kit.
 *
 * It is a start to write over, so it says only what a film cannot do without. Numbers are taken from the kit where
 * it states them (lens, mode, ISO, lamp colour), and are ordinary table-top ones where it does not. Those that hang
 * together (distance, aperture, ISO, how far the lamp is) are tried until the checker has nothing to say.
 */
import { parseRate } from '../calc/rate.ts';
import { distanceForFieldMm } from '../calc/optics.ts';
import { usedSensor } from '../calc/sensor.ts';
import { quote } from '../core/document/edits.ts';
import { child, pairOf } from '../core/document/node.ts';
import type { MapNode, Node } from '../core/document/node.ts';
import type { Finding, Severity } from '../core/finding.ts';
import { ends, kelvin, lengthMm, number, raster, sizeMm } from '../core/units.ts';
import type { Ends } from '../core/units.ts';

export interface NewSpec {
  readonly title: string;
  /** The tree of the kit that gear is taken from; absent when it is not to be looked up. */
  readonly gear?: Node;
  /** Path of the kit from the repo's root; absent where the settings file names it, or there is none. */
  readonly kit?: string;
  /** As the format writes it: `DE`, `50 Hz`, `JP 60 Hz`. Absent where the settings file says it. */
  readonly region?: string;
  /** Mains frequency of that region, which the frame rate follows. */
  readonly mainsHz: number;
}

const daylightK = 5600;
/** Where the kit does not say what the lens shows. */
const tableDistanceMm = 600;
/** Of the product that the text names: the sides that the camera sees. */
const product = { widthMm: 60, heightMm: 70 };

/** How bad a finding is in a text that is to have none. */
const cost: Readonly<Record<Severity, number>> = { error: 1000, warning: 100, info: 10, hint: 1 };

/** @param check what the checker finds in a text; without it the text is the most ordinary one */
export function newSpecText(spec: NewSpec, check: (text: string) => readonly Finding[] = () => []): string {
  const gear = chooseGear(spec);
  const brightnesses = brightnessesOf(gear);
  let best = { text: '', cost: Infinity };
  for (const framing of framings(gear)) {
    for (const [index, brightness] of brightnesses.entries()) {
      const text = textWith(spec, gear, framing, brightness);
      const found = check(text);
      if (costOf(found) < best.cost) best = { text, cost: costOf(found) };
      if (best.cost === 0) return text;
      // No other light mends what is not about light.
      if (index === 0 && costOf(found.filter(({ rule }) => !aboutLight.has(rule))) >= best.cost) break;
    }
  }
  return best.text;
}

const aboutLight: ReadonlySet<string> = new Set(['exposure-off', 'iso-off-base']);

function costOf(findings: readonly Finding[]): number {
  return findings.reduce((sum, { severity }) => sum + cost[severity], 0);
}

/** The settings file of a repo that has none: what holds for every film there, so that it is asked for once. */
export function newSettingsText(region: string | undefined): string {
  const lines = ['# What holds for every shoot spec in this folder. The paths of kits start here.', 'format: 1'];
  if (region !== undefined) lines.push(`region: ${quoted(region)}   # used by a spec that says no region`);
  return `${lines.join('\n')}\n`;
}

function textWith(spec: NewSpec, gear: Chosen, framing: Framing, { iso, lampCm }: Brightness): string {
  const { distanceCm, fNumber } = framing;
  const rate = gear.rate;
  return `${[
    `title: ${quoted(spec.title)}`,
    ...(spec.kit === undefined ? [] : [`kit: ${quoted(spec.kit)}`]),
    ...(spec.region ? [`region: ${quoted(spec.region)}`] : []),
    '',
    'product: { size: 6 x 4 x 7 cm, finish: matte }   # wide x deep x high, seen from the front',
    '',
    'deliver:',
    `  film: { raster: 1920x1080, rate: ${rate}, length: 12 s, bitrate: 16 Mb/s, sound: none }`,
    '',
    'camera:   # every shot starts from this',
    ...gear.camera.map((line) => `  ${line}`),
    ...(fNumber === undefined ? [] : [`  aperture: f/${fNumber}`]),
    `  distance: ${distanceCm} cm`,
    `  raster: ${gear.raster}`,
    `  rate: ${rate}`,
    `  shutter: ${spec.mainsHz === 60 ? '1/60 s' : '1/50 s'}`,
    `  iso: ${iso}`,
    `  white-balance: ${gear.lightK} K`,
    '  focus: locked',
    '',
    ...(gear.lamp === undefined
      ? []
      : [
          'lamps:',
          `  key: { use: ${inBraces(gear.lamp)}, temperature: ${gear.lightK} K, distance: ${lampCm} cm, angle: 45°, height: 50 cm }`,
          '',
        ]),
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
  /** The most ordinary first, as are the numbers below. */
  readonly distancesCm: readonly number[];
  /** None where the lens has one stop, which needs no word. */
  readonly fNumbers: readonly (number | undefined)[];
  readonly isos: readonly number[];
  readonly raster: string;
  readonly rate: string;
  readonly lightK: number;
  readonly lamp?: string;
}

/** What decides how large the product is, and how much of it is sharp. */
interface Framing {
  readonly distanceCm: number;
  readonly fNumber?: number;
}

interface Brightness {
  readonly iso: number;
  readonly lampCm: number;
}

function framings({ distancesCm, fNumbers }: Chosen): Framing[] {
  return distancesCm.flatMap((distanceCm) => fNumbers.map((fNumber) => ({ distanceCm, fNumber })));
}

function brightnessesOf({ isos, lamp }: Chosen): Brightness[] {
  const lampsCm = lamp === undefined ? [0] : [80, 60, 120];
  return lampsCm.flatMap((lampCm) => isos.map((iso) => ({ iso, lampCm })));
}

function chooseGear({ gear, mainsHz }: NewSpec): Chosen {
  const cameras = named(child(gear, 'cameras'));
  const camera = cameras[0];
  const lenses = named(child(gear, 'lenses')).filter((lens) => camera === undefined || fits(lens, camera.name));
  const lens = lenses[0];
  const mode = chooseMode(camera, mainsHz);
  const lamp = named(child(gear, 'lamps'))[0];
  const lightK = lamp ? nearestWithin(daylightK, ends(kelvin)(textOf(lamp.block, 'temperature'))) : daylightK;
  return {
    camera: [
      ...(camera && cameras.length > 1 ? [`use: ${quoted(camera.name)}`] : []),
      ...(lens && lenses.length > 1 ? [`lens: ${quoted(lens.name)}`] : []),
      ...focalLine(lens?.block),
    ],
    distancesCm: distances(camera?.block, lens?.block, mode.raster),
    fNumbers: stops(lens?.block),
    isos: isosOf(camera?.block),
    raster: mode.raster,
    rate: mode.rate,
    lightK,
    lamp: lamp?.name,
  };
}

/** From where the product fills about two fifths of the picture, or a little less or more; not below the nearest focus. */
function distances(camera: Node | undefined, lens: Node | undefined, rasterText: string): number[] {
  const sensor = sizeMm(textOf(lens, 'sensor')) ?? sizeMm(textOf(camera, 'sensor'));
  const [focalMm, size] = [focalOf(lens), raster(rasterText)];
  // A little beyond the nearest focus, where nothing is sharp in front of it.
  const leastMm = (lengthMm(textOf(lens, 'nearest-focus')) ?? 0) * 1.2;
  const cm = (mm: number) => Math.ceil(Math.max(mm, leastMm) / 10);
  if (!sensor || !size || focalMm === undefined) return [cm(tableDistanceMm)];
  const used = usedSensor({ ...sensor, aspect: size.width / size.height });
  const found = [0.42, 0.36, 0.5, 0.3, 0.25].map((share) =>
    cm(
      Math.max(
        distanceForFieldMm(used.widthMm, focalMm, product.widthMm / share),
        distanceForFieldMm(used.heightMm, focalMm, product.heightMm / share),
      ),
    ),
  );
  return [...new Set(found)];
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
    rates: words(child(mode, 'rate')).filter((rate) => parseRate(rate) !== undefined),
  }));
  for (const rate of wanted) {
    const mode = modes.find((candidate) => raster(candidate.raster) !== undefined && candidate.rates.includes(rate));
    if (mode) return { raster: mode.raster, rate };
  }
  const first = modes.find((mode) => raster(mode.raster) !== undefined && mode.rates.length > 0);
  return { raster: first?.raster ?? '3840x2160', rate: first?.rates[0] ?? wanted[0]! };
}

/** A lens with one stop needs no word; of a range, f/5.6 or the nearest to it is an ordinary start. */
function stops(lens: Node | undefined): (number | undefined)[] {
  if (!lens) return [5.6];
  const range = ends((text) => (text.startsWith('f/') ? number(text.slice(2)) : undefined))(textOf(lens, 'aperture'));
  if (range === undefined || range.from === range.to) return [undefined];
  return [...new Set([5.6, 8, 11, 4, 2.8, 16].map((stop) => nearestWithin(stop, range)))];
}

/** From the base upwards, as far as the picture is not noisy. */
function isosOf(camera: Node | undefined): number[] {
  const range = ends(number)(textOf(camera, 'iso'));
  const base = nearestWithin(number(textOf(camera, 'base-iso')) ?? 100, range);
  const most = number(textOf(camera, 'noisy-above')) ?? base * 16;
  const isos = [1, 2, 4, 8, 16].map((times) => nearestWithin(base * times, range)).filter((iso) => iso <= most);
  return isos.length === 0 ? [base] : [...new Set(isos)];
}

/** A zoom lens must say where it is set: at its middle. */
function focalLine(lens: Node | undefined): string[] {
  const range = ends(lengthMm)(textOf(lens, 'focal'));
  return range === undefined || range.from === range.to ? [] : [`focal: ${focalOf(lens)} mm`];
}

function focalOf(lens: Node | undefined): number | undefined {
  const range = ends(lengthMm)(textOf(lens, 'focal'));
  if (range === undefined) return undefined;
  return range.from === range.to ? range.from : Math.round((range.from + range.to) / 2);
}

function nearestWithin(value: number, range: Ends | undefined): number {
  if (range === undefined) return value;
  const [low, high] = [Math.min(range.from, range.to), Math.max(range.from, range.to)];
  return Math.min(Math.max(value, low), high);
}

/** Plain where YAML reads it back unchanged, in quotes otherwise. */
function quoted(text: string): string {
  const plain = /^[\p{L}\d][\p{L}\d ,.()/'_-]*$/u.test(text) && !/ $|^[\d.]+$|^(true|false|null)$/i.test(text);
  return plain ? text : quote(text);
}

/** The same between braces, where a comma ends a value. */
function inBraces(text: string): string {
  return text.includes(',') ? quote(text) : quoted(text);
}
