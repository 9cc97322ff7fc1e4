/** Every name in a spec that must be defined somewhere else: in the spec itself, or as gear in a kit. */
import { once, onceIn } from '../../core/memo.ts';
import { pairsOf, type Range } from '../../core/document/node.ts';
import type { Film, Piece, Shot, Val } from '../../core/film.ts';
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

/** What is defined under which name, by what a name can be of. */
export const definitions = once((film: Film): Readonly<Record<NameKind, ReadonlyMap<string, unknown>>> => ({
  shot: film.shots,
  'set-up': film.setUps,
  'lamp-place': film.lamps,
  deliverable: film.deliverables,
  part: film.product.parts,
  right: film.rights,
  camera: film.kit.cameras,
  lens: film.kit.lenses,
  filter: film.kit.filters,
  support: film.kit.supports,
  'kit-lamp': film.kit.lamps,
  modifier: film.kit.modifiers,
  screen: film.kit.screens,
  turntable: film.kit.turntables,
  microphone: film.kit.microphones,
  card: film.kit.cards,
  battery: film.kit.batteries,
}));

const ofFilm: ReadonlySet<NameKind> = new Set(['shot', 'set-up', 'lamp-place', 'right']);

/** Names of shots, set-ups, lamp places and rights that are used and defined nowhere. */
export const strayNames = once((film: Film): readonly string[] => {
  const used = undefinedNames(film).filter(({ kind }) => ofFilm.has(kind));
  // What needs a paper, because a person is seen or the brief says so, is a use of the right of its name.
  const strays = new Set(used.map(({ name }) => name));
  const need = ({ value }: Val<string>) => film.rights.has(value) || strays.add(value);
  for (const { people } of film.shots.values()) people.forEach(need);
  film.brief?.needsRights.forEach(need);
  return [...strays];
});

/** All uses of names that are defined nowhere, in the order of the text, each place once. */
export const undefinedNames = once((film: Film): readonly NameUse[] => {
  const found = new Map<number, NameUse>();
  const add = (uses: readonly NameUse[]) => {
    for (const use of uses) found.set(use.start, use);
  };
  add(undefinedIn([...inEdit(film), ...inSchedule(film)], film));
  for (const { fields } of film.setUps.values()) {
    add(ofCamera(fields.block('camera'), film));
    add(ofBackdrop(fields.block('backdrop'), film));
    add(undefinedIn([['lamp-place', fields.names('lit')]], film));
  }
  for (const shot of film.shots.values()) add(ofShot(shot, film));
  for (const piece of film.cut) add(ofPiece(piece, film));
  add(inLamps(film).filter(({ kind, name }) => !definitions(film)[kind].has(name)));
  return [...found.values()].sort((a, b) => a.start - b.start);
});

type Group = readonly [NameKind, readonly (Val<string> | undefined)[]];

function undefinedIn(groups: readonly Group[], film: Film): NameUse[] {
  const defined = definitions(film);
  const found: NameUse[] = [];
  for (const [kind, vals] of groups) {
    for (const val of vals) {
      if (!val || val.file !== undefined || val.value === 'none' || defined[kind].has(val.value)) continue;
      found.push({ kind, name: val.value, start: val.start, end: val.end });
    }
  }
  return found;
}

const ofShot = onceIn((shot: Shot, film: Film): readonly NameUse[] => {
  const { camera, backdrop } = shot;
  const blocks = [...ofCamera(camera.fields, film), ...(backdrop ? ofBackdrop(backdrop.fields, film) : [])];
  const own: Group[] = [
    ['lamp-place', shot.fields.names('lit')],
    ['set-up', [shot.setUpName]],
    ['part', [partNamed(shot.fields.text('subject'))]],
    ['turntable', [shot.turn?.tableName]],
    ['microphone', [shot.microphoneName]],
    ['shot', shot.after],
  ];
  return [...blocks, ...undefinedIn(own, film)];
});

const ofCamera = inLayers((f) => [
  ['camera', f.names('use')],
  ['lens', f.names('lens')],
  ['support', f.names('support')],
  ['filter', f.names('filters')],
]);

const ofBackdrop = inLayers((f) => [
  ['screen', f.names('use')],
  ['right', f.names('footage')],
]);

/**
 * Every block that is taken over counts by itself: a name that a nearer one replaces must be defined too. Most shots take
 * over the same blocks, which are looked at once.
 */
function inLayers(named: (f: Fields) => Group[]): (block: Fields, film: Film) => readonly NameUse[] {
  const uses: ReturnType<typeof inLayers> = onceIn((block: Fields, film) => [
    ...undefinedIn(
      block.written.flatMap((layer) => named(new Fields([layer], layer))),
      film,
    ),
    ...(block.base ? uses(block.base, film) : []),
  ]);
  return uses;
}

function partNamed(subject: Val<string> | undefined): Val<string> | undefined {
  return subject?.value === 'product' ? undefined : subject;
}

const ofPiece = onceIn(({ shotName, footage, fields }: Piece, film: Film): readonly NameUse[] =>
  undefinedIn(
    [
      ['shot', [shotName]],
      ['right', [footage]],
      ['deliverable', [...namedIn(fields, 'zoom-by'), ...namedIn(fields, 'shift-by')]],
    ],
    film,
  ),
);

function inEdit(film: Film): Group[] {
  return [
    ['right', [film.music?.track, ...film.sounds.map((sound) => sound.track), ...film.titles.map((one) => one.font)]],
    ['deliverable', film.titles.flatMap((title) => title.onlyIn ?? [])],
    ['deliverable', [...film.deliverables.values()].map((one) => one.like)],
  ];
}

function namedIn(fields: Fields, key: string): Val<string>[] {
  return fields
    .block(key)
    .layers.flatMap((layer) =>
      pairsOf(layer).map(({ key: { text, start, end } }) => ({ value: text, text, start, end })),
    );
}

function inLamps(film: Film): NameUse[] {
  const use = (kind: NameKind, { value, start, end }: Val<string>): NameUse => ({ kind, name: value, start, end });
  return [...film.lamps.values()].flatMap((place) => {
    const { movedFrom, fields } = place;
    const named = fields.alone().text('use');
    const bounces = fields.alone().text('bounces');
    // A place that is moved from another is the lamp that stands there.
    const whole: NameUse = { kind: 'kit-lamp', name: place.name, start: place.start, end: place.end, isPlace: true };
    // `key: panel` is told of as what it is.
    const isNoBlock = fields.alone().written.length === 0;
    const modifiers = fields.alone().names('modifier');
    return [
      ...(movedFrom ? [use('lamp-place', movedFrom)] : []),
      ...(bounces ? [use('lamp-place', bounces)] : []),
      ...(named ? [use('kit-lamp', named)] : isNoBlock || movedFrom || bounces ? [] : [whole]),
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
