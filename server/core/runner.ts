/** Runs rules over a film: takes each to all that it visits, and collects what it reports. */
import type { Range } from './document/node.ts';
import type { Film, Shot } from './film.ts';
import type { Footage } from './footage.ts';
import { limitsOf } from './limits.ts';
import type { Limit, PurposeWord, Report, Rule, SheetContext } from './rule.ts';
import type { Settings } from './settings.ts';
import type { Sheets, TakeSheet } from './takes.ts';

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

/**
 * Runs all rules over all of a film.
 * @param isAsked whether a rule is taken to a shot and its pieces; to all where it is left out
 */
export function runRules(
  film: Film,
  rules: readonly Rule[],
  settings: Settings,
  isAsked?: (rule: Rule, shot: Shot) => boolean,
): Raised[] {
  const run = new Run(film, settings);
  const { start } = film.at;
  const shots = [...film.shots.values()].filter(isWhole);
  const pieces = film.cut.filter(({ shot }) => !shot || isWhole(shot));
  for (const rule of rules) {
    if (settings.severity(rule) === 'none') continue;
    const visit = run.visitor(rule);
    if (rule.film) visit(rule.film, film, undefined, { start, end: start });
    if (rule.deliverable) for (const one of film.deliverables.values()) visit(rule.deliverable, one);
    if (rule.lamp) for (const lamp of film.lamps.values()) visit(rule.lamp, lamp);
    if (rule.title) for (const title of film.titles) visit(rule.title, title);
    const isMeant = (shot?: Shot) => !shot || !isAsked || isAsked(rule, shot);
    if (rule.shot) for (const shot of isAsked ? shots.filter(isMeant) : shots) visit(rule.shot, shot, shot);
    if (!rule.piece) continue;
    for (const piece of pieces) if (isMeant(piece.shot)) visit(rule.piece, piece, piece.shot);
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
    if (rule.sheet) visit(rule.sheet, sheet, undefined, { start, end: start });
    if (rule.take) for (const take of sheet.takes) visit(rule.take, take, take.shot);
    if (rule.master) for (const master of sheet.masters) visit(rule.master, master);
  }
  return run.raised;
}

/** Runs the rules that visit shots over one shot of a film. */
export function runShotRules(shot: Shot, film: Film, rules: readonly Rule[], settings: Settings): Raised[] {
  const run = new Run(film, settings);
  for (const rule of rules) {
    if (rule.shot && settings.severity(rule) !== 'none') run.visitor(rule)(rule.shot, shot, shot);
  }
  return run.raised;
}

/** Takes a rule to one thing that it visits, which is marked at `range` where it has no place of its own. */
type Visitor = <V extends object>(
  check: (about: V, context: RuleContext) => void,
  about: V,
  shot?: Shot,
  range?: Range,
) => void;
type RuleContext = SheetContext<Record<string, string>, Record<string, Limit>>;

class Run {
  /** Rule by rule in their order, and for each in the order of its visits. */
  readonly raised: Raised[] = [];

  constructor(
    private readonly film: Film,
    private readonly settings: Settings,
    /** What rules about a take sheet are told besides the film. */
    private readonly more?: SheetChecked,
  ) {}

  /** Takes a rule to one thing after the other. A rule that throws says so instead; all others go on. */
  visitor(rule: Rule): Visitor {
    let visited: object;
    let visitedRange: Range;
    let visitedShot: Shot | undefined;
    const { film, more, raised } = this;
    const context = {
      film,
      limits: limitsOf(rule, this.settings.limits(rule.id)),
      meant,
      report: (report: AnyReport) => {
        raised.push({
          rule,
          report,
          about: visited,
          aboutRange: visitedRange,
          shot: report.shot ?? visitedShot,
        });
      },
      sheet: more?.sheet,
      sheets: more?.sheets,
      footage: more?.footage,
      today: more?.today,
    } as RuleContext;
    return (check, about, shot, range = about as unknown as Range) => {
      visited = about;
      visitedRange = range;
      visitedShot = shot;
      try {
        check(about, context);
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

function meant(word: PurposeWord, { onPurpose }: Shot): boolean {
  return onPurpose.some((one) => one.value === word);
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
