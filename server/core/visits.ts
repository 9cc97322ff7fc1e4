/**
 * Takes every rule to all that it visits in a film, and keeps what was said of shots and pieces: of a film that is
 * edited, only what changed is visited again.
 */
import type { Range } from './document/node.ts';
import { once } from './derived/memo.ts';
import type { Film, Piece, Shot, Val } from './film.ts';
import { limitsOf } from './limits.ts';
import type { Limit, PurposeWord, Report, Rule } from './rule.ts';
import type { Settings } from './settings.ts';

type AnyReport = Omit<Report<Record<string, string>, string>, 'data'> & {
  readonly data: Readonly<Record<string, string | number>>;
};

/** A report with what it was made about. */
export interface Raised {
  readonly rule: Rule;
  readonly report: AnyReport;
  /** The visited shot, piece, deliverable, lamp, title or film. */
  readonly about: object;
  readonly aboutRange: Range;
  readonly shot?: Shot;
  /** What it has in common with reports that say the same, once somebody has asked. */
  sameAs?: string;
}

/** A rule as it is asked here. */
interface Asked {
  readonly rule: Rule;
  /** In the order of the rules. */
  readonly index: number;
  readonly limits: Readonly<Record<string, number>>;
}

/** What some rules said of one thing. */
interface Said {
  readonly raised: { readonly by: number; readonly raised: Raised }[];
  /** The on-purpose words that a rule took into account by itself. */
  readonly usedWords: Val<string>[];
}

/** What is known of a shot or piece, and for what it holds: the same visits of films that share all but their shots. */
interface Kept {
  for?: { readonly visits: Visits; readonly head: object; readonly beside: readonly (Piece | undefined)[] };
  said: Said;
}

const keptOf = once<object, Kept>(() => ({ said: silence() }));

function silence(): Said {
  return { raised: [], usedWords: [] };
}

export class Visits {
  readonly #shotRules: readonly Asked[];
  readonly #pieceRules: readonly Asked[];
  /** Rules that look at the film as a whole, each time. */
  readonly #filmRules: readonly Asked[];
  readonly #rules: number;

  constructor(rules: readonly Rule[], settings: Settings) {
    const asked = rules.flatMap((rule, index): Asked[] => {
      if (settings.severity(rule) === 'none') return [];
      const limits = limitsOf(rule as Rule & { limits?: Record<string, Limit> }, settings.limits(rule.id));
      return [{ rule, index, limits }];
    });
    const near = asked.filter(({ rule }) => !rule.looksAround);
    this.#shotRules = near.filter(({ rule }) => rule.shot);
    this.#pieceRules = near.filter(({ rule }) => rule.piece);
    this.#filmRules = asked.filter(
      ({ rule }) => rule.looksAround || rule.film || rule.deliverable || rule.lamp || rule.title,
    );
    this.#rules = rules.length;
  }

  /** All that the rules say, rule by rule in their order and for each as its visits were made. */
  of(film: Film): { raised: Raised[]; usedWords: Set<Val<string>> } {
    const shots = [...film.shots.values()].filter(isWhole);
    const pieces = film.cut.filter(({ shot }) => !shot || isWhole(shot));
    const whole = new Visit(film);
    for (const asked of this.#filmRules) visitAll(asked, whole, shots, pieces);
    const byRule = Array.from({ length: this.#rules }, (): Raised[] => []);
    const usedWords = new Set<Val<string>>();
    const take = ({ raised, usedWords: words }: Said) => {
      for (const one of raised) byRule[one.by]!.push(one.raised);
      for (const word of words) usedWords.add(word);
    };
    take(whole.said);
    for (const shot of shots) take(this.#ofShot(shot, film));
    for (const piece of pieces) take(this.#ofPiece(piece, film));
    return { raised: byRule.flat(), usedWords };
  }

  #ofShot(shot: Shot, film: Film): Said {
    const kept = keptOf(shot);
    if (kept.for?.visits !== this || kept.for.head !== film.head) {
      const visit = new Visit(film);
      for (const asked of this.#shotRules) {
        visit.begin(asked, shot, shot, shot);
        asked.rule.shot?.(shot, visit.context);
      }
      kept.said = visit.said;
      kept.for = { visits: this, head: film.head, beside: [] };
    }
    return kept.said;
  }

  /** A rule that visits a piece may look at those beside it too. */
  #ofPiece(piece: Piece, film: Film): Said {
    const kept = keptOf(piece);
    const [before, after] = [film.cut[piece.index - 1], film.cut[piece.index + 1]];
    const same = kept.for?.beside[0] === before && kept.for?.beside[1] === after;
    if (!same || kept.for?.visits !== this || kept.for.head !== film.head) {
      const visit = new Visit(film);
      for (const asked of this.#pieceRules) {
        visit.begin(asked, piece, piece, piece.shot);
        asked.rule.piece?.(piece, visit.context);
      }
      kept.said = visit.said;
      kept.for = { visits: this, head: film.head, beside: [before, after] };
    }
    return kept.said;
  }
}

/** Some visits, made one after the other: there are many, and they share one context. */
class Visit {
  readonly said = silence();
  readonly context;
  #asked: Asked | undefined;
  #about: object;
  #range: Range;
  #shot: Shot | undefined;

  constructor(film: Film) {
    this.#about = film;
    this.#range = film.at;
    // eslint-disable-next-line @typescript-eslint/no-this-alias -- `limits` is read through the context
    const visit = this;
    this.context = {
      film,
      get limits() {
        return visit.#asked!.limits;
      },
      meant: (word: PurposeWord, { onPurpose }: Shot) => {
        const said = onPurpose.find((one) => one.value === word);
        if (said) this.said.usedWords.push(said);
        return said !== undefined;
      },
      report: (report: AnyReport) => this.#take(report),
    };
  }

  begin(asked: Asked, about: object, range: Range, shot?: Shot): void {
    this.#asked = asked;
    this.#about = about;
    this.#range = range;
    this.#shot = shot;
  }

  #take(report: AnyReport): void {
    const { rule, index } = this.#asked!;
    const shot = report.shot ?? this.#shot;
    this.said.raised.push({ by: index, raised: { rule, report, about: this.#about, aboutRange: this.#range, shot } });
  }
}

/** The visits of a rule that are made anew each time. */
function visitAll(asked: Asked, visit: Visit, shots: readonly Shot[], pieces: readonly Piece[]): void {
  const { rule } = asked;
  const { context } = visit;
  const { film } = context;
  const each = <T extends Range>(all: Iterable<T>, look: (one: T) => void, shotOf?: (one: T) => Shot | undefined) => {
    for (const one of all) {
      visit.begin(asked, one, one, shotOf?.(one));
      look(one);
    }
  };
  visit.begin(asked, film, { start: film.at.start, end: film.at.start });
  rule.film?.(film, context);
  if (rule.looksAround && rule.shot)
    each(
      shots,
      (shot) => rule.shot?.(shot, context),
      (shot) => shot,
    );
  if (rule.looksAround && rule.piece)
    each(
      pieces,
      (piece) => rule.piece?.(piece, context),
      (piece) => piece.shot,
    );
  if (rule.deliverable) each(film.deliverables.values(), (one) => rule.deliverable?.(one, context));
  if (rule.lamp) each(film.lamps.values(), (lamp) => rule.lamp?.(lamp, context));
  if (rule.title) each(film.titles, (title) => rule.title?.(title, context));
}

/** Of a shot whose set-up is defined nowhere half is not known: it is judged when that name is mended. */
function isWhole({ setUpName, setUp }: Shot): boolean {
  return setUpName === undefined || setUp !== undefined;
}
