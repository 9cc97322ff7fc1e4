import type { Film } from '../../core/film.ts';
import type { Edit } from '../../core/finding.ts';
import { defineRule, type FixIdea } from '../../core/rule.ts';
import { listFirst, listText, quoted } from '../../core/say.ts';
import { isPlain, nearest } from '../../core/nearest.ts';
import { addLicensed, addOwn, kindHeardOrSeen } from '../rights/write-right.ts';
import { type GearKind, type NameKind, type NameUse, undefinedNames } from './name-uses.ts';

export default defineRule({
  id: 'name-not-defined',
  family: 'names',
  summary: 'A name is used that is defined nowhere, so what it should bring is missing.',
  severity: 'error',
  sources: ['the format itself: every name is defined once, in the spec or in a kit'],
  messages: {
    spec: 'No {what} is called {name}{other}. {known}.',
    kit: 'No {what} in {kits} is called {name}{other}. {known}.',
    place:
      'The lamp place {name} says no `use`, and no lamp in {kits} has its name: say with `use` which lamp stands there. {known}.',
    noKit:
      '{name} should be in a kit, but no kit is named: write `kit: kits/….kit.yaml`, or name one for all specs in the settings.',
  },
  film(film, { report }) {
    const unknown = undefinedNames(film);
    if (unknown.length === 0) return;
    const names = knownNames(film);
    const noKit = film.kit.files.length === 0 && film.kit.complete;
    if (noKit) {
      const first = unknown.find(({ kind, name }) => names[kind].inKit && !isMeasured(film, name));
      if (first) report({ message: 'noKit', data: { name: quoted(first.name) }, at: first });
    }
    for (const uses of byName(unknown)) {
      const [first] = uses;
      const known = first.kind === 'right' ? ofItsKind(first.name, names.right, film) : names[first.kind];
      // A kit that is missing has a finding of its own, and may well have the gear.
      if (known.inKit && (noKit || !film.kit.complete)) continue;
      // So has a block in which nothing is written yet, or no names.
      if (film.fields.isNoBlock(known.under)) continue;
      report({
        message: !known.inKit ? 'spec' : first.isPlace ? 'place' : 'kit',
        data: {
          what: known.what,
          name: quoted(first.name),
          other: otherKind(first, names),
          kits: listText(film.kit.files.map(quoted)),
          known: first.isPlace ? choices(known) : advice(known),
        },
        at: first,
        related: uses.slice(1).map(({ start, end }) => ({ start, end, message: 'here too' })),
        fixes: first.isPlace ? placeFixes(film, first, known) : [...fixes(uses, known), ...rightToAdd(film, first)],
      });
    }
  },
});

/** What a meter said of a lamp is all that the light is reckoned from. */
function isMeasured({ lamps }: Film, name: string): boolean {
  return lamps.get(name)?.measured !== undefined;
}

interface Known {
  readonly what: string;
  readonly names: readonly string[];
  readonly inKit: boolean;
  /** The block that defines them. */
  readonly under: string;
}

function knownNames(film: Film): Record<NameKind, Known> {
  const own = (what: string, under: string, all: ReadonlyMap<string, unknown>): Known => ({
    what,
    names: [...all.keys()],
    inKit: false,
    under,
  });
  const gear = (what: string, under: Exclude<keyof Film['kit'], 'files' | 'complete'>): Known => ({
    ...own(what, under, film.kit[under]),
    inKit: true,
  });
  const inKit: Record<GearKind, Known> = {
    camera: gear('camera', 'cameras'),
    lens: gear('lens', 'lenses'),
    filter: gear('filter', 'filters'),
    support: gear('support', 'supports'),
    'kit-lamp': gear('lamp', 'lamps'),
    modifier: gear('modifier', 'modifiers'),
    screen: gear('screen', 'screens'),
    turntable: gear('turntable', 'turntables'),
    microphone: gear('microphone', 'microphones'),
    card: gear('card', 'cards'),
    battery: gear('battery', 'batteries'),
  };
  return {
    ...inKit,
    shot: own('shot', 'shots', film.shots),
    'set-up': own('set-up', 'set-ups', film.setUps),
    'lamp-place': own('lamp place', 'lamps', film.lamps),
    deliverable: own('deliverable', 'deliver', film.deliverables),
    part: own('part of the product', 'product: parts', film.product.parts),
    right: own('right', 'rights', film.rights),
  };
}

/** Nobody means the release of somebody by a track. */
function ofItsKind(name: string, rights: Known, film: Film): Known {
  const about = kindHeardOrSeen(name, film);
  const isOne = (other: string) => (film.rights.get(other)?.kind?.value ?? about) === about;
  return { ...rights, names: rights.names.filter(isOne) };
}

/** Uses of one name for one kind of thing belong together: it is one slip, or one thing that is missing. */
function byName(uses: readonly NameUse[]): (readonly [NameUse, ...NameUse[]])[] {
  const groups = new Map<string, [NameUse, ...NameUse[]]>();
  for (const use of uses) {
    const key = `${use.kind} ${use.name} ${use.isPlace ?? false}`;
    const group = groups.get(key);
    if (group) group.push(use);
    else groups.set(key, [use]);
  }
  return [...groups.values()];
}

function otherKind({ kind, name }: NameUse, names: Record<NameKind, Known>): string {
  const other = (Object.keys(names) as NameKind[]).find((one) => one !== kind && names[one].names.includes(name));
  return other ? ` (it is a ${names[other].what})` : '';
}

const mostNamed = 8;

function advice({ names, inKit, under }: Known): string {
  const place = inKit ? `under \`${under}\` in the kit` : `under \`${under}\``;
  if (names.length === 0) return `There is none yet: add it ${place}`;
  return `There ${names.length === 1 ? 'is' : 'are'} ${some(names)}; or add it ${place}`;
}

function choices({ names }: Known): string {
  return names.length === 0 ? 'There are no lamps in it' : `There ${names.length === 1 ? 'is' : 'are'} ${some(names)}`;
}

function some(names: readonly string[]): string {
  return listFirst(names.map(quoted), mostNamed);
}

/** The nearest name at every place; where nothing is near, the only one that there is. */
function fixes(uses: readonly NameUse[], { names }: Known): FixIdea[] {
  const meant = nearest(uses[0]!.name, names)?.word ?? (names.length === 1 ? names[0] : undefined);
  if (meant === undefined || !isPlain(meant)) return [];
  const edits = uses.map(({ start, end }): Edit => ({ start, end, text: meant }));
  const places = uses.length > 1 ? ` in ${uses.length} places` : '';
  return [{ title: `Write \`${meant}\`${places}`, edits }];
}

/** One's own music, sound or footage (nobody makes a font for one film), or somebody else's. */
function rightToAdd(film: Film, { kind, name }: NameUse): FixIdea[] {
  if (kind !== 'right') return [];
  const about = kindHeardOrSeen(name, film);
  return [...(about === 'font' ? [] : addOwn(name, about, film)), ...addLicensed(name, about, film)];
}

function placeFixes(film: Film, { name }: NameUse, { names }: Known): FixIdea[] {
  const place = film.lamps.get(name);
  if (!place) return [];
  const near = nearest(name, names)?.word;
  const likely = near === undefined ? names.slice(0, 3) : [near];
  return likely.map((lamp) => ({
    title: `Put \`${lamp}\` there`,
    set: [{ block: place, key: 'use', text: lamp }],
  }));
}
