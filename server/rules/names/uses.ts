/** Every name in a spec that must be defined somewhere else: in the spec itself, or as gear in a kit. */
import { once } from '../../core/derived/memo.ts';
import type { Range } from '../../core/document/node.ts';
import type { Film, Val } from '../../core/film.ts';
import { Fields } from '../../core/resolve/fields.ts';

export type NameKind = 'shot' | 'set-up' | 'lamp-place' | 'deliverable' | 'part' | 'right' | GearKind;

export type GearKind =
  | 'camera'
  | 'lens'
  | 'filter'
  | 'support'
  | 'kit-lamp'
  | 'modifier'
  | 'screen'
  | 'turntable'
  | 'microphone'
  | 'card'
  | 'battery';

export interface NameUse extends Range {
  readonly kind: NameKind;
  readonly name: string;
  /** The name of a lamp place that is looked up as a lamp because `use` is not said. */
  readonly isPlace?: boolean;
}

/** Names of shots, set-ups, lamp places and rights that are used and defined nowhere. */
export const strayNames = once((film: Film): readonly string[] => {
  const defined: Partial<Record<NameKind, ReadonlyMap<string, unknown>>> = {
    shot: film.shots,
    'set-up': film.setUps,
    'lamp-place': film.lamps,
    right: film.rights,
  };
  const used = nameUses(film).filter(({ kind, name }) => defined[kind] && !defined[kind].has(name));
  // What needs a paper, because a person is seen or the brief says so, is a use of the right of its name.
  const needed = [...film.shots.values()].flatMap((shot) => shot.people).concat(film.brief?.needsRights ?? []);
  const strays = needed.filter((val) => !film.rights.has(val.value)).map((val) => val.value);
  return [...new Set([...used.map(({ name }) => name), ...strays])];
});

/** In the order of the text, each place once. */
export const nameUses = once((film: Film): readonly NameUse[] => {
  const found = new Map<number, NameUse>();
  const add = (kind: NameKind, vals: readonly (Val<string> | undefined)[]) => {
    for (const val of vals) {
      if (!val || val.file !== undefined || val.value === 'none') continue;
      found.set(val.start, { kind, name: val.value, start: val.start, end: val.end });
    }
  };
  for (const [kind, vals] of [...inShots(film), ...inEdit(film), ...inSchedule(film)]) add(kind, vals);
  for (const use of inLamps(film)) found.set(use.start, use);
  return [...found.values()].sort((a, b) => a.start - b.start);
});

type Group = readonly [NameKind, readonly (Val<string> | undefined)[]];

function inShots(film: Film): Group[] {
  const shots = [...film.shots.values()];
  const setUps = [...film.setUps.values()];
  const layers = (key: string) => {
    const blocks = [...shots.map((shot) => layered(shot, key)), ...setUps.map((one) => one.fields.block(key))];
    return eachLayer(blocks);
  };
  const camera = layers('camera');
  return [
    ['camera', camera.flatMap((f) => f.names('use'))],
    ['lens', camera.flatMap((f) => f.names('lens'))],
    ['support', camera.flatMap((f) => f.names('support'))],
    ['filter', camera.flatMap((f) => f.names('filters'))],
    ['screen', layers('backdrop').flatMap((f) => f.names('use'))],
    ['right', layers('backdrop').flatMap((f) => f.names('footage'))],
    ['lamp-place', [...shots, ...setUps].flatMap(({ fields }) => fields.names('lit'))],
    ['set-up', shots.map((shot) => shot.setUpName)],
    ['part', shots.map((shot) => partNamed(shot.fields.text('subject')))],
    ['turntable', shots.map((shot) => shot.turn?.tableName)],
    ['microphone', shots.map((shot) => shot.microphoneName)],
  ];
}

function layered(shot: { camera: { fields: Fields }; backdrop?: { fields: Fields } }, key: string): Fields {
  return (key === 'camera' ? shot.camera.fields : shot.backdrop?.fields) ?? Fields.empty();
}

/** Every block that a shot takes over, by itself: a name that a nearer one replaces must be defined too. */
function eachLayer(blocks: readonly Fields[]): Fields[] {
  const layers = new Set(blocks.flatMap((block) => block.layers));
  return [...layers].map((layer) => new Fields([layer], layer));
}

function partNamed(subject: Val<string> | undefined): Val<string> | undefined {
  return subject?.value === 'product' ? undefined : subject;
}

function inEdit(film: Film): Group[] {
  const keys = (key: string) => film.cut.flatMap((piece) => namedIn(piece.fields, key));
  return [
    ['shot', film.cut.map((piece) => piece.shotName)],
    ['right', film.cut.map((piece) => piece.footage)],
    ['right', [film.music?.track, ...film.sounds.map((sound) => sound.track), ...film.titles.map((one) => one.font)]],
    ['deliverable', [...keys('zoom-by'), ...keys('shift-by')]],
    ['deliverable', film.titles.flatMap((title) => title.onlyIn ?? [])],
    ['deliverable', [...film.deliverables.values()].map((one) => one.like)],
  ];
}

function namedIn(fields: Fields, key: string): Val<string>[] {
  return fields
    .block(key)
    .layers.flatMap((layer) => layer.pairs.map(({ key: { text, start, end } }) => ({ value: text, text, start, end })));
}

function inLamps(film: Film): NameUse[] {
  const use = (kind: NameKind, { value, start, end }: Val<string>): NameUse => ({ kind, name: value, start, end });
  return [...film.lamps.values()].flatMap((place) => {
    const { movedFrom, fields } = place;
    const named = fields.alone().text('use');
    // A place that is moved from another is the lamp that stands there.
    const whole: NameUse = { kind: 'kit-lamp', name: place.name, start: place.start, end: place.end, isPlace: true };
    const modifiers = fields.alone().names('modifier');
    return [
      ...(movedFrom ? [use('lamp-place', movedFrom)] : []),
      ...(named ? [use('kit-lamp', named)] : movedFrom ? [] : [whole]),
      ...modifiers.filter((val) => val.value !== 'none').map((val) => use('modifier', val)),
    ];
  });
}

function inSchedule(film: Film): Group[] {
  return [
    ['set-up', film.schedule.flatMap((day) => day.order ?? [])],
    ['card', film.schedule.flatMap((day) => day.cards ?? [])],
    ['battery', film.schedule.flatMap((day) => day.batteries ?? [])],
  ];
}
