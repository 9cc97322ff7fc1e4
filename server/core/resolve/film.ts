/** From the tree of a spec and its kits to the resolved film. */
import { mainsOfCountry } from '../../calc/mains.ts';
import { child, type MapNode, type Node, type Pair } from '../document/node.ts';
import type { Brief, Care, Day, Deliverable, Film, Kit, Piece, Right, SetUp, Shot, Val } from '../film.ts';
import { ends, type Region } from '../units.ts';
import * as u from '../units.ts';
import {
  type Clock,
  type CutContext,
  deliverableFields,
  filmSeconds,
  resolveCut,
  resolveDeliverable,
  resolveGrade,
  resolveMusic,
  resolvePiece,
  resolveSounds,
  resolveTimeline,
  resolveTitles,
  showsPiece,
} from './edit.ts';
import { Fields } from './fields.ts';
import { resolveLamps, resolveProduct, resolveSetUps, resolveShot, resolveShots, type SetContext } from './shots.ts';

export interface World {
  readonly kit: Kit;
  /** The settings file's region, for specs that say none. */
  readonly region?: string;
  exists(path: string): boolean;
}

/** All that a film is made from besides its shots and its cut, and the file that it was made from last. */
class Head {
  /** The top of the newest file of which these films were made. */
  root: MapNode | undefined;

  constructor(
    readonly world: World,
    readonly set: SetContext,
    readonly setUps: ReadonlyMap<string, SetUp>,
    readonly edit: Pick<CutContext, 'clock' | 'likes'>,
  ) {
    this.root = set.top.own;
  }
}

export function resolveFilm(root: Node | undefined, world: World): Film {
  const map = root?.kind === 'map' ? root : undefined;
  const at = root ?? { start: 0, end: 0 };
  const top = new Fields(map ? [map] : [], at, { own: map });
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
  const set: SetContext = { top, kit: world.kit, product, lamps };
  const shots = resolveShots(set, setUps);
  const likes = new Map(delivered.map((entry) => [entry.name, entry.likes]));
  const cut = resolveCut(top, { shots, clock, likes });
  const sounds = resolveSounds(top, clock);
  const heard = music !== undefined || sounds.length > 0 || cut.some((piece) => piece.sound === 'keep');
  const deliverables = new Map<string, Deliverable>(
    delivered.map((entry) => [entry.name, resolveDeliverable(entry, { clock, cut, heard })]),
  );
  return {
    head: new Head(world, set, setUps, { clock, likes }),
    title: top.text('title'),
    at: { start: at.start, end: at.end },
    region,
    ...mains(region?.value),
    onPurpose: top.names('on-purpose'),
    kit: world.kit,
    kitPaths: top.names('kit'),
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
  };
}

/**
 * The film of a file in which only some shots and lines of the cut are other nodes than in the file of `before`, which
 * is used up by it: it gives away its shots and its deliverables. Undefined where more has changed, or where the change
 * moves what stands behind it (a shot or a line more or less, another length, another shot in a line).
 */
export function resolveAgain(before: Film, root: MapNode, world: World): Film | undefined {
  const head = before.head as Head;
  const changed = head.root && sameWorld(head.world, world) ? changedIn(head.root, root) : undefined;
  if (!changed || before.shots.size !== shotsOf(root).length) return undefined;
  const lines = new Map(changed.lines.map((index) => [index, head.set.top.item(itemsOf(root)[index]!)]));
  for (const [index, f] of lines) if (movesOthers(before.cut[index]!, f, head.edit.clock)) return undefined;
  // A shot knows its pieces and they know it: what changes one of them makes all of them anew.
  const names = new Set(changed.lines.flatMap((index) => before.cut[index]!.shot?.name ?? []));
  const entries = new Map(
    changed.shots.map((index) => head.set.top.entry(shotsOf(root)[index]!)).map((one) => [one.name, one]),
  );
  const shots = before.shots as Map<string, Shot>;
  for (const name of new Set([...names, ...entries.keys()])) {
    const old = before.shots.get(name)!;
    const entry = entries.get(name);
    shots.set(name, entry ? resolveShot(entry, old.index, head.set, head.setUps) : { ...old, pieces: [] });
  }
  const context: CutContext = { shots, ...head.edit };
  const cut = before.cut.map((old, index) => {
    const stays = !lines.has(index) && (!old.shot || shots.get(old.shot.name) === old.shot);
    return stays ? old : resolvePiece(lines.get(index) ?? old.fields, index, context, old.startS);
  });
  for (const one of before.deliverables.values()) {
    (one as { pieces: readonly Piece[] }).pieces = cut.filter((piece) => showsPiece(one, piece));
  }
  head.root = root;
  return { ...before, at: { start: root.start, end: root.end }, shots, cut };
}

function sameWorld(a: World, b: World): boolean {
  return a.kit === b.kit && a.region === b.region;
}

function shotsOf(root: MapNode): readonly Pair[] {
  const block = child(root, 'shots');
  return block?.kind === 'map' ? block.pairs : [];
}

function itemsOf(root: MapNode): readonly Node[] {
  const list = child(root, 'cut');
  return list?.kind === 'list' ? list.items : [];
}

/** Which shots and lines of the cut are other nodes; undefined where something else is. */
function changedIn(before: MapNode, now: MapNode): { shots: number[]; lines: number[] } | undefined {
  const hasEntries = ({ key }: Pair) => key.text === 'shots' || key.text === 'cut';
  const sameHead =
    before.pairs.length === now.pairs.length &&
    before.pairs.every((old, index) => {
      const pair = now.pairs[index]!;
      const alike = old.value === pair.value || (hasEntries(old) && old.value.kind === pair.value.kind);
      return old.key === pair.key && alike;
    });
  if (!sameHead) return undefined;
  const shots = different(shotsOf(before), shotsOf(now), (a, b) => a.key.text === b.key.text);
  const lines = different(itemsOf(before), itemsOf(now), () => true);
  return shots && lines && { shots, lines };
}

/** The places at which two lists hold other objects; undefined where they can't be told by their places. */
function different<T>(before: readonly T[], now: readonly T[], alike: (a: T, b: T) => boolean): number[] | undefined {
  if (before.length !== now.length) return undefined;
  const places: number[] = [];
  for (let index = 0; index < now.length; index++) {
    const [a, b] = [before[index]!, now[index]!];
    if (a === b) continue;
    if (!alike(a, b)) return undefined;
    places.push(index);
  }
  return places;
}

/** Is a line of the cut about another shot now, longer or shorter, dissolved into, or heard where it was not? */
function movesOthers(old: Piece, f: Fields, clock: Clock): boolean {
  return (
    f.text('shot')?.value !== old.shotName?.value ||
    filmSeconds(f.read('length', u.filmTime)?.value, clock) !== old.lengthS ||
    (filmSeconds(f.read('dissolve', u.filmTime)?.value, clock) ?? 0) !== old.dissolveS ||
    (f.word('sound', 'none') === 'keep') !== (old.sound === 'keep')
  );
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
    mustShow: f.names('must-show'),
    mustNotShow: f.names('must-not-show'),
    needsRights: f.names('needs-rights'),
    due: f.read('due', u.dateDays),
  };
}

function right({ name, at, fields: f }: { name: string; at: { start: number; end: number }; fields: Fields }): Right {
  return {
    name,
    start: at.start,
    end: at.end,
    fields: f,
    kind: f.text('kind'),
    proof: f.text('proof'),
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
