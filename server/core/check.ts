/**
 * What the rules report of a film, as findings: on-purpose words explain, one cause speaks once, and what several shots
 * share is one finding.
 */
import type { Range } from './document/node.ts';
import type { Film, Shot } from './film.ts';
import { aboutShot, distinct, type Finding, type Fix, type Level, levels, type Related } from './finding.ts';
import { isSameEdit, materialise, ofShots } from './fix.ts';
import { causesOf, type Family, fill, type FixIdea, type PurposeWord, type Rule } from './rule.ts';
import { listFirst, listText } from './say.ts';
import type { Settings } from './settings.ts';
import { kindOf } from './paths.ts';
import { type Raised, runRules, runSheetRules, type SheetChecked } from './runner.ts';

/** A finding that is not shown, and what took it away. */
export interface Silenced {
  readonly finding: Finding;
  readonly by:
    | { readonly kind: 'on-purpose'; readonly word: string }
    | { readonly kind: 'accepted'; readonly reason: string };
}

export interface Checked {
  readonly findings: Finding[];
  readonly silenced: Silenced[];
}

export function checkFilm(film: Film, rules: readonly Rule[], settings: Settings, text: string): Checked {
  const run = runRules(film, rules, settings);
  const { shown, explained } = judge(run, film, settings);
  const { findings, silenced } = said(shown, explained, film, settings, text);
  findings.push(...beyond(film));
  return { findings: findings.sort(byPlace), silenced };
}

/**
 * What the findings on a film are about, without making them.
 * @param asked what they may be about: rules are taken to no other shots
 */
export function spokenOf(
  film: Film,
  rules: readonly Rule[],
  settings: Settings,
  asked: ReadonlySet<string>,
): ReadonlySet<string> {
  const isAsked = ({ id }: Rule, { name }: Shot) => asked.has(aboutShot(id, name));
  const { shown } = judge(runRules(film, rules, settings, isAsked), film, settings);
  const about = shown.map(({ rule, shot }) => aboutShot(rule.id, shot?.name));
  return new Set([...about, ...beyond(film).map(({ rule }) => rule)]);
}

/** What the rules report of a take sheet. */
export function checkSheet(sheet: SheetChecked, rules: readonly Rule[], settings: Settings, text: string): Checked {
  const { shown, explained } = judge(runSheetRules(sheet, rules, settings), sheet.film, settings);
  const { findings, silenced } = said(shown, explained, sheet.film, settings, text);
  return { findings: findings.sort(byPlace), silenced };
}

function said(
  shown: readonly Raised[],
  explained: ReadonlyMap<string, Raised[]>,
  film: Film,
  settings: Settings,
  text: string,
): Checked {
  const findings = group(shown).map((same) => finding(same, film, settings, text));
  const silenced = [...explained].flatMap(([word, said]) =>
    group(said).map((same): Silenced => ({
      finding: finding(same, film, settings, text),
      by: { kind: 'on-purpose', word },
    })),
  );
  return { findings, silenced };
}

/** What is shown of what the rules reported, and what on-purpose words explain, by word. */
export function judge(raised: readonly Raised[], film: Film, settings: Settings) {
  const { shown, explained } = explain(raised, film);
  return { shown: yieldToCauses(shown, settings), explained };
}

/** In the order of the text, then of the rule names, so that the same file always gives the same list. */
export function byPlace(a: Finding, b: Finding): number {
  return (
    a.start - b.start ||
    a.end - b.end ||
    (a.rule < b.rule ? -1 : a.rule > b.rule ? 1 : 0) ||
    (a.message < b.message ? -1 : 1)
  );
}

/** Takes out what an on-purpose word explains. */
function explain(raised: readonly Raised[], film: Film) {
  const shown: Raised[] = [];
  const explained = new Map<string, Raised[]>();
  for (const one of raised) {
    const words = one.shot?.onPurpose ?? film.onPurpose;
    const { explainedBy } = one.report;
    const word =
      explainedBy && words.length > 0
        ? words.find((said) => explainedBy.includes(said.value as PurposeWord))
        : undefined;
    if (word) {
      const said = explained.get(word.value);
      if (said) said.push(one);
      else explained.set(word.value, [one]);
    } else {
      shown.push(one);
    }
  }
  return { shown, explained };
}

/**
 * One cause, one finding: a rule is silent about a shot (or piece, deliverable …) on which one that it yields to speaks.
 * What is told on the sheet alone takes no finding away.
 */
function yieldToCauses(raised: readonly Raised[], settings: Settings): readonly Raised[] {
  const causes = new Set(raised.flatMap(causesOf));
  if (causes.size === 0) return raised;
  const speaking = new Map<object, Set<string>>();
  for (const one of raised) {
    if (!causes.has(one.rule.id) || levelOf(one, settings) === 'sheet') continue;
    for (const about of [one.about, one.shot]) {
      if (!about) continue;
      const rules = speaking.get(about) ?? new Set();
      speaking.set(about, rules.add(one.rule.id));
    }
  }
  return raised.filter((one) => {
    const { about, shot } = one;
    return !causesOf(one).some((id) => speaking.get(about)?.has(id) || (shot && speaking.get(shot)?.has(id)));
  });
}

/** What a finding can say of several at once. */
const manyNames: ReadonlySet<string> = new Set(['shot', 'deliverable', 'deliverables', 'piece']);

/**
 * Reports become one finding that have one cause, or that say the same of several shots or deliverables at one place (a
 * value that they all take over). The worst stands first.
 */
function group(raised: readonly Raised[]): Raised[][] {
  const groups = new Map<string, Raised[]>();
  for (const one of raised) {
    const key = causeOf(one) ?? sayingOf(one);
    const same = groups.get(key);
    if (same) same.push(one);
    else groups.set(key, [one]);
  }
  return [...groups.values()].map((same) => same.sort(byGravity));
}

function causeOf({ rule, report: { cause } }: Raised): string | undefined {
  return cause && `${rule.id} by ${cause.file ?? ''} ${cause.start} ${cause.end} ${cause.as ?? ''}`;
}

function byGravity(a: Raised, b: Raised): number {
  return gravity(a) - gravity(b) || (b.report.excess ?? 0) - (a.report.excess ?? 0);
}

function gravity({ rule, report }: Raised): number {
  return levels.indexOf(report.severity ?? rule.severity);
}

/** What a report says, where, and how seriously, but for whom it is about. */
function sayingOf(one: Raised): string {
  const { rule, report, aboutRange } = one;
  const place = report.at.file === undefined ? report.at : aboutRange;
  return `${rule.id} ${place.start} ${place.end} ${wordsOf(one)}`;
}

function wordsOf({ report: { message, data, severity } }: Raised): string {
  let words = `${message} ${severity}`;
  for (const name in data) if (!manyNames.has(name)) words += `\n${data[name]}`;
  return words;
}

const ofPicture: ReadonlySet<Family> = new Set(['framing', 'optics', 'movement']);

/** So many of the other places that a finding is about are listed with it. */
const mostPlaces = 30;

function finding(same: readonly Raised[], film: Film, settings: Settings, text: string): Finding {
  const { rule, report } = same[0]!;
  const related: Related[] = [
    ...(report.related ?? []),
    ...(report.at.file !== undefined
      ? [{ start: report.at.start, end: report.at.end, file: report.at.file, message: fromWhere(report.at.file) }]
      : []),
    ...same
      .slice(1, 1 + mostPlaces)
      .map(({ aboutRange: place }) => ({ start: place.start, end: place.end, message: 'here too' })),
  ];
  const { start, end } = placeOf(same);
  const shots = shotsOf(same).map((shot) => shot.name);
  const level = levelOf(same[0]!, settings);
  let made: Fix[] | undefined;
  return {
    rule: rule.id,
    severity: level === 'sheet' ? 'hint' : level,
    isForSet: level === 'sheet' || undefined,
    message: fill(rule.messages[report.message] ?? '', dataOf(same)),
    start,
    end,
    related: distinct(related.filter((one) => one.file !== undefined || one.start !== start)),
    isOfPicture: ofPicture.has(rule.family),
    says: report.message,
    yieldsTo: causesOf(same[0]!),
    excess: report.excess === undefined ? undefined : Math.max(...same.map((one) => one.report.excess ?? 0)),
    shots: shots.length > 0 ? shots : undefined,
    isUnused: report.isUnused,
    // Found when somebody asks: while one types, nobody does.
    get fixes() {
      return (made ??= fixes(same, film, text));
    },
  };
}

/** Rules that are turned off are not run. */
function levelOf({ rule, report }: Raised, settings: Settings): Level {
  return settings.severity(rule, report.severity) as Level;
}

const wheres = { shoot: 'as planned', takes: 'on this sheet', kit: 'as the kit says', config: 'as the settings say' };

function fromWhere(file: string): string {
  return wheres[kindOf(file) ?? 'kit'];
}

/** At the value at fault; where several with one cause stand apart, at the cause. */
function placeOf(same: readonly Raised[]): Range {
  const { report, aboutRange } = same[0]!;
  const { at, cause } = report;
  const isApart = same.some((one) => one.report.at.start !== at.start || one.report.at.file !== at.file);
  if (cause && !cause.isWide && cause.file === undefined && isApart) return cause;
  return at.file === undefined ? at : aboutRange;
}

function shotsOf(same: readonly Raised[]): Shot[] {
  const shots = new Map<string, Shot>();
  for (const { shot } of same) if (shot && !shots.has(shot.name)) shots.set(shot.name, shot);
  return [...shots.values()];
}

/**
 * What the worst of them says, with the names of all that the finding is about, four at most; where its numbers are those
 * of the first, it comes first.
 */
function dataOf(same: readonly Raised[]): Raised['report']['data'] {
  const { data } = same[0]!.report;
  if (same.length === 1) return data;
  const words = wordsOf(same[0]!);
  const isAlike = same.every((one) => wordsOf(one) === words);
  const joined: Record<string, string | number> = { ...data };
  for (const key of manyNames) {
    const own = namesIn(data[key]);
    const all = [...new Set([...own, ...same.flatMap(({ report }) => namesIn(report.data[key]))])];
    const others = all.slice(own.length);
    if (others.length > 0)
      joined[key] = isAlike ? listFirst(all, 4) : `${listText(own)} (also ${listFirst(others, 3)})`;
  }
  return joined;
}

/** The names in a list of quoted ones, such as that of deliverables; any other text as it is. */
function namesIn(said: unknown): readonly string[] {
  if (said === undefined) return [];
  const text = String(said);
  return text.match(/`[^`]+`/g) ?? [text];
}

/** Those for the cause, those that help all alike, then those that help the worst alone, and say so. */
function fixes(same: readonly Raised[], film: Film, text: string): Fix[] {
  const [worst, ...others] = same;
  const { report, shot } = worst!;
  const forCause = others.length > 0 ? (report.mendCause?.(shotsOf(same)) ?? []) : [];
  const ideas = others.map((one) => ideasOf(one.report));
  const wanted = ideasOf(report).flatMap((idea): Wanted[] => {
    const alike = ideas.flatMap((all) => sister(idea, all) ?? []);
    const isForAll = alike.length === others.length;
    if (isForAll && alike.every(({ title }) => title === idea.title)) return [{ idea, alike: [idea, ...alike] }];
    const of = !idea.isNamed && shotsOf(same).length > 1 ? shot : undefined;
    const alone = { idea, alike: [idea], of, isNamed: true };
    if (!isForAll) return [alone];
    const forAll = { idea, alike: [idea, ...alike], of, rest: ', and the others as each needs it' };
    if (shotsOf(same).length < 2) return [forAll];
    // One value that they all take over is set once for all of them, as the worst needs it.
    if (isOneEdit(forAll, alone, film, text)) return [{ idea, alike: [idea] }];
    return [{ ...forAll, isNamed: true }, alone];
  });
  const made = [...forCause.map((idea): Wanted => ({ idea, alike: [idea], isNamed: true })), ...wanted].flatMap(
    ({ idea, alike, of, rest = '', isNamed }) => {
      const fix = materialise(idea, alike, film, text);
      if (!fix) return [];
      const own = rest ? [] : fix.edits; // Each of the others has edits of its own.
      const title = fix.title + (of ? ofShots([of], own, text) : '') + rest;
      return { ...fix, title, ...((isNamed || idea.isNamed) && { isNamed: true }) };
    },
  );
  // Two titles of one edit would be one choice too many.
  return made.filter(({ edits }, index) => made.findIndex((other) => sameEdits(other.edits, edits)) === index);
}

function isOneEdit(one: Wanted, other: Wanted, film: Film, text: string): boolean {
  const [first, second] = [one, other].map(({ idea, alike }) => materialise(idea, alike, film, text));
  return first !== undefined && second !== undefined && sameEdits(first.edits, second.edits);
}

function sameEdits(some: Fix['edits'], others: Fix['edits']): boolean {
  return some.length === others.length && some.every((edit, index) => isSameEdit(edit, others[index]!));
}

interface Wanted {
  readonly idea: FixIdea;
  readonly alike: readonly FixIdea[];
  /** The shot that its numbers are those of. */
  readonly of?: Shot | undefined;
  readonly rest?: string;
  readonly isNamed?: boolean;
}

/** What another shot wants that is the same, or sets the same fields. */
function sister(idea: FixIdea, all: readonly FixIdea[]): FixIdea | undefined {
  return all.find(({ title }) => title === idea.title) ?? all.find((one) => setsAlike(one, idea));
}

function ideasOf({ fixes = [] }: Raised['report']): readonly FixIdea[] {
  return typeof fixes === 'function' ? fixes() : fixes;
}

function setsAlike(a: FixIdea, b: FixIdea): boolean {
  const keys = ({ set = [], remove = [] }: FixIdea) => [...set, ...remove].map((one) => one.key).join(' ');
  return keys(a) === keys(b) && !a.edits && !b.edits;
}

function beyond({ shots, lamps }: Film): Finding[] {
  const all = [...shots.values()].filter(({ isBeyond }) => isBeyond);
  const [first] = all;
  if (!first) return [];
  const message = `From here on ${all.length} shots are not checked: ${lamps.size} lamps in ${shots.size} shots are more than are looked at. Say with \`lit\` which lamps light a shot, or make several specs of it.`;
  const { start, end } = first;
  return [{ rule: 'too-many-lamps', severity: 'warning', message, start, end, related: [], fixes: [] }];
}
