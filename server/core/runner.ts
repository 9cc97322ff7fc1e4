/** Runs rules over a film: takes each to all that it visits, and collects what it reports. */
import type { Range } from './document/node.ts';
import type { Deliverable, Film, LampPlace, Piece, Shot, Title } from './film.ts';
import type { Footage } from './footage.ts';
import { limitsOf } from './limits.ts';
import type { Limit, PurposeWord, Report, Rule } from './rule.ts';
import type { Settings } from './settings.ts';
import type { MasterFile, Sheets, Take, TakeSheet } from './takes.ts';

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
}

/** Runs all rules over all of a film. */
export function runRules(film: Film, rules: readonly Rule[], settings: Settings): Raised[] {
  const run = new Run(film, settings);
  const { start } = film.at;
  const shots = [...film.shots.values()].filter(isWhole);
  const pieces = film.cut.filter(({ shot }) => !shot || isWhole(shot));
  for (const rule of rules) {
    if (settings.severity(rule) === 'none') continue;
    const visit = run.visitor(rule);
    if (rule.film) visit('film', film, undefined, { start, end: start });
    if (rule.deliverable) for (const one of film.deliverables.values()) visit('deliverable', one);
    if (rule.lamp) for (const lamp of film.lamps.values()) visit('lamp', lamp);
    if (rule.title) for (const title of film.titles) visit('title', title);
    if (rule.shot) for (const shot of shots) visit('shot', shot, shot);
    if (rule.piece) for (const piece of pieces) visit('piece', piece, piece.shot);
  }
  return run.raised;
}

/** A sheet with all that its rules are told. */
export interface SheetChecked {
  readonly film: Film;
  readonly sheet: TakeSheet;
  readonly sheets: Sheets;
  readonly footage?: Footage | undefined;
  readonly today?: number | undefined;
}

/** Runs the rules that visit take sheets over one. */
export function runSheetRules(checked: SheetChecked, rules: readonly Rule[], settings: Settings): Raised[] {
  const { film, sheet } = checked;
  const run = new Run(film, settings, checked);
  const { start } = sheet;
  for (const rule of rules) {
    if (!(rule.sheet || rule.take || rule.master) || settings.severity(rule) === 'none') continue;
    const visit = run.visitor(rule);
    visit('sheet', sheet, undefined, { start, end: start });
    if (rule.take) for (const take of sheet.takes) visit('take', take, take.shot);
    if (rule.master) for (const master of sheet.masters) visit('master', master);
  }
  return run.raised;
}

/** Runs the rules that visit shots over one shot of a film. */
export function runShotRules(shot: Shot, film: Film, rules: readonly Rule[], settings: Settings): Raised[] {
  const run = new Run(film, settings);
  for (const rule of rules) {
    if (rule.shot && settings.severity(rule) !== 'none') run.visitor(rule)('shot', shot, shot);
  }
  return run.raised;
}

/** What rules visit. */
interface Visited {
  film: Film;
  shot: Shot;
  piece: Piece;
  deliverable: Deliverable;
  lamp: LampPlace;
  title: Title;
  sheet: TakeSheet;
  take: Take;
  master: MasterFile;
}

type Visitor = <K extends keyof Visited>(kind: K, about: Visited[K], shot?: Shot, range?: Range) => void;
type VisitingRule = { readonly [K in keyof Visited]?: (about: Visited[K], context: object) => void };

class Run {
  /** Rule by rule in their order, and for each in the order of its visits. */
  readonly raised: Raised[] = [];

  constructor(
    private readonly film: Film,
    private readonly settings: Settings,
    /** What rules are told besides the film. */
    private readonly more: object = {},
  ) {}

  /** Takes a rule to one thing after the other. A rule that throws says so instead; all others go on. */
  visitor(rule: Rule): Visitor {
    let current: Pick<Raised, 'about' | 'aboutRange' | 'shot'>;
    const context = {
      ...this.more,
      film: this.film,
      limits: limitsOf(rule as Rule & { limits?: Record<string, Limit> }, this.settings.limits(rule.id)),
      meant: (word: PurposeWord, { onPurpose }: Shot) => onPurpose.some((one) => one.value === word),
      report: (report: AnyReport) => {
        const { about, aboutRange, shot } = current;
        this.raised.push({ rule, report, about, aboutRange, shot: report.shot ?? shot });
      },
    };
    return (kind, about, shot, range = about as Range) => {
      current = { about, aboutRange: range, shot };
      try {
        (rule as VisitingRule)[kind]?.(about, context);
      } catch (error) {
        this.#failed(rule, error, about, range);
      }
    };
  }

  #failed(rule: Rule, error: unknown, about: object, { start, end }: Range): void {
    const isKnown = this.raised.some((one) => one.rule === failed && one.report.data['rule'] === rule.id);
    if (isKnown) return;
    const data = { rule: rule.id, why: error instanceof Error ? error.message : String(error) };
    const report = { message: 'failed', data, at: { start, end } };
    this.raised.push({ rule: failed, report, about, aboutRange: { start, end } });
  }
}

/** What is reported of a rule that throws: a program that stands still would take all other findings along. */
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

/** Of a shot whose set-up is defined nowhere half is not known: it is judged when that name is mended. */
function isWhole({ setUpName, setUp, isBeyond }: Shot): boolean {
  return !isBeyond && (setUpName === undefined || setUp !== undefined);
}
