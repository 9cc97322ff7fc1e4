/**
 * Takes every rule to all that it visits in a film, and keeps what was said of shots and pieces: of a film that is
 * edited, only what changed is visited again.
 */
import type { Range } from './document/node.ts';
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

/** What was said of a shot by those that look at nothing but it, and those that look around. */
interface SaidOfShot extends Said {
  readonly around: readonly Asked[];
}

/** Of most things nothing is said: this need not be looked into. */
const nothing: SaidOfShot = { raised: [], usedWords: [], around: [] };

/** A film as it was visited last: what was said holds for a film that shares all but its shots with it. */
interface Visited {
  readonly head: object;
  readonly cut: readonly Piece[];
  readonly shots: readonly Shot[];
  readonly saidOfShots: readonly SaidOfShot[];
  readonly pieces: readonly Piece[];
  readonly saidOfPieces: readonly Said[];
}

export class Visits {
  readonly #shotRules: readonly Asked[];
  readonly #pieceRules: readonly Asked[];
  /** Rules that visit a shot and look at others too. */
  readonly #aroundRules: readonly Asked[];
  /** Rules that look at the film as a whole, or at what it has besides shots and pieces. */
  readonly #filmRules: readonly Asked[];
  readonly #rules: number;
  #last: Visited | undefined;

  constructor(rules: readonly Rule[], settings: Settings) {
    const asked = rules.flatMap((rule, index): Asked[] => {
      if (settings.severity(rule) === 'none') return [];
      const limits = limitsOf(rule as Rule & { limits?: Record<string, Limit> }, settings.limits(rule.id));
      return [{ rule, index, limits }];
    });
    this.#shotRules = asked.filter(({ rule }) => rule.shot && !rule.looksAround);
    this.#aroundRules = asked.filter(({ rule }) => rule.shot && rule.looksAround);
    this.#pieceRules = asked.filter(({ rule }) => rule.piece);
    this.#filmRules = asked.filter(({ rule }) => rule.film || rule.deliverable || rule.lamp || rule.title);
    this.#rules = rules.length;
  }

  /** All that the rules say, rule by rule in their order and for each as its visits were made. */
  of(film: Film): { raised: Raised[]; usedWords: Set<Val<string>> } {
    const shots = [...film.shots.values()].filter(isWhole);
    const pieces = film.cut.filter(({ shot }) => !shot || isWhole(shot));
    const known = this.#last?.head === film.head ? this.#last : undefined;
    const saidOfShots = shots.map((shot, index) =>
      known?.shots[index] === shot ? known.saidOfShots[index]! : this.#ofShot(shot, film),
    );
    const saidOfPieces = pieces.map((piece, index) =>
      known?.pieces[index] === piece && sameAround(known.cut, film.cut, piece.index)
        ? known.saidOfPieces[index]!
        : this.#ofPiece(piece, film),
    );
    this.#last = { head: film.head, cut: film.cut, shots, saidOfShots, pieces, saidOfPieces };
    return this.#inOrder([this.#ofFilm(film), this.#ofShotsAmong(this.#last, film), ...saidOfShots, ...saidOfPieces]);
  }

  #inOrder(all: readonly Said[]): { raised: Raised[]; usedWords: Set<Val<string>> } {
    const byRule = Array.from({ length: this.#rules }, (): Raised[] => []);
    const usedWords = new Set<Val<string>>();
    for (const said of all) {
      if (said === nothing) continue;
      for (const one of said.raised) byRule[one.by]!.push(one.raised);
      for (const word of said.usedWords) usedWords.add(word);
    }
    return { raised: byRule.flat(), usedWords };
  }

  #ofShot(shot: Shot, film: Film): SaidOfShot {
    const visit = new Visit(film);
    for (const asked of this.#shotRules) {
      visit.begin(asked, shot, shot, shot);
      asked.rule.shot?.(shot, visit.context);
    }
    const around = this.#aroundRules.filter(({ rule, limits }) => rule.looksAround?.(shot, { film, limits }));
    return visit.isSilent && around.length === 0 ? nothing : { ...visit.said, around };
  }

  /** Anew each time, as is what is said of the film. */
  #ofShotsAmong({ shots, saidOfShots }: Visited, film: Film): Said {
    const visit = new Visit(film);
    for (const [index, { around }] of saidOfShots.entries()) {
      const shot = shots[index]!;
      for (const asked of around) {
        visit.begin(asked, shot, shot, shot);
        asked.rule.shot?.(shot, visit.context);
      }
    }
    return visit.said;
  }

  #ofPiece(piece: Piece, film: Film): Said {
    const visit = new Visit(film);
    for (const asked of this.#pieceRules) {
      visit.begin(asked, piece, piece, piece.shot);
      asked.rule.piece?.(piece, visit.context);
    }
    return visit.isSilent ? nothing : visit.said;
  }

  #ofFilm(film: Film): Said {
    const visit = new Visit(film);
    const { context } = visit;
    const each = <T extends Range>(asked: Asked, all: Iterable<T>, look: ((one: T) => void) | undefined) => {
      if (!look) return;
      for (const one of all) {
        visit.begin(asked, one, one);
        look(one);
      }
    };
    for (const asked of this.#filmRules) {
      const { rule } = asked;
      visit.begin(asked, film, { start: film.at.start, end: film.at.start });
      rule.film?.(film, context);
      each(asked, film.deliverables.values(), rule.deliverable && ((one) => rule.deliverable?.(one, context)));
      each(asked, film.lamps.values(), rule.lamp && ((one) => rule.lamp?.(one, context)));
      each(asked, film.titles, rule.title && ((one) => rule.title?.(one, context)));
    }
    return visit.said;
  }
}

/** A rule that visits a piece may look at those beside it too. */
function sameAround(before: readonly Piece[], now: readonly Piece[], index: number): boolean {
  return before[index - 1] === now[index - 1] && before[index + 1] === now[index + 1];
}

/** Some visits, made one after the other: there are many, and they share one context. */
class Visit {
  readonly said: Said = { raised: [], usedWords: [] };
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

  get isSilent(): boolean {
    return this.said.raised.length + this.said.usedWords.length === 0;
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

/** Of a shot whose set-up is defined nowhere half is not known: it is judged when that name is mended. */
function isWhole({ setUpName, setUp }: Shot): boolean {
  return setUpName === undefined || setUp !== undefined;
}
