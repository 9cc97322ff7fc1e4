/** The set and the shots: each shot with everything it takes over from its set-up and from the top of the file. */
import { sameRate } from '../../calc/rate.ts';
import type { Range } from '../document/node.ts';
import type {
  Action,
  Backdrop,
  Camera,
  CameraBody,
  Kit,
  LampPlace,
  Lens,
  Measured,
  Mode,
  Part,
  Piece,
  Product,
  Room,
  SetUp,
  Shot,
  Subject,
  Surface,
  Turn,
  Val,
} from '../film.ts';
import { onceIn } from '../memo.ts';
import { middleInShotMm, productMiddleMm } from '../product-place.ts';
import type { Box } from '../units.ts';
import { ends, type Reader } from '../units.ts';
import * as u from '../units.ts';
import { Fields } from './fields.ts';
import { fits, pick } from './kit.ts';

/** A quantity, or one of the words. */
function or<T, W extends string>(reader: Reader<T>, ...words: readonly W[]): Reader<T | W> {
  return (text) => words.find((word) => word === text) ?? reader(text);
}

const shutterOrAuto = or(u.shutter, 'auto');
const apertureOrAuto = or(u.aperture, 'auto');
const isoOrAuto = or(u.number, 'auto');
/** A round thing looks alike however far it is turned. */
const facesAround: Reader<number> = (text) => (text === 'round' ? Infinity : u.number(text));
const kelvinOrAuto = or(u.kelvin, 'auto');
const focus = or(ends(u.lengthMm), 'locked', 'follow', 'auto');
const luxOrNone: Reader<number> = (value) => (value === 'none' ? 0 : u.lux(value));

export function resolveProduct(top: Fields): Product {
  const f = top.block('product');
  const parts = new Map<string, Part>();
  for (const { name, at, fields } of f.named('parts')) {
    parts.set(name, {
      name,
      start: at.start,
      end: at.end,
      fields,
      size: fields.read('size', u.sizeMm),
      heightMm: fields.number('height', u.lengthMm, undefined),
      letters: fields.read('letters', u.lengthMm),
      weave: fields.read('weave', u.lengthMm),
      faces: fields.text('faces')?.value as Part['faces'],
      picture: fields.text('picture'),
    });
  }
  return {
    start: f.range.start,
    end: f.range.end,
    fields: f,
    size: f.read('size', u.sizeMm),
    finish: f.word('finish', 'matte'),
    colour: f.read('colour', u.colour),
    weight: f.read('weight', u.weightG),
    hazards: f.names('hazards'),
    arrives: f.read('arrives', u.dateDays),
    returns: f.read('returns', u.dateDays),
    symmetry: f.read('symmetry', facesAround),
    flashPoint: f.read('flash-point', u.celsius),
    weave: f.read('weave', u.lengthMm),
    hangs: f.read('hangs', u.lengthMm),
    picture: f.text('picture'),
    units: f.read('units', u.number),
    parts,
  };
}

/** Every place of a lamp; a place that is `moved-from` another takes over what it does not say. */
export function resolveLamps(top: Fields, kit: Kit): Map<string, LampPlace> {
  const written = new Map(top.named('lamps').map((entry) => [entry.name, entry]));
  const places = new Map<string, LampPlace>();
  for (const { name, at, fields } of written.values()) {
    const { chain, origin } = movedFrom(name, fields, written);
    const layered = chain.reduce((all, base) => all.over(base), fields);
    places.set(name, lampPlace(name, origin, at, layered, kit));
  }
  for (const [name, place] of places) {
    const source = place.bouncesName && places.get(place.bouncesName.value);
    // A board before a board gives too little light to count.
    if (source && !source.bouncesName) places.set(name, { ...place, bounces: source, temperature: source.temperature });
  }
  return places;
}

/** A lamp that was moved more often than this counts as another one. */
const longestChain = 20;

/** The places that a place takes over, nearest first, and the one where the chain begins; a circle ends it. */
function movedFrom(name: string, fields: Fields, written: ReadonlyMap<string, { fields: Fields }>) {
  const chain: Fields[] = [];
  const seen = new Set([name]);
  let origin = name;
  let here = fields;
  for (;;) {
    const next = here.text('moved-from')?.value;
    const base = next === undefined || seen.has(next) ? undefined : written.get(next);
    if (next === undefined || !base || chain.length === longestChain) return { chain, origin };
    seen.add(next);
    chain.push(base.fields);
    origin = next;
    here = base.fields;
  }
}

function lampPlace(name: string, origin: string, at: Range, f: Fields, kit: Kit): LampPlace {
  const bouncesName = f.text('bounces');
  const kitName = f.text('use') ?? { value: origin, text: origin, start: at.start, end: at.end };
  const lamp = bouncesName ? undefined : kit.lamps.get(kitName.value);
  const changing = {
    temperature: f.read('temperature', ends(u.kelvin)) ?? fixedTemperature(lamp),
    level: f.read('level', ends(u.share)),
    distance: f.read('distance', ends(u.lengthMm)),
    angle: f.read('angle', ends(u.angleDeg)),
    height: f.read('height', ends(u.lengthMm)),
  };
  const modifierNames = f.names('modifier').filter((val) => val.value !== 'none');
  return {
    name,
    file: f.file,
    origin,
    start: at.start,
    end: at.end,
    fields: f,
    kitName,
    lamp,
    movedFrom: f.alone().text('moved-from'),
    modifierNames,
    modifiers: modifierNames.flatMap((val) => kit.modifiers.get(val.value) ?? []),
    temperature: changing.temperature,
    level: changing.level,
    distance: changing.distance,
    angle: changing.angle,
    height: changing.height,
    colour: f.read('colour', u.colour),
    aim: f.word('aim', 'product') === 'backdrop' ? 'backdrop' : 'product',
    role: f.text('role'),
    measured: f.read('measured', u.lux),
    bouncesName,
    size: f.read('size', u.sizeMm),
    reflects: f.number('reflects', u.share, usualReflects),
    keptOff: f.names('kept-off'),
    longSide: f.word('long-side', 'level') === 'upright' ? 'upright' : 'level',
    held: f.word('held', lamp?.kind?.value === 'window' ? 'nothing' : 'stand'),
    heldAt: f.text('held'),
    runsOn: runsOn(f, lamp),
    runsOnAt: f.text('runs-on'),
    flashes: f.read('flashes', u.hertz),
    flashArea: f.read('flash-area', u.share),
    changes: Object.values(changing).some((val) => val && val.value.from !== val.value.to),
  };
}

/** White foam board (common practice, no source). */
const usualReflects = 0.85;

function runsOn(f: Fields, lamp: LampPlace['lamp']): LampPlace['runsOn'] {
  if (f.said('bounces') || lamp?.kind?.value === 'window') return 'nothing';
  if (lamp?.kind?.value === 'flame') return 'fuel';
  return f.word('runs-on', 'mains') === 'battery' ? 'battery' : 'mains';
}

function fixedTemperature(lamp: LampPlace['lamp']): LampPlace['temperature'] {
  const range = lamp?.temperature;
  return range && range.value.from === range.value.to ? range : undefined;
}

export interface SetContext {
  readonly top: Fields;
  readonly kit: Kit;
  readonly product: Product;
  readonly lamps: ReadonlyMap<string, LampPlace>;
  readonly measured: ReadonlyMap<string, Measured>;
}

export function resolveSetUps(top: Fields): Map<string, SetUp> {
  const all = new Map<string, SetUp>();
  for (const { name, at, fields } of top.named('set-ups')) {
    all.set(name, { name, start: at.start, end: at.end, fields, build: fields.read('build', u.realTimeS) });
  }
  return all;
}

export function resolveShots(context: SetContext, setUps: ReadonlyMap<string, SetUp>): Map<string, Shot> {
  const shots = new Map<string, Shot>();
  const usual = usuallyLit(context.lamps);
  let left = mostLit;
  for (const { name, at, fields } of context.top.named('shots')) {
    const one = shot({ name, at, own: fields, usual, left }, context, setUps);
    left = one.isBeyond ? 0 : left - one.lit.length;
    shots.set(name, one);
  }
  return shots;
}

/** So many lamps are looked at, each counted in every shot that it lights: a film has some dozens. */
const mostLit = 40_000;

/** A set-up on top of the top of the file: the same for all its shots, so that what they share is read once. */
const setUpOver = onceIn((setUp: Fields, top: Fields) => setUp.over(top));

interface Written {
  readonly name: string;
  readonly at: Range;
  readonly own: Fields;
  /** The lamps that light a shot which names none. */
  readonly usual: readonly LampPlace[];
  /** How many lamps may still light it. */
  readonly left: number;
}

function shot(written: Written, context: SetContext, setUps: ReadonlyMap<string, SetUp>): Shot {
  const { name, at, own, usual, left } = written;
  const { top, kit, product, lamps } = context;
  const setUpName = own.text('set-up');
  const setUp = setUpName && setUps.get(setUpName.value);
  // Blocks merge field by field through shot, set-up and top; each of the rest is taken whole from the nearest.
  const f = own.over(setUp ? setUpOver(setUp.fields, top) : top);
  const subject = subjectOf(own, at, product);
  const record = own.read('record', u.realTimeS);
  const handlesS = own.number('handles', u.realTimeS, 1);
  const action = own.said('action') ? actionOf(own.block('action')) : undefined;
  const litNames = own.list('lit', text) ?? setUp?.fields.list('lit', text);
  const lit = left === 0 ? [] : litNames ? named(litNames, lamps) : usual;
  const isBeyond = left === 0 || lit.length > left;
  const microphoneName = own.text('microphone');
  const [hung, laid] = [f.blockUnlessNone('backdrop'), f.blockUnlessNone('surface')];
  const backdrop = hung && backdropOf(hung, kit);
  return {
    name,
    file: own.file,
    start: at.start,
    end: at.end,
    fields: own,
    setUpName,
    setUp,
    subject,
    productMiddleMm: middleInShotMm(product, subject),
    shows: shown(own, subject),
    people: own.names('people'),
    onPurpose: meantIn(own, top),
    camera: cameraOf(f.block('camera'), kit),
    backdrop,
    surface: laid ? surfaceOf(laid) : sweepAsSurface(backdrop),
    room: f.said('room') ? roomOf(f.block('room')) : undefined,
    lit: isBeyond ? [] : lit,
    isBeyond,
    litNames,
    keyToFill: f.read('key-to-fill', u.stops),
    sharp: own.word('sharp', 'all') as Shot['sharp'],
    takes: own.number('takes', u.number, 1),
    takesAt: own.read('takes', u.number),
    record,
    interval: own.read('interval', u.realTimeS),
    handlesS,
    resetS: own.number('reset', u.realTimeS, 60),
    usesUp: own.read('uses-up', u.number),
    sketch: own.text('sketch'),
    after: own.names('after'),
    turn: own.said('turn') ? turnOf(own.block('turn'), kit) : undefined,
    action,
    actionS: action?.lasts?.value ?? (record && Math.max(0, record.value - 2 * handlesS)),
    microphoneName,
    microphone: microphoneName && kit.microphones.get(microphoneName.value),
    measured: context.measured.get(name),
    pieces: [] as Piece[],
  };
}

const text: Reader<string> = (value) => (value === '' ? undefined : value);

function named(names: readonly Val<string>[], lamps: ReadonlyMap<string, LampPlace>): LampPlace[] {
  return withoutDark(names.flatMap((name) => lamps.get(name.value) ?? []));
}

/** Where none are named, every lamp that stays as it is. */
function usuallyLit(lamps: ReadonlyMap<string, LampPlace>): LampPlace[] {
  return withoutDark([...lamps.values()].filter((lamp) => !lamp.changes && !lamp.movedFrom));
}

/** A board is dark without its lamp. */
function withoutDark(lit: LampPlace[]): LampPlace[] {
  const all = new Set(lit);
  return lit.filter(({ bounces }) => !bounces || all.has(bounces));
}

function subjectOf(own: Fields, at: Range, product: Product): Subject {
  const named = own.text('subject');
  const place = named ?? at;
  const part = named && product.parts.get(named.value);
  const productMiddle = productMiddleMm(product);
  if (part) {
    const box = boxOf(part);
    const range = { start: place.start, end: place.end };
    const heightMm = part.heightMm ?? productMiddle;
    const { name, letters, faces } = part;
    const weave = part.weave ?? product.weave;
    return { name, ...range, box, heightMm, letters, faces, isRing: isRing(box, faces, product), weave };
  }
  return {
    name: named?.value ?? 'product',
    start: place.start,
    end: place.end,
    // Of a part that is defined nowhere nothing is known.
    box: named && named.value !== 'product' ? undefined : product.size?.value,
    heightMm: productMiddle,
    weave: product.weave,
  };
}

/** As wide as deep on a round product that stands upright, and not said to look to a side. */
function isRing(box: Box | undefined, faces: Part['faces'], { symmetry, size }: Product): boolean {
  const isRound = symmetry?.value === Infinity && box !== undefined && box.widthMm === box.depthMm;
  return isRound && (faces ?? 'up') === 'up' && (size?.value.heightMm ?? 0) >= (size?.value.widthMm ?? 0);
}

/** A flat part that looks up lies, and one that looks aside stands along the product's side. */
function boxOf({ size, faces }: Part): Box | undefined {
  const box = size?.value;
  if (!box || box.depthMm !== undefined) return box;
  if (faces === 'up') return { widthMm: box.widthMm, depthMm: box.heightMm, heightMm: 0 };
  if (faces === 'left' || faces === 'right') return { widthMm: 0, depthMm: box.widthMm, heightMm: box.heightMm };
  return box;
}

function shown(own: Fields, subject: Subject): Val<string>[] {
  const listed = own.names('shows');
  if (listed.some((val) => val.value === subject.name)) return listed;
  return [{ value: subject.name, text: subject.name, start: subject.start, end: subject.end }, ...listed];
}

/** @param bodyName the camera that is used, where that is not what the block says */
export function cameraOf(f: Fields, kit: Kit, bodyName = f.text('use')): Camera {
  const body = pick(kit.cameras, bodyName?.value);
  const lensName = f.text('lens');
  const lens = pick(kit.lenses, lensName?.value, (one) => fits(one, body?.name));
  const supportName = f.text('support');
  const asked = {
    raster: f.read('raster', u.raster),
    rate: f.read('rate', u.rate),
    codec: f.text('codec'),
    bits: f.read('bits', u.number),
    colourSpace: f.text('colour-space'),
  };
  const filterNames = f.names('filters').filter((val) => val.value !== 'none');
  return {
    start: f.range.start,
    end: f.range.end,
    fields: f,
    bodyName,
    body,
    lensName,
    lens,
    supportName,
    support: supportName && kit.supports.get(supportName.value),
    runsOn: f.word('runs-on', 'battery') === 'mains' ? 'mains' : 'battery',
    focal:
      (isOfThis(f, 'lens', 'focal') ? f.read('focal', ends(u.lengthMm)) : undefined) ??
      (lens?.focal && fixed(lens.focal)),
    wayUp: f.word('way-up', 'upright') as Camera['wayUp'],
    wayUpAt: f.text('way-up'),
    distance: f.read('distance', ends(u.lengthMm)),
    height: f.read('height', ends(u.lengthMm)),
    angle: f.read('angle', ends(u.angleDeg)),
    slide: f.read('slide', ends(u.lengthMm)),
    offCentre: f.read('off-centre', u.share),
    raster: asked.raster,
    rate: asked.rate,
    codec: asked.codec,
    bits: asked.bits,
    colourSpace: asked.colourSpace,
    shutter: f.read('shutter', shutterOrAuto),
    aperture: f.read('aperture', apertureOrAuto) ?? onlyAperture(lens),
    iso: f.read('iso', isoOrAuto),
    whiteBalance: f.read('white-balance', kelvinOrAuto),
    focus: f.read('focus', focus),
    filterNames,
    filters: filterNames.flatMap((val) => kit.filters.get(val.value) ?? []),
    stabiliser: f.text('stabiliser'),
    meter: f.word('meter', 'product') === 'backdrop' ? 'backdrop' : 'product',
    exposure: f.read('exposure', u.stops),
    mode: body && firstMode(body, asked),
  };
}

function fixed<T>(val: Val<{ from: T; to: T }>): Val<{ from: T; to: T }> | undefined {
  return val.value.from === val.value.to ? val : undefined;
}

function onlyAperture(lens: Lens | undefined): Val<number> | undefined {
  const only = lens?.aperture && fixed(lens.aperture);
  return only && { ...only, value: only.value.from };
}

type WantedMode = Pick<Camera, 'raster' | 'rate' | 'codec' | 'bits' | 'colourSpace'>;

/** The first mode that has everything that was asked for; what was not said does not matter. */
export function firstMode(body: CameraBody, asked: WantedMode): Mode | undefined {
  return body.modes.find((mode) => modeHas(mode, asked));
}

export function modeHas(mode: Mode, { raster, rate, codec, bits, colourSpace }: WantedMode): boolean {
  const size = mode.raster?.value;
  return (
    (!raster || (size?.width === raster.value.width && size.height === raster.value.height)) &&
    (!rate || mode.rates.some((one) => sameRate(one.value, rate.value))) &&
    (!codec || mode.codec === codec.value) &&
    (!bits || mode.bits === bits.value) &&
    (!colourSpace || mode.colourSpaces.includes(colourSpace.value))
  );
}

/** In place of the height of its lower edge, which then lies on the surface. */
const sweep = 'sweep';
const bottomMm: Reader<number> = (value) => (value === sweep ? 0 : u.lengthMm(value));

function backdropOf(f: Fields, kit: Kit): Backdrop {
  const bottom = ofMaterial(f, 'bottom', bottomMm);
  const screenName = f.text('use');
  const screen = screenName && kit.screens.get(screenName.value);
  const refreshes = screen?.refreshes ?? [];
  return {
    start: f.range.start,
    end: f.range.end,
    fields: f,
    screenName,
    screen,
    material: f.text('material'),
    colour: f.read('colour', u.colour),
    size: ofMaterial(f, 'size', u.sizeMm) ?? screen?.size,
    behind: f.read('behind', u.lengthMm),
    bottom,
    sweeps: bottom?.text === sweep,
    tone: f.text('tone'),
    texture: ofMaterial(f, 'texture', u.lengthMm),
    reflects: ofMaterial(f, 'reflects', u.share),
    brightness: f.read('brightness', u.share),
    refresh: f.read('refresh', u.hertz) ?? (refreshes.length === 1 ? refreshes[0] : undefined),
    footage: f.text('footage'),
    picture: f.text('picture'),
    flashes: f.read('flashes', u.hertz),
  };
}

/** What the product stands on where the backdrop runs on under it. */
function sweepAsSurface(backdrop: Backdrop | undefined): Surface | undefined {
  if (!backdrop?.sweeps) return undefined;
  const { start, end, fields, material, colour } = backdrop;
  return { start, end, fields, material, colour, finish: 'matte', aboveTableMm: 0 };
}

function surfaceOf(f: Fields): Surface {
  return {
    start: f.range.start,
    end: f.range.end,
    fields: f,
    material: f.text('material'),
    finish: f.word('finish', 'matte'),
    size: ofMaterial(f, 'size', u.sizeMm),
    front: ofMaterial(f, 'front', u.lengthMm),
    height: f.read('height', u.lengthMm),
    aboveTableMm: f.number('above-table', u.lengthMm, 0),
    colour: f.read('colour', u.colour),
    thickness: ofMaterial(f, 'thickness', u.lengthMm),
  };
}

function roomOf(f: Fields): Room {
  return {
    start: f.range.start,
    end: f.range.end,
    fields: f,
    light: f.read('light', luxOrNone),
    source: f.word('source', 'window') as Room['source'],
    temperature: f.read('temperature', u.kelvin),
  };
}

function turnOf(f: Fields, kit: Kit): Turn {
  const tableName = f.text('use');
  return {
    start: f.range.start,
    end: f.range.end,
    fields: f,
    tableName,
    table: pick(kit.turntables, tableName?.value),
    starts: f.read('starts', u.angleDeg),
    by: f.read('by', u.angleDeg),
    speed: f.read('speed', u.turningRpm),
  };
}

const movers: readonly Action['moves'][] = ['camera', 'subject', 'both'];

function actionOf(f: Fields): Action {
  return {
    start: f.range.start,
    end: f.range.end,
    fields: f,
    what: f.text('what'),
    lasts: f.read('lasts', u.realTimeS),
    fastest: f.read('fastest', u.speedMmS),
    moves: movers.find((one) => one === f.text('moves')?.value) ?? 'camera',
  };
}

/**
 * What was said farther away than the thing itself was said of another thing: a focal length of another lens, a size of
 * another board.
 */
function isOfThis(f: Fields, thing: string, key: string): boolean {
  return f.layerOf(key) <= f.layerOf(thing);
}

/** Only what is said of this material itself. */
function ofMaterial<T>(f: Fields, key: string, read: u.Reader<T>): Val<T> | undefined {
  return isOfThis(f, 'material', key) ? f.read(key, read) : undefined;
}

/** What the film means holds for all its shots, beside what each says; an empty list of a shot takes it back. */
function meantIn(shot: Fields, film: Fields): readonly Val<string>[] {
  const own = shot.list('on-purpose', text);
  if (own?.length === 0) return [];
  const words = new Set(own?.map(({ value }) => value));
  return [...film.names('on-purpose').filter(({ value }) => !words.has(value)), ...(own ?? [])];
}
