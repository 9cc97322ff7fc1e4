/**
 * The whole core behind one door: a file's text in, findings out. Editor, command line, hooks and pictures all come
 * through here, so the same bytes give the same findings everywhere.
 */
import { applyAcceptances, saysAccept } from './accept.ts';
import { byPlace, type Checked, checkFilm, type Silenced } from './check.ts';
import { type Doc, parseDocument } from './document/parse.ts';
import { asMeant } from './document/as-meant.ts';
import type { Node, Range } from './document/node.ts';
import type { Film, Kit } from './film.ts';
import { aboutWhat, type Finding } from './finding.ts';
import type { Host } from './host.ts';
import { type KitFile, kitFindings, type LoadedKits, loadKits, readKit } from './kits.ts';
import { type FileKind, kindOf } from './paths.ts';
import { resolveFilm, type World } from './resolve/film.ts';
import { type KitSource, resolveKit } from './resolve/kit.ts';
import type { Rule } from './rule.ts';
import { schemaRules } from './schema/check.ts';
import { schemaFindings, withNamesTogether } from './schema/findings.ts';
import { Settings } from './settings.ts';
import { checkSettings, readSettings } from './settings-file.ts';

export const settingsPath = 'shootspec.yaml';
/** The gear of so many lists of kits is kept. */
const mostGear = 8;
/** More findings than this in one file are counted, not shown. */
export const mostFindings = 500;

export interface CheckResult {
  readonly kind: FileKind;
  readonly doc: Doc;
  /** In the order of the text. */
  readonly findings: readonly Finding[];
  /** What on-purpose words and accept comments took away, and why. */
  readonly silenced: readonly Silenced[];
  /** The resolved film of a spec that could be read. */
  readonly film?: Film;
  /** Other files that the findings depend on, by path. */
  readonly dependsOn: readonly string[];
}

export interface Trial {
  readonly film: Film;
  /** Their fixes are for a text that is nowhere. */
  readonly findings: readonly Finding[];
}

export class Checker {
  #kits = new Map<string, KitFile>();
  #gear: readonly { readonly sources: readonly KitSource[]; readonly complete: boolean; readonly kit: Kit }[] = [];
  #settings = new Map<string, { text: string; settings: Settings }>();
  /** By folder: the settings of its folders, and all of them laid over one another. */
  #laidOver = new Map<string, { parts: readonly Settings[]; settings: Settings }>();

  constructor(
    readonly host: Host,
    readonly rules: readonly Rule[],
  ) {}

  /** Checks one file by its path from the repo's root; undefined for a file that is none of ours. */
  check(path: string, text: string, settings: Settings = this.settings(path)): CheckResult | undefined {
    const kind = kindOf(path);
    return kind && this.checkAs(kind, text, settings);
  }

  checkAs(kind: FileKind, text: string, settings: Settings = this.settings()): CheckResult {
    const doc = parseDocument(text);
    const base = { kind, doc, silenced: [], dependsOn: kind === 'config' ? [] : settings.files };
    if (doc.broken || !doc.root) return { ...base, findings: cap(doc.problems, doc) };
    const schema = schemaFindings(doc.root, kind, doc.problems);
    const own = [...doc.problems, ...schema.findings];
    if (kind === 'shoot') {
      const root = asMeant(doc.root, schema.slips);
      return this.checkSpec(doc, root, own, settings, asMeant(root, schema.doubts));
    }
    const more = kind === 'kit' ? kitFindings(doc.root) : checkSettings(doc.root, this.rules);
    return { ...base, ...this.conclude(doc, [...own, ...more]) };
  }

  /**
   * Checks a spec that was read.
   * @param root its tree, with slips read as what they mean
   * @param own what is wrong with its text and its format
   * @param usual the same tree with values that can't be read as they usually are; `root` itself where there are none
   */
  checkSpec(doc: Doc, root: Node, own: readonly Finding[], settings: Settings, usual: Node): CheckResult {
    const { world, kits } = this.worldOf(root, settings);
    const film = resolveFilm(root, world);
    const all = checkFilm(film, this.rules, settings, doc.text);
    const checked = usual === root ? all : withoutDoubtful(all, this.trials(usual, settings)(usual).findings);
    const form = withNamesTogether(own, doc.text);
    const concluded = this.conclude(doc, [...form, ...kits.findings, ...checked.findings]);
    return {
      kind: 'shoot',
      doc,
      film,
      findings: concluded.findings,
      silenced: [...checked.silenced, ...concluded.silenced],
      dependsOn: dependencies(settings, kits.paths, film),
    };
  }

  /** What a spec needs besides its own text, and what is to be said of the kits that it names. */
  worldOf(root: Node | undefined, settings: Settings): { world: World; kits: LoadedKits } {
    const kits = loadKits(root, settings, this.host, (path, text) => this.#readKit(path, text));
    const kit = this.#kitOf(kits.sources, kits.complete);
    return { world: { kit, region: settings.region, exists: (path) => this.host.exists(path) }, kits };
  }

  /**
   * Takes out what comments accept, and puts the rest in order.
   * @param accepts whether a comment says `accept`
   */
  conclude(
    doc: Doc,
    all: readonly Finding[],
    accepts = saysAccept(doc.comments),
  ): { findings: Finding[]; silenced: Silenced[] } {
    const accepted = accepts
      ? applyAcceptances(doc, onceNamed(all), (rule) => this.knows(rule))
      : { findings: onceNamed(all), silenced: [] };
    return { findings: cap(accepted.findings.sort(byPlace), doc), silenced: accepted.silenced };
  }

  /**
   * Checks a spec's tree as it would be with other values. No text is read for it and the kits are read once, so that
   * many values can be tried; what the schema says of them is not asked.
   */
  trials(root: Node | undefined, settings: Settings): (changed: Node) => Trial {
    const { world } = this.worldOf(root, settings);
    return (changed) => {
      const film = resolveFilm(changed, world);
      return { film, findings: checkFilm(film, this.rules, settings, '').findings };
    };
  }

  /**
   * The settings for a file, by its path from the root: those of each folder from the root down to its own, laid over
   * one another. A folder without a settings file, or with one that can't be read, changes nothing.
   */
  settings(path = ''): Settings {
    const folders = path.split('/').slice(0, -1);
    const files = [
      settingsPath,
      ...folders.map((_, index) => [...folders.slice(0, index + 1), settingsPath].join('/')),
    ];
    const parts = files.map((file) => this.#settingsOf(file));
    const folder = folders.join('/');
    const known = this.#laidOver.get(folder);
    if (known && parts.every((part, index) => part === known.parts[index])) return known.settings;
    const settings = parts.reduce((above, part) => part.over(above), Settings.usual);
    this.#laidOver.set(folder, { parts, settings });
    return settings;
  }

  #settingsOf(file: string): Settings {
    const read = this.host.read(file);
    const text = 'text' in read ? read.text : '';
    const known = this.#settings.get(file);
    if (known?.text === text) return known.settings;
    const { root, broken } = parseDocument(text);
    const settings = readSettings(broken ? undefined : root, file);
    this.#settings.set(file, { text, settings });
    return settings;
  }

  /** Is this the name of a rule, or of a check of the core? */
  knows(rule: string): boolean {
    return this.rules.some((one) => one.id === rule) || coreChecks.has(rule);
  }

  /** The gear of the kits; the same object while their texts are the same, for several specs that are open. */
  #kitOf(sources: readonly KitSource[], complete: boolean): Kit {
    const known = this.#gear.find(
      (one) =>
        one.complete === complete &&
        one.sources.length === sources.length &&
        one.sources.every(({ file, root }, index) => sources[index]!.file === file && sources[index]!.root === root),
    );
    if (known) return known.kit;
    const kit = resolveKit(sources, complete);
    this.#gear = [{ sources, complete, kit }, ...this.#gear.slice(0, mostGear - 1)];
    return kit;
  }

  #readKit(path: string, text: string): KitFile {
    const known = this.#kits.get(path);
    if (known?.text === text) return known;
    const kit = readKit(text);
    this.#kits.set(path, kit);
    return kit;
  }
}

/**
 * A value that can't be read counts as if it were not there, and has its finding. What else is said only because it is
 * not there follows from the same slip: that stands which would be said of a value as it usually is, too.
 */
export function withoutDoubtful(checked: Checked, usual: readonly Finding[]): Checked {
  const said = new Set(usual.flatMap(aboutWhat));
  const stands = (one: Finding) =>
    one.rule !== 'purpose-explains-nothing' && aboutWhat(one).every((it) => said.has(it));
  return { findings: checked.findings.filter(stands), silenced: checked.silenced };
}

/** A name that is defined nowhere is said to be so, and which is near; how it is written is then no matter of its own. */
function onceNamed(all: readonly Finding[]): Finding[] {
  const undefinedAt = new Set(all.flatMap(({ rule, start }) => (rule === 'name-not-defined' ? [start] : [])));
  return all.filter(({ rule, start }) => rule !== 'bad-name' || !undefinedAt.has(start));
}

/** The files that the findings of a spec depend on. */
export function dependencies(settings: Settings, kits: readonly string[], film: Film): string[] {
  const proofs = [...film.rights.values()].flatMap((right) => right.proof?.value ?? []);
  return [...settings.files, ...kits, ...proofs];
}

/** What the core itself reports once a file can be read. */
const coreChecks: ReadonlySet<string> = new Set([
  ...schemaRules,
  'name-twice',
  'odd-character',
  'text-cut-by-hash',
  'comma-in-braces',
  'kit-not-found',
  'kit-outside',
  'kit-with-errors',
  'gear-in-two-kits',
  'purpose-explains-nothing',
  'check-failed',
  'merge-key',
]);

function cap(findings: readonly Finding[], doc: Doc): Finding[] {
  if (findings.length <= mostFindings) return [...findings];
  const at: Range = { start: 0, end: Math.min(doc.text.length, doc.lines.end(0)) };
  const message = `${findings.length - mostFindings} more findings are not shown: the first ${mostFindings} are.`;
  return [
    ...findings.slice(0, mostFindings),
    { rule: 'more-findings', severity: 'info', message, ...at, related: [], fixes: [] },
  ];
}
