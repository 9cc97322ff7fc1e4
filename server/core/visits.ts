/**
 * Takes every rule to all that it visits in a film, and keeps what was said of shots and pieces: of a film that is
 * edited, only what changed is visited again.
 */
import type { Range } from './document/node.ts';
import type { Deliverable, Film, LampPlace, Piece, Shot, Title, Val } from './film.ts';
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
    const shots = wholeOf([...film.shots.values()], isWhole);
    const pieces = wholeOf(film.cut, ({ shot }) => !shot || isWhole(shot));
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
    const anew = [this.#ofFilm(film), this.#ofShotsAmong(this.#last, film)];
    return this.#inOrder([anew, saidOfShots, saidOfPieces]);
  }

  #inOrder(parts: readonly (readonly Said[])[]): { raised: Raised[]; usedWords: Set<Val<string>> } {
    const byRule = Array.from({ length: this.#rules }, (): Raised[] => []);
    const usedWords = new Set<Val<string>>();
    for (const all of parts) {
      for (const said of all) {
        if (said === nothing) continue;
        for (const one of said.raised) byRule[one.by]!.push(one.raised);
        for (const word of said.usedWords) usedWords.add(word);
      }
    }
    return { raised: byRule.flat(), usedWords };
  }

  #ofShot(shot: Shot, film: Film): SaidOfShot {
    const visit = new Visit(film);
    for (const asked of this.#shotRules) visit.make(asked, 'shot', shot, shot);
    const around = this.#aroundRules.filter((asked) => looksAround(asked, shot, film));
    return visit.isSilent && around.length === 0 ? nothing : { ...visit.said, around };
  }

  /** Anew each time, as is what is said of the film. */
  #ofShotsAmong({ shots, saidOfShots }: Visited, film: Film): Said {
    const visit = new Visit(film);
    for (let index = 0; index < shots.length; index++) {
      for (const asked of saidOfShots[index]!.around) visit.make(asked, 'shot', shots[index]!, shots[index]);
    }
    return visit.said;
  }

  #ofPiece(piece: Piece, film: Film): Said {
    const visit = new Visit(film);
    for (const asked of this.#pieceRules) visit.make(asked, 'piece', piece, piece.shot);
    return visit.isSilent ? nothing : visit.said;
  }

  #ofFilm(film: Film): Said {
    const visit = new Visit(film);
    const { start } = film.at;
    for (const asked of this.#filmRules) {
      visit.make(asked, 'film', film, undefined, { start, end: start });
      if (asked.rule.deliverable) for (const one of film.deliverables.values()) visit.make(asked, 'deliverable', one);
      if (asked.rule.lamp) for (const lamp of film.lamps.values()) visit.make(asked, 'lamp', lamp);
      if (asked.rule.title) for (const title of film.titles) visit.make(asked, 'title', title);
    }
    return visit.said;
  }
}

function looksAround({ rule, limits }: Asked, shot: Shot, film: Film): boolean {
  try {
    return rule.looksAround?.(shot, { film, limits }) ?? false;
  } catch {
    // The visit fails alike, and says so.
    return true;
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

  /** Takes a rule to one thing. What a rule that fails would say is missing, and that is said; all others go on. */
  make<K extends keyof Visitors>(
    asked: Asked,
    kind: K,
    about: Visitors[K],
    shot?: Shot,
    range: Range = about as Range,
  ): void {
    this.#asked = asked;
    this.#about = about;
    this.#range = range;
    this.#shot = shot;
    try {
      (asked.rule as Visiting)[kind]?.(about, this.context);
    } catch (error) {
      const data = { rule: asked.rule.id, why: error instanceof Error ? error.message : String(error) };
      const report = { message: 'failed', data, at: { start: range.start, end: range.end } };
      // Said once, wherever else it fails.
      const sameAs = `${failed.id} ${asked.rule.id}`;
      this.said.raised.push({ by: asked.index, raised: { rule: failed, report, about, aboutRange: range, sameAs } });
    }
  }

  #take(report: AnyReport): void {
    const { rule, index } = this.#asked!;
    const shot = report.shot ?? this.#shot;
    this.said.raised.push({ by: index, raised: { rule, report, about: this.#about, aboutRange: this.#range, shot } });
  }
}

/** What rules visit. */
interface Visitors {
  film: Film;
  shot: Shot;
  piece: Piece;
  deliverable: Deliverable;
  lamp: LampPlace;
  title: Title;
}

type Visiting = { readonly [K in keyof Visitors]?: (about: Visitors[K], context: Visit['context']) => void };

/** What a rule that failed says: a program that stands still would take all other findings along. */
const failed: Rule = {
  id: 'check-failed',
  family: 'names',
  summary: 'A check failed by a fault of its own.',
  severity: 'error',
  sources: [],
  messages: {
    failed:
      '{rule} could not look at this ({why}), so what it would say is missing; all other checks were made. The fault is in the check and not in your file: please report it.',
  },
};

/** In nearly every film all are, and then nothing is copied. */
function wholeOf<T>(all: readonly T[], isWhole: (one: T) => boolean): readonly T[] {
  return all.every(isWhole) ? all : all.filter(isWhole);
}

/** Of a shot whose set-up is defined nowhere half is not known: it is judged when that name is mended. */
function isWhole({ setUpName, setUp }: Shot): boolean {
  return setUpName === undefined || setUp !== undefined;
}
