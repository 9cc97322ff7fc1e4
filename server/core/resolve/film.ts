/** From the tree of a spec and its kits to the resolved film. */
import type { MusicHeard } from '../decoded.ts';
import type { Photograph } from '../photograph.ts';
import type { Sketch } from '../sketch.ts';
import { mainsOfCountry } from '../../calc/mains.ts';
import type { Node } from '../document/node.ts';
import type { Agreed, Brief, Care, Day, Deliverable, Earlier, Film, Kit, Measured, Right, Val } from '../film.ts';
import type { Fees } from '../settings-fees.ts';
import { ends, type Region } from '../units.ts';
import * as u from '../units.ts';
import {
  type Clock,
  deliverableFields,
  resolveCut,
  resolveDeliverable,
  resolveGrade,
  resolveMusic,
  resolveSounds,
  resolveTimeline,
  resolveTitles,
} from './edit.ts';
import { Fields } from './fields.ts';
import { resolveLamps, resolveProduct, resolveSetUps, resolveShots, type SetContext } from './shots.ts';

export interface World {
  readonly kit: Kit;
  /** The settings file's region, for specs that say none. */
  readonly region?: string;
  /** What work costs, from the settings. */
  readonly fees?: Fees | undefined;
  /** What meters said on the set, by the names of shots. */
  readonly measured?: ReadonlyMap<string, Measured>;
  exists(path: string): boolean;
  photograph?(path: string): Photograph | string | undefined;
  sketch?(path: string): Sketch | string | undefined;
  heard?(path: string): MusicHeard | undefined;
  earlier?(revision: string): Earlier | undefined;
  lastCommit?(): string | undefined;
}

/** @param file the spec's path, for a film that is looked at from another file */
export function resolveFilm(root: Node | undefined, world: World, file?: string): Film {
  const map = root?.kind === 'map' ? root : undefined;
  const at = root ?? { start: 0, end: 0 };
  const top = new Fields(map ? [map] : [], at, { file, own: map });
  const region = top.read('region', u.region) ?? settingsRegion(top, world.region, at);
  const delivered = deliverableFields(top);
  const timeline = resolveTimeline(
    top,
    delivered.map((entry) => entry.fields),
  );
  const music = resolveMusic(top);
  const clock: Clock = { rate: timeline.rate?.value, tempoBpm: music?.tempo?.value };
  const product = resolveProduct(top);
  const lamps = resolveLamps(top, world.kit);
  const setUps = resolveSetUps(top);
  const set: SetContext = { top, kit: world.kit, product, lamps, measured: world.measured ?? new Map() };
  const shots = resolveShots(set, setUps);
  const likes = new Map(delivered.map((entry) => [entry.name, entry.likes]));
  const cut = resolveCut(top, { shots, clock, likes });
  const sounds = resolveSounds(top, clock);
  const heard = music !== undefined || sounds.length > 0 || cut.some((piece) => piece.sound === 'keep');
  const deliverables = new Map<string, Deliverable>(
    delivered.map((entry) => [entry.name, resolveDeliverable(entry, { clock, cut, heard })]),
  );
  return {
    title: top.text('title'),
    at: { start: at.start, end: at.end },
    fields: top,
    region,
    ...mains(region?.value),
    onPurpose: top.names('on-purpose'),
    agreed: top.said('agreed') ? agreed(top.block('agreed')) : undefined,
    ...(world.fees && { fees: world.fees }),
    kit: world.kit,
    brief: top.said('brief') ? brief(top.block('brief')) : undefined,
    product,
    deliverables,
    timeline,
    lamps,
    setUps,
    shots,
    music,
    sounds,
    cut,
    cutS: cut.at(-1)?.endS,
    cutAt: top.keyRange('cut'),
    titles: resolveTitles(top, clock),
    grade: resolveGrade(top),
    rights: new Map(top.named('rights').map((entry) => [entry.name, right(entry)])),
    schedule: top.items('schedule').map(day),
    care: top.said('care') ? care(top.block('care')) : undefined,
    exists: (path) => world.exists(path),
    photograph: (path) => world.photograph?.(path),
    sketch: (path) => world.sketch?.(path),
    heard: (path) => world.heard?.(path),
    earlier: (revision) => world.earlier?.(revision),
    lastCommit: () => world.lastCommit?.(),
  };
}

function settingsRegion(top: Fields, text: string | undefined, at: { start: number }): Val<Region> | undefined {
  const value = text === undefined || top.said('region') ? undefined : u.region(text);
  return value && text !== undefined ? { value, text, start: at.start, end: at.start } : undefined;
}

function mains(region: Region | undefined): { mainsHz?: number; mainsVolts?: number } {
  const country = region?.country === undefined ? undefined : mainsOfCountry(region.country);
  const only = country?.hz.length === 1 ? country.hz[0] : undefined;
  return { mainsHz: region?.mainsHz ?? only, mainsVolts: region?.volts ?? country?.volts };
}

function here(fields: Fields) {
  return { start: fields.range.start, end: fields.range.end, fields };
}

function brief(f: Fields): Brief {
  return {
    ...here(f),
    client: f.text('client'),
    purpose: f.text('purpose'),
    mustShow: f.names('must-show'),
    mustNotShow: f.names('must-not-show'),
    needsRights: f.names('needs-rights'),
    due: f.read('due', u.dateDays),
  };
}

function agreed(f: Fields): Agreed {
  return { ...here(f), who: f.text('who'), day: f.read('day', u.dateDays), revision: f.text('revision') };
}

function right({ name, at, fields: f }: { name: string; at: { start: number; end: number }; fields: Fields }): Right {
  return {
    name,
    start: at.start,
    end: at.end,
    fields: f,
    kind: f.text('kind'),
    proof: f.text('proof'),
    media: f.text('file'),
    owner: f.word('owner', 'licensed'),
    credit: f.text('credit'),
    shownOn: f.words('shown-on'),
    shownOnAt: f.keyRange('shown-on'),
    territory: f.words('territory'),
    territoryAt: f.keyRange('territory'),
    from: f.read('from', u.dateDays),
    until: f.read('until', u.dateDays),
  };
}

function day(f: Fields): Day {
  const hours = f.read('hours', ends(u.minutesOfDay));
  const from = hours?.value.from ?? 0;
  const overnight = hours !== undefined && hours.value.to < from;
  // Of work that ends after midnight, an hour that is earlier than the start is the next day's.
  const after = (minutes: number) => (overnight && minutes < from ? minutes + 24 * 60 : minutes);
  return {
    ...here(f),
    day: f.read('day', u.dateDays),
    hours: hours && { ...hours, value: { from, to: after(hours.value.to) } },
    order: f.list('order', (text) => text),
    breaksS: f.number('breaks', u.realTimeS, 0),
    cards: f.list('cards', (text) => text),
    batteries: f.list('batteries', (text) => text),
    offload: f.list('offload', u.minutesOfDay)?.map((val) => ({ ...val, value: after(val.value) })),
  };
}

function care(f: Fields): Care {
  return {
    ...here(f),
    circuit: f.read('circuit', u.amps),
    alsoOnCircuit: f.read('also-on-circuit', u.watts),
    cableReel: f.text('cable-reel'),
    residualCurrent: f.text('residual-current'),
    charging: f.text('charging'),
    travelByAir: f.text('travel-by-air'),
    precautions: f.names('precautions'),
  };
}
