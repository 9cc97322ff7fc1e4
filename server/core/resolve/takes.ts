/** From the trees of take sheets to resolved sheets of a film. */
import type { MapNode, Node } from '../document/node.ts';
import type { Film, Kit, Measured, Shot, Val } from '../film.ts';
import type { Judged, MasterFile, Sheets, SoundApart, Take, TakeSheet } from '../takes.ts';
import { ends } from '../units.ts';
import * as u from '../units.ts';
import { Fields } from './fields.ts';
import { cameraOf } from './shots.ts';

/** A sheet's tree, with every take written out: short forms stand for blocks and lists already. */
export interface SheetSource {
  /** Its path; undefined for the sheet that is checked. */
  readonly file?: string;
  readonly root: Node | undefined;
}

/** What was measured of each shot, by its name: of several sheets, by the newest. */
export function resolveMeasured(sources: readonly SheetSource[]): Map<string, Measured> {
  return new Map(inOrder(sources).flatMap((source) => [...measuredOf(topOf(source))]));
}

/** In the order in which they were shot. */
export function resolveSheets(sources: readonly SheetSource[], film: Film): Sheets {
  return withNewest(inOrder(sources).map((source) => sheetOf(source, film)));
}

/** Of a deliverable that several sheets export, the newest sheet has the master. */
function withNewest(sheets: TakeSheet[]): TakeSheet[] {
  const newest = new Map(
    sheets.flatMap((sheet) => sheet.masters.map(({ deliverableName }) => [deliverableName.value, sheet])),
  );
  return sheets.map((sheet) => {
    const own = sheet.masters.filter(({ deliverableName }) => newest.get(deliverableName.value) === sheet);
    if (own.length < sheet.masters.length) Object.assign(sheet, { masters: own });
    return sheet;
  });
}

function inOrder(sources: readonly SheetSource[]): SheetSource[] {
  const key = (source: SheetSource) => topOf(source).read('day', u.dateDays)?.value ?? -Infinity;
  return [...sources].sort((a, b) => {
    const [first, second] = [key(a), key(b)];
    return first === second ? 0 : first < second ? -1 : 1;
  });
}

function topOf({ root, file }: SheetSource): Fields {
  const map = root?.kind === 'map' ? root : undefined;
  return new Fields(map ? [map] : [], root ?? { start: 0, end: 0 }, { file, own: map });
}

function sheetOf(source: SheetSource, film: Film): TakeSheet {
  const top = topOf(source);
  const masters: MasterFile[] = [];
  const takes: Take[] = [];
  const { start, end } = top.range;
  const takesKey = top.keyRange('takes') ?? { start, end: start };
  const sheet: TakeSheet = {
    file: source.file,
    start,
    end,
    fields: top,
    specName: top.text('spec'),
    day: top.read('day', u.dateDays),
    folder: top.text('folder'),
    use: top.text('use'),
    takes,
    measured: measuredOf(top),
    masters,
    takesAt: { ...takesKey, value: 'takes', text: 'takes', file: source.file },
  };
  for (const entry of top.named('takes')) {
    const shotName = nameOf(entry, source.file);
    for (const fields of entryItems(top, entry.name)) takes.push(takeOf(fields, { sheet, shotName, film }));
  }
  const sounds = new Map(takes.flatMap(({ sound, clips }) => (sound && clips[0] ? [[clips[0].value, sound]] : [])));
  for (const take of takes) {
    const sound = take.sound ?? sounds.get(take.clips[0]?.value ?? '');
    if (sound) Object.assign(take, { sound });
  }
  for (const { name, at } of top.named('masters')) {
    const files = top.block('masters').names(name);
    const path = files.at(-1);
    if (!path) continue;
    const range = { start: path.start, end: path.end };
    masters.push({
      ...range,
      fields: new Fields([], range, { file: source.file }),
      sheet,
      deliverableName: nameOf({ name, at }, source.file),
      deliverable: film.deliverables.get(name),
      path,
      earlier: files.slice(0, -1),
    });
  }
  return sheet;
}

interface NameAt {
  readonly name: string;
  readonly at: { readonly start: number; readonly end: number };
}

function nameOf({ name, at }: NameAt, file: string | undefined): Val<string> {
  return { value: name, text: name, start: at.start, end: at.end, file };
}

/** The takes of a shot: every one a block. */
function entryItems(top: Fields, shot: string): Fields[] {
  return top.block('takes').items(shot);
}

interface TakeContext {
  readonly sheet: TakeSheet;
  readonly shotName: Val<string>;
  readonly film: Film;
}

function takeOf(f: Fields, { sheet, shotName, film }: TakeContext): Take {
  const shot = film.shots.get(shotName.value);
  const use = f.text('use') ?? sheet.use;
  const body = use && film.kit.cameras.get(use.value);
  const camera = f.said('camera') ? f.block('camera') : undefined;
  return {
    start: f.range.start,
    end: f.range.end,
    fields: f,
    sheet,
    shotName,
    shot,
    asSet: shot && asSet(shot, camera, body && use, film.kit),
    clips: f.names('clip').map((name) => inFolder(name, sheet)),
    judged: f.text('judged') as Val<Judged> | undefined,
    part: f.read('part', ends(u.realTimeS)),
    action: f.read('action', u.realTimeS),
    piece: f.read('piece', u.number),
    use,
    body: body || undefined,
    day: f.read('day', u.dateDays) ?? sheet.day,
    captured: f.read('captured', u.rate),
    camera: camera && { start: camera.range.start, end: camera.range.end, fields: camera },
    sound: f.said('sound') ? soundOf(f.block('sound'), sheet) : undefined,
  };
}

/** A name of the sheet as a path below the footage folder. */
function inFolder(name: Val<string>, { folder }: TakeSheet): Val<string> {
  return folder ? { ...name, value: `${folder.value.replace(/\/+$/, '')}/${name.value}` } : name;
}

function soundOf(f: Fields, sheet: TakeSheet): SoundApart {
  const file = f.text('file');
  return {
    start: f.range.start,
    end: f.range.end,
    fields: f,
    path: file && inFolder(file, sheet),
    starts: f.read('starts', u.realTimeS),
  };
}

/** What the plan says of a lens holds for the camera that it was planned with. */
const ofTheLens = new Set(['lens', 'focal']);

/** The shot with what was really set. */
function asSet(shot: Shot, camera: Fields | undefined, use: Val<string> | undefined, kit: Kit): Shot {
  const other = use && use.value !== shot.camera.body?.name ? use : undefined;
  if (!camera && !other) return shot;
  const planned = other ? without(shot.camera.fields, ofTheLens) : shot.camera.fields;
  const fields = camera ? camera.alone().over(planned) : planned;
  return { ...shot, camera: cameraOf(fields, kit, other ?? shot.camera.bodyName) };
}

function without(fields: Fields, keys: ReadonlySet<string>): Fields {
  const written = fields.written.map((map): MapNode => ({
    ...map,
    pairs: map.pairs.filter(({ key }) => !keys.has(key.text)),
  }));
  return new Fields(written, fields.range, {
    file: fields.file,
    own: fields.own,
    parent: fields.parent,
    base: fields.base && without(fields.base, keys),
  });
}

function measuredOf(top: Fields): Map<string, Measured> {
  const entries = top.named('measured').map((entry): [string, Measured] => {
    const { name, fields: f } = entry;
    const lamps = f.block('lamps');
    return [
      name,
      {
        start: entry.at.start,
        end: entry.at.end,
        fields: f,
        shotName: nameOf(entry, top.file),
        light: f.read('light', u.lux),
        temperature: f.read('temperature', u.kelvin),
        lamps: new Map(
          f
            .named('lamps')
            .map((lamp) => [lamp.name, { name: nameOf(lamp, top.file), light: lamps.read(lamp.name, u.lux) }]),
        ),
        clock: f.read('clock', u.minutesOfDay),
      },
    ];
  });
  return new Map(entries);
}
