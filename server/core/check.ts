/**
 * Runs the rules over a resolved film: visits, lets on-purpose words explain, lets one cause speak once, and makes one
 * finding of what several shots share.
 */
import type { Film, Val } from './film.ts';
import type { Finding, Fix, Related, Severity } from './finding.ts';
import { materialise } from './fix.ts';
import { causesOf, fill, type PurposeWord, type Rule } from './rule.ts';
import { listFirst } from './say.ts';
import type { Settings } from './settings.ts';
import { type Raised, Visits } from './visits.ts';

/** A finding that is not shown, and what took it away. */
export interface Silenced {
  readonly finding: Finding;
  readonly by:
    { readonly kind: 'on-purpose'; readonly word: string } | { readonly kind: 'accepted'; readonly reason: string };
}

export interface Checked {
  readonly findings: Finding[];
  readonly silenced: Silenced[];
}

export function checkFilm(film: Film, rules: readonly Rule[], settings: Settings, text: string): Checked {
  return new FilmCheck(rules, settings).run(film, text);
}

/** The check of one film, or of films of one text after the other: see `Film.head`. */
export class FilmCheck {
  readonly #visits: Visits;
  readonly #settings: Settings;

  constructor(rules: readonly Rule[], settings: Settings) {
    this.#visits = new Visits(rules, settings);
    this.#settings = settings;
  }

  run(film: Film, text: string): Checked {
    const { raised, usedWords } = this.#visits.of(film);
    const { shown, explained } = explain(raised, film, usedWords);
    const kept = yieldToCauses(shown);
    const findings = group(kept).map((same) => finding(same, film, this.#settings, text));
    const silenced = [...explained].flatMap(([word, said]) =>
      group(said).map((same): Silenced => ({
        finding: finding(same, film, this.#settings, text),
        by: { kind: 'on-purpose', word },
      })),
    );
    findings.push(...idleWords(film, usedWords));
    return { findings: findings.sort(byPlace), silenced };
  }
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
function explain(raised: readonly Raised[], film: Film, usedWords: Set<Val<string>>) {
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
      usedWords.add(word);
      const said = explained.get(word.value);
      if (said) said.push(one);
      else explained.set(word.value, [one]);
    } else {
      shown.push(one);
    }
  }
  return { shown, explained };
}

/** One cause, one finding: a rule is silent about a shot (or piece, deliverable …) on which one that it yields to speaks. */
function yieldToCauses(raised: readonly Raised[]): readonly Raised[] {
  const causes = new Set(raised.flatMap(causesOf));
  if (causes.size === 0) return raised;
  const speaking = new Map<object, Set<string>>();
  for (const one of raised) {
    if (!causes.has(one.rule.id)) continue;
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
const manyNames: ReadonlySet<string> = new Set(['shot', 'deliverable']);

/** Reports that say the same of several shots or deliverables at one place (a value that they all take over) become one. */
function group(raised: readonly Raised[]): Raised[][] {
  const groups = new Map<string, Raised[]>();
  for (const one of raised) {
    const key = (one.sameAs ??= sayingOf(one));
    const same = groups.get(key);
    if (same) same.push(one);
    else groups.set(key, [one]);
  }
  return [...groups.values()];
}

/** What a report says, where, and how seriously, but for whom it is about. */
function sayingOf({ rule, report, aboutRange }: Raised): string {
  const { message, data, at, severity } = report;
  const place = at.file === undefined ? at : aboutRange;
  let key = `${rule.id} ${message} ${severity} ${place.start} ${place.end}`;
  for (const name in data) if (!manyNames.has(name)) key += `\n${data[name]}`;
  return key;
}

/** So many of the other places that a finding is about are listed with it. */
const mostPlaces = 30;

function finding(same: readonly Raised[], film: Film, settings: Settings, text: string): Finding {
  const { rule, report, aboutRange } = same[0]!;
  const inKit = report.at.file !== undefined;
  const related: Related[] = [
    ...(report.related ?? []),
    ...(inKit
      ? [{ start: report.at.start, end: report.at.end, file: report.at.file, message: 'as the kit says' }]
      : []),
    ...same
      .slice(1, 1 + mostPlaces)
      .map(({ aboutRange: place }) => ({ start: place.start, end: place.end, message: 'here too' })),
  ];
  const { start, end } = inKit ? aboutRange : report.at;
  const names = new Set<string>();
  for (const { shot } of same) if (shot) names.add(shot.name);
  const shots = [...names];
  let made: Fix[] | undefined;
  return {
    rule: rule.id,
    severity: settings.severity(rule, report.severity) as Severity,
    message: fill(rule.messages[report.message] ?? '', { ...report.data, ...joinedNames(same) }),
    start,
    end,
    related: related.filter((one) => one.file !== undefined || one.start !== start),
    excess: report.excess === undefined ? undefined : Math.max(...same.map((one) => one.report.excess ?? 0)),
    shots: shots.length > 0 ? shots : undefined,
    // Found when somebody asks: while one types, nobody does.
    get fixes() {
      return (made ??= fixes(same, film, text));
    },
  };
}

/** The names of all that a finding is about, four at most. */
function joinedNames(same: readonly Raised[]): Record<string, string> {
  return Object.fromEntries(
    [...manyNames].flatMap((key) => {
      const names = new Set<string | number>();
      for (const { report } of same) if (report.data[key] !== undefined) names.add(report.data[key]);
      return names.size > 1 ? [[key, listFirst([...names].map(String), 4)]] : [];
    }),
  );
}

function fixes(same: readonly Raised[], film: Film, text: string): Fix[] {
  const all = same.map(({ report }) => (typeof report.fixes === 'function' ? report.fixes() : (report.fixes ?? [])));
  return (all[0] ?? []).flatMap((idea, index) => {
    const alike = all.flatMap((ideas) => ideas[index] ?? []);
    return materialise(idea, alike, film, text) ?? [];
  });
}

/** On-purpose words that explained nothing: a slip, or no longer needed. */
function idleWords(film: Film, used: ReadonlySet<Val<string>>): Finding[] {
  const usedAt = new Set([...used].map((word) => word.start));
  const said = new Map<number, Val<string>>();
  const collect = ({ onPurpose }: Pick<Film, 'onPurpose'>) => {
    for (const word of onPurpose) said.set(word.start, word);
  };
  collect(film);
  for (const shot of film.shots.values()) collect(shot);
  return [...said.values()]
    .filter((word) => !usedAt.has(word.start))
    .map(({ text, start, end }) => ({
      rule: 'purpose-explains-nothing',
      severity: 'info' as const,
      message: `\`${text}\` explains nothing: no finding here that it would excuse. Take it out, or keep it and expect this note.`,
      start,
      end,
      related: [],
      fixes: [],
    }));
}
