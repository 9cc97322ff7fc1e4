/** From the trees of kit files to the gear in them. */
import { ends, type Ends, type Reader, type Share } from '../units.ts';
import * as u from '../units.ts';
import type { Node } from '../document/node.ts';
import type {
  Battery,
  CameraBody,
  Card,
  Filter,
  Gear,
  Kit,
  KitLamp,
  Lens,
  Microphone,
  Mode,
  Modifier,
  Reel,
  Screen,
  Support,
  Turntable,
  Val,
} from '../film.ts';
import { Fields } from './fields.ts';

export interface KitSource {
  /** Path from the repo's root. */
  readonly file: string;
  readonly root: Node | undefined;
}

/**
 * All the gear of several kits. A name in two of them counts where it stands first.
 *
 * @param complete false where a kit is named that could not be read
 */
export function resolveKit(sources: readonly KitSource[], complete = true): Kit {
  const roots = sources.map(({ file, root }) => {
    const map = root?.kind === 'map' ? root : undefined;
    return new Fields(map ? [map] : [], root ?? { start: 0, end: 0 }, { file, own: map });
  });
  const gather = <T extends Gear>(key: string, make: (gear: Gear) => T): ReadonlyMap<string, T> => {
    const all = new Map<string, T>();
    for (const root of roots) {
      for (const { name, at, fields } of root.named(key)) {
        if (!all.has(name)) all.set(name, make(gearOf(name, at, fields)));
      }
    }
    return all;
  };
  return {
    files: sources.map((source) => source.file),
    complete: complete && sources.every((source) => source.root !== undefined),
    cameras: gather('cameras', camera),
    lenses: gather('lenses', lens),
    filters: gather('filters', filter),
    lamps: gather('lamps', lamp),
    modifiers: gather('modifiers', modifier),
    screens: gather('screens', screen),
    supports: gather('supports', support),
    turntables: gather('turntables', turntable),
    microphones: gather('microphones', microphone),
    cards: gather('cards', card),
    batteries: gather('batteries', battery),
    reels: gather('reels', reel),
  };
}

/** The kinds of gear, by their key in a kit. */
export const gearKinds = [
  'cameras',
  'lenses',
  'filters',
  'lamps',
  'modifiers',
  'screens',
  'supports',
  'turntables',
  'microphones',
  'cards',
  'batteries',
  'reels',
] as const satisfies readonly (keyof Kit)[];

function gearOf(name: string, at: { start: number; end: number }, fields: Fields): Gear {
  return {
    name,
    start: at.start,
    end: at.end,
    fields,
    file: fields.file,
    count: fields.number('count', u.number, 1),
    fits: fields.list('fits', (text) => text),
  };
}

/** A frequency, or one of the words. */
function hertzOr<W extends string>(...words: readonly W[]): Reader<number | W> {
  return (text) => words.find((word) => word === text) ?? u.hertz(text);
}

function camera(gear: Gear): CameraBody {
  const f = gear.fields;
  return {
    ...gear,
    sensor: f.read('sensor', u.sizeMm),
    baseIsos: [...(f.list('base-iso', u.number) ?? [])].sort((a, b) => a.value - b.value),
    noisyAbove: f.read('noisy-above', u.number),
    iso: f.read('iso', ends(u.number)),
    shutter: f.read('shutter', ends(u.shutter)),
    stabiliserCrop: f.number('stabiliser-crop', u.number, 1),
    draw: f.read('draw', u.watts),
    weight: f.read('weight', u.weightG),
    longestTake: f.read('longest-take', u.realTimeS),
    fileLimit: f.read('file-limit', u.bytes),
    modes: f.items('modes').map(mode),
  };
}

function mode(f: Fields): Mode {
  return {
    start: f.range.start,
    end: f.range.end,
    fields: f,
    raster: f.read('raster', u.raster),
    rates: f.list('rate', u.rate) ?? [],
    codec: f.word('codec', 'h264'),
    bits: f.number('bits', u.number, 8),
    chroma: f.word('chroma', '4:2:0'),
    colourSpaces: f.said('colour-space') ? f.words('colour-space') : ['bt709'],
    bitrate: f.read('bitrate', u.bitRate),
    readout: f.read('readout', u.realTimeS),
    crop: f.number('crop', u.number, 1),
    converts: f.text('converts'),
  };
}

function lens(gear: Gear): Lens {
  const f = gear.fields;
  return {
    ...gear,
    focal: f.read('focal', ends(u.lengthMm)),
    aperture: f.read('aperture', ends(u.aperture)),
    nearestFocus: f.read('nearest-focus', u.lengthMm),
    frontToSensorMm: f.number('front-to-sensor', u.lengthMm, 0),
    sensor: f.read('sensor', u.sizeMm),
    weight: f.read('weight', u.weightG),
  };
}

function filter(gear: Gear): Filter {
  const f = gear.fields;
  return {
    ...gear,
    kind: f.text('kind')?.value,
    loses: f.number('loses', u.stops, 0),
    warms: f.number('warms', u.mired, 0),
    power: f.read('power', u.number),
    length: f.read('length', u.lengthMm),
  };
}

function lamp(gear: Gear): KitLamp {
  const f = gear.fields;
  return {
    ...gear,
    output: f.read('output', u.lightOutput),
    temperature: f.read('temperature', ends(u.kelvin)),
    duv: f.read('duv', u.number),
    cri: f.read('cri', u.number),
    tlci: f.read('tlci', u.number),
    r9: f.read('r9', u.number),
    beamDeg: f.number('beam', u.angleDeg, 120),
    size: f.read('size', u.sizeMm),
    pulses: f.read('pulses', hertzOr('mains', 'none')),
    dimming: f.text('dimming'),
    ripple: f.read('ripple', u.share),
    kind: f.text('kind'),
    draw: f.read('draw', u.watts),
    powerFactor: f.read('power-factor', u.number),
    battery: f.read('battery', u.wattHours),
    clearance: f.read('clearance', u.lengthMm),
    laserClass: f.text('laser-class'),
    riskGroup: f.read('risk-group', u.number),
    level: aboveNothing(f.read('level', ends(u.share))),
    weight: f.read('weight', u.weightG),
  };
}

function modifier(gear: Gear): Modifier {
  const f = gear.fields;
  return {
    ...gear,
    loses: f.number('loses', u.stops, 0),
    warms: f.number('warms', u.mired, 0),
    beamDeg: f.number('beam', u.angleDeg, undefined),
    size: f.read('size', u.sizeMm),
  };
}

function screen(gear: Gear): Screen {
  const f = gear.fields;
  return {
    ...gear,
    size: f.read('size', u.sizeMm),
    raster: f.read('raster', u.raster),
    refreshes: f.list('refresh', u.hertz) ?? [],
    pulses: f.read('pulses', hertzOr('none')),
    panel: f.text('panel'),
    white: f.read('white', u.luminance),
    temperatureK: f.number('temperature', u.kelvin, 6500),
    draw: f.read('draw', u.watts),
  };
}

function support(gear: Gear): Support {
  const f = gear.fields;
  return {
    ...gear,
    standsOn: f.text('stands-on')?.value as Support['standsOn'],
    height: f.read('height', ends(u.lengthMm)),
    travel: f.read('travel', u.lengthMm),
    speed: f.read('speed', ends(u.speedMmS)),
    load: f.read('load', u.weightG),
    reach: f.read('reach', u.lengthMm),
    foot: f.read('foot', u.lengthMm),
    weight: f.read('weight', u.weightG),
  };
}

function turntable(gear: Gear): Turntable {
  const f = gear.fields;
  return {
    ...gear,
    speed: f.read('speed', ends(u.turningRpm)),
    load: f.read('load', u.weightG),
    size: f.read('size', u.sizeMm),
  };
}

function microphone(gear: Gear): Microphone {
  const f = gear.fields;
  return { ...gear, sampleRate: f.number('sample-rate', u.hertz, 48_000), bits: f.number('bits', u.number, 24) };
}

function card(gear: Gear): Card {
  const f = gear.fields;
  return { ...gear, holds: f.read('holds', u.bytes), writes: f.read('writes', u.byteRate) };
}

function battery(gear: Gear): Battery {
  return { ...gear, energy: gear.fields.read('energy', u.wattHours) };
}

function reel(gear: Gear): Reel {
  const f = gear.fields;
  return { ...gear, wound: f.read('wound', u.watts), unwound: f.read('unwound', u.watts) };
}

/** The gear that is meant: the named one, or the only one that fits where no name is given. */
export function pick<T extends Gear>(
  all: ReadonlyMap<string, T>,
  name: string | undefined,
  fitting: (gear: T) => boolean = () => true,
): T | undefined {
  if (name !== undefined) return all.get(name);
  const candidates = [...all.values()].filter(fitting);
  return candidates.length === 1 ? candidates[0] : undefined;
}

/** Does `gear` fit the thing of that name? Nothing said fits all. */
export function fits(gear: Gear, name: string | undefined): boolean {
  return gear.fits === undefined || name === undefined || gear.fits.some((val) => val.value === name);
}

/** The least that a lamp is set to and still is lit: a dimmer marked from 0 % turns it off there (common practice, no source). */
const leastLevel: Share = 0.01;

function aboveNothing(level: Val<Ends<Share>> | undefined): Val<Ends<Share>> | undefined {
  return level && level.value.from === 0 ? { ...level, value: { ...level.value, from: leastLevel } } : level;
}
