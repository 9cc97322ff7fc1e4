/**
 * The whole core behind one door: a file's text in, findings out. Editor, command line, hooks and pictures all come
 * through here, so the same bytes give the same findings everywhere.
 */
import { coreChecks } from './core-checks.ts';
import { applyAcceptances } from './accept.ts';
import { byPlace, type Checked, checkFilm, checkSheet, type Silenced, spokenOf } from './check.ts';
import { takesAsSet } from './check-takes.ts';
import { type Doc, parseDocument } from './document/parse.ts';
import { asRead } from './document/as-read.ts';
import { child, type Node, type Range } from './document/node.ts';
import type { Earlier, Film, Kit } from './film.ts';
import type { MusicHeard } from './decoded.ts';
import { aboutWhat, type Finding } from './finding.ts';
import type { Footage } from './footage.ts';
import type { Host } from './host.ts';
import { type KitFile, kitFindings, type LoadedKits, loadKits, readKit } from './kits.ts';
import { type FileKind, kindOf, settingsPath } from './paths.ts';
import { resolveFilm, type World } from './resolve/film.ts';
import { type KitSource, resolveKit } from './resolve/kit.ts';
import { resolveMeasured, resolveSheets, type SheetSource } from './resolve/takes.ts';
import type { Rule } from './rule.ts';
import { type FormatFindings, schemaFindings, withNamesTogether } from './schema/findings.ts';
import { readNested } from './schema/nested.ts';
import { readShort } from './schema/short.ts';
import { Settings } from './settings.ts';
import { checkSettings, readSettings } from './settings-file.ts';
import { findSpec, type FoundSheets, readSheet, sheetsOf, type SheetText, unreadable } from './sheets.ts';
import type { SheetChecked } from './runner.ts';
import type { Sheets } from './takes.ts';

/** The gear of so many lists of kits is kept. */
const mostGear = 8;
/** More findings than this in one file are counted, not shown. */
export const mostFindings = 500;

export interface CheckResult {
  readonly kind: FileKind;
  readonly doc: Doc;
  /** In the order of the text. */
  readonly findings: readonly Finding[];
  /** What is told on the sheet for the set alone. */
  readonly forSet?: readonly Finding[];
  /** What on-purpose words and accept comments took away, and why. */
  readonly silenced: readonly Silenced[];
  /** The resolved film of a spec that could be read. */
  readonly film?: Film;
  /** The take sheets of a spec: what was shot of it. */
  readonly sheets?: Sheets;
  /** The resolved sheet with the film of its spec, whose values name their file. */
  readonly sheet?: SheetChecked;
  /** Other files that the findings depend on, by path. */
  readonly dependsOn: readonly string[];
}

/** What take sheets are held against besides the repo. Rules are told what is known at this moment. */
export interface Outside {
  /** What is known of the clips of a sheet, by the sheet's path; undefined where nobody looks at clips. */
  footage?(sheet: string): Footage | undefined;
  /** What is heard in a file of the repo, by its path from the root; undefined where nobody listened. */
  music?(path: string): MusicHeard | undefined;
  /** A spec as it was at a revision, by its path from the root; undefined while that is not known, and where nobody can say. */
  earlier?(path: string, revision: string): Earlier | undefined;
  /** The revision that the repo is at. */
  lastCommit?(): string | undefined;
  /** Days since 1970-01-01; undefined where dates are not judged by today. */
  today?(): number | undefined;
}

export interface Trial {
  readonly film: Film;
  /** Their fixes are for a text that is nowhere. */
  readonly findings: readonly Finding[];
}

export class Checker {
  #kits = new Map<string, KitFile>();
  #gear: readonly { readonly sources: readonly KitSource[]; readonly complete: boolean; readonly kit: Kit }[] = [];
  #sheets = new Map<string, SheetText>();
  #specs = new Map<string, SheetText>();
  #settings = new Map<string, { text: string; settings: Settings }>();
  /** By folder: the settings of its folders, and all of them laid over one another. */
  #laidOver = new Map<string, { parts: readonly Settings[]; settings: Settings }>();

  constructor(
    readonly host: Host,
    readonly rules: readonly Rule[],
    readonly outside: Outside = {},
  ) {}

  /** Checks one file by its path from the repo's root; undefined for a file that is none of ours. */
  check(path: string, text: string, settings: Settings = this.settings(path)): CheckResult | undefined {
    const kind = kindOf(path);
    return kind && this.checkAs(kind, text, settings, path);
  }

  /** @param path where the file lies, for what lies beside it; undefined for one that is saved nowhere */
  checkAs(kind: FileKind, text: string, settings: Settings = this.settings(), path?: string): CheckResult {
    const doc = readShort(readNested(parseDocument(text), kind), kind);
    const base = { kind, doc, silenced: [], dependsOn: kind === 'config' ? [] : settings.files };
    if (doc.broken || !doc.root) return { ...base, findings: cap(doc.problems, doc) };
    const format = schemaFindings(doc.root, kind, doc.problems, doc.text);
    const own = [...doc.problems, ...format.findings];
    if (kind === 'shoot') return this.#checkSpec({ ...doc, root: doc.root }, own, format, { settings, path });
    if (kind === 'takes') return this.#checkSheet({ ...doc, root: doc.root }, own, format, { settings, path });
    const more = kind === 'kit' ? kitFindings(doc.root) : checkSettings(doc.root, this.rules, this.outside.today?.());
    return { ...base, ...this.#conclude(doc, [...own, ...more]) };
  }

  /** @param own what is wrong with the text and its format */
  #checkSpec(
    doc: Doc & { readonly root: Node },
    own: readonly Finding[],
    { slips, doubts, refused }: FormatFindings,
    { settings, path }: Where,
  ): CheckResult {
    const root = asRead(doc.root, { meant: slips, refused });
    const { world, kits, found } = this.#worldOf(root, { settings, path });
    const film = resolveFilm(root, world);
    const all = checkFilm(film, this.rules, settings, doc.text);
    const checked =
      doubts.size === 0 || all.findings.length === 0
        ? all
        : withoutDoubtful(all, this.#asUsual(doc.root, { slips, doubts, refused }, all, { settings, world }));
    const form = withNamesTogether(own, doc.text);
    const concluded = this.#conclude(doc, [...form, ...kits.findings, ...checked.findings]);
    return {
      kind: 'shoot',
      doc: { ...doc, root: asRead(doc.root, { meant: new Map(), refused }) },
      film,
      findings: concluded.findings,
      forSet: concluded.forSet,
      silenced: [...checked.silenced, ...concluded.silenced],
      dependsOn: dependencies(settings, [...kits.paths, ...(found?.paths ?? [])], film),
      sheets: found && found.sources.length > 0 ? resolveSheets(found.sources, film) : [],
    };
  }

  /** What the rules that spoke would speak of if values that can't be read were as they usually are. Of files none is usual. */
  #asUsual(
    root: Node,
    { slips, doubts, refused }: Omit<FormatFindings, 'findings'>,
    { findings }: Checked,
    { settings, world }: { readonly settings: Settings; readonly world: World },
  ): ReadonlySet<string> {
    const spoke = new Set(findings.map(({ rule }) => rule));
    const usual = asRead(root, { meant: new Map([...slips, ...doubts]), refused });
    const rules = this.rules.filter(({ id }) => spoke.has(id));
    return spokenOf(resolveFilm(usual, world), rules, settings, new Set(findings.flatMap(aboutWhat)));
  }

  /** Held against the film of its spec; where that can't be found, only how it is written is looked at. */
  #checkSheet(
    doc: Doc & { readonly root: Node },
    own: readonly Finding[],
    { slips, refused }: FormatFindings,
    { settings, path }: Where,
  ): CheckResult {
    const root = asRead(doc.root, { meant: slips, refused });
    const result = { kind: 'takes', doc: { ...doc, root: asRead(doc.root, { meant: new Map(), refused }) } } as const;
    const form = withNamesTogether(own, doc.text);
    const spec = path === undefined ? undefined : findSpec(root, path, this.host);
    if (!spec || !('text' in spec)) {
      const found = spec ? [spec.finding] : [];
      const dependsOn = [...settings.files, ...(spec?.path === undefined ? [] : [spec.path])];
      return { ...result, ...this.#conclude(doc, [...form, ...found]), dependsOn };
    }
    const plan = this.#readSpec(spec.path, spec.text);
    if (!plan) {
      const unread = unreadable(child(root, 'spec')!, spec.path);
      return { ...result, ...this.#conclude(doc, [...form, unread]), dependsOn: [...settings.files, spec.path] };
    }
    const { sheet, paths } = this.#sheetOf(root, { path: spec.path, plan }, path!);
    const checked = checkSheet(sheet, this.rules, settings, doc.text);
    const asSet = takesAsSet(sheet, this.rules, settings);
    const concluded = this.#conclude(doc, [...form, ...checked.findings, ...asSet]);
    return {
      ...result,
      sheet,
      findings: concluded.findings,
      silenced: [...checked.silenced, ...concluded.silenced],
      dependsOn: [...new Set([...settings.files, ...paths])].filter((one) => one !== path),
    };
  }

  /** The sheet at a path, with the film of its spec and the other sheets of it. */
  #sheetOf(root: Node, spec: { readonly path: string; readonly plan: Node }, path: string) {
    const settings = this.settings(spec.path);
    const others = sheetsOf(spec.path, this.host, (file, text) => this.#readSheet(file, text), path);
    const sources: SheetSource[] = [...others.sources, { file: path, root }]
      .sort((a, b) => (a.file! < b.file! ? -1 : 1))
      .map((source) => (source.root === root ? { root } : source));
    const { world, kits } = this.#worldOf(spec.plan, { settings, path: spec.path }, sources);
    const film = resolveFilm(spec.plan, world, spec.path);
    const sheets = resolveSheets(sources, film);
    const sheet: SheetChecked = {
      film,
      sheet: sheets.find(({ file }) => file === undefined)!,
      sheets,
      footage: this.outside.footage?.(path),
      today: this.outside.today?.(),
    };
    return { sheet, paths: [...settings.files, spec.path, ...kits.paths, ...others.paths] };
  }

  /** What a spec needs besides its own text, and what is to be said of the kits that it names. */
  #worldOf(
    root: Node | undefined,
    { settings, path }: Where,
    known?: readonly SheetSource[],
  ): { world: World; kits: LoadedKits; found?: FoundSheets | undefined } {
    const kits = loadKits(root, settings, this.host, (file, text) => this.#readKit(file, text));
    const kit = this.#kitOf(kits.sources, kits.complete);
    const found =
      known || path === undefined ? undefined : sheetsOf(path, this.host, (file, text) => this.#readSheet(file, text));
    const measured = resolveMeasured(known ?? found?.sources ?? []);
    const exists = (file: string) => this.host.exists(file);
    const photograph = (file: string) => this.host.photograph?.(file);
    const sketch = (file: string) => this.host.sketch?.(file);
    const heard = (file: string) => this.outside.music?.(file);
    const { region, fees } = settings;
    const earlier = (revision: string) => (path === undefined ? undefined : this.outside.earlier?.(path, revision));
    const lastCommit = () => this.outside.lastCommit?.();
    const around = { exists, photograph, sketch, heard, earlier, lastCommit };
    return { world: { kit, region, fees, measured, ...around }, kits, found };
  }

  /** Takes out what comments accept, and puts the rest in order. */
  #conclude(doc: Doc, all: readonly Finding[]): { findings: Finding[]; forSet: Finding[]; silenced: Silenced[] } {
    const { findings, silenced } = applyAcceptances(doc, onceNamed(all), (rule) => this.knows(rule));
    findings.sort(byPlace);
    const forSet = findings.filter((one) => one.isForSet);
    const toShow = findings.filter((one) => !one.isForSet);
    return { findings: cap(toShow, doc), forSet, silenced };
  }

  /**
   * Checks a spec's tree as it would be with other values. No text is read for it and the kits are read once, so that
   * many values can be tried; what the schema says of them is not asked.
   */
  trials(root: Node | undefined, settings: Settings, path?: string): (changed: Node) => Trial {
    const { world } = this.#worldOf(root, { settings, path });
    return (changed) => {
      const film = resolveFilm(changed, world);
      const { findings } = checkFilm(film, this.rules, settings, '');
      return { film, findings: findings.filter((one) => !one.isForSet) };
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
    return this.rules.some((one) => one.id === rule) || Object.hasOwn(coreChecks, rule);
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

  #readSheet(path: string, text: string): SheetText {
    const known = this.#sheets.get(path);
    if (known?.text === text) return known;
    const sheet = readSheet(text);
    this.#sheets.set(path, sheet);
    return sheet;
  }

  /** The tree of a spec that a sheet is held against; what is wrong with it is said there. */
  #readSpec(path: string, text: string): Node | undefined {
    const known = this.#specs.get(path);
    if (known?.text === text) return known.root;
    const doc = readNested(parseDocument(text), 'shoot');
    const root = doc.broken ? undefined : doc.root;
    const format = root && schemaFindings(root, 'shoot', doc.problems, text);
    const read = root && format && asRead(root, { meant: format.slips, refused: format.refused });
    this.#specs.set(path, { text, root: read });
    return read;
  }

  #readKit(path: string, text: string): KitFile {
    const known = this.#kits.get(path);
    if (known?.text === text) return known;
    const kit = readKit(text);
    this.#kits.set(path, kit);
    return kit;
  }
}

/** Whose settings count for a file, and where it lies. */
interface Where {
  readonly settings: Settings;
  readonly path?: string | undefined;
}

/**
 * A value that can't be read counts as if it were not there, and has its finding. What else is said only because it is
 * not there follows from the same slip: that stands which would be said of a value as it usually is, too.
 */
function withoutDoubtful(checked: Checked, usual: ReadonlySet<string>): Checked {
  const stands = (one: Finding) => aboutWhat(one).every((it) => usual.has(it));
  return { findings: checked.findings.filter(stands), silenced: checked.silenced };
}

/**
 * A name that is defined nowhere is said to be so, and which is near; how it is written is then no matter of its own. Of one
 * in the brief that is a sentence, nothing can be shown before it is a name.
 */
function onceNamed(all: readonly Finding[]): Finding[] {
  const placesOf = (name: string) => new Set(all.flatMap(({ rule, start }) => (rule === name ? [start] : [])));
  const [undefinedAt, badAt] = [placesOf('name-not-defined'), placesOf('bad-name')];
  return all.filter(
    ({ rule, start }) =>
      !(rule === 'bad-name' && undefinedAt.has(start)) &&
      !((rule === 'must-show-missing' || rule === 'name-nothing-shows') && badAt.has(start)),
  );
}

/** The files that the findings of a spec depend on. */
function dependencies(settings: Settings, kits: readonly string[], film: Film): string[] {
  const rights = [...film.rights.values()].flatMap(({ proof, media }) =>
    [proof?.value ?? [], media?.value ?? []].flat(),
  );
  const tables = new Set([...film.shots.values()].flatMap(({ camera }) => camera.mode?.converts?.value ?? []));
  const sketches = [...film.shots.values()].flatMap(({ sketch }) => sketch?.value ?? []);
  return [...settings.files, ...kits, ...rights, ...tables, ...sketches];
}

function cap(findings: readonly Finding[], doc: Doc): Finding[] {
  if (findings.length <= mostFindings) return [...findings];
  const at: Range = { start: 0, end: Math.min(doc.text.length, doc.lines.end(0)) };
  const message = `${findings.length - mostFindings} more findings are not shown: the first ${mostFindings} are.`;
  return [
    ...findings.slice(0, mostFindings),
    { rule: 'more-findings', severity: 'info', message, ...at, related: [], fixes: [] },
  ];
}
