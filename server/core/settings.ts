/** What the settings file (and the editor) change: severities, limits, and what specs that say nothing take. */
import type { Severity } from './finding.ts';
import type { Rule } from './rule.ts';

export type SeverityOrNone = Severity | 'none';

export interface RuleSettings {
  readonly severity?: SeverityOrNone;
  readonly limits: ReadonlyMap<string, string>;
}

export class Settings {
  static readonly usual = new Settings();

  constructor(
    private readonly rules: ReadonlyMap<string, RuleSettings> = new Map(),
    readonly failAt: Severity = 'error',
    readonly region?: string,
    readonly kits: readonly string[] = [],
  ) {}

  /**
   * How serious a finding of a rule is here. A rule about harm can be lowered to info and no further; a report that
   * is milder than its rule stays as mild when the settings lower the rule less than that.
   */
  severity(rule: Pick<Rule, 'id' | 'family' | 'severity'>, reported?: Severity): SeverityOrNone {
    const set = this.rules.get(rule.id)?.severity;
    if (set === undefined) return reported ?? rule.severity;
    if (set === 'none' || set === 'hint') return rule.family === 'care' ? 'info' : set;
    return reported !== undefined && rank[reported] > rank[set] && rank[reported] > rank[rule.severity]
      ? reported
      : set;
  }

  limits(id: string): ReadonlyMap<string, string> | undefined {
    return this.rules.get(id)?.limits;
  }

  /** These settings with the editor's severities laid over them. */
  with(severities: ReadonlyMap<string, SeverityOrNone>): Settings {
    const rules = new Map(this.rules);
    for (const [id, severity] of severities) rules.set(id, { limits: rules.get(id)?.limits ?? new Map(), severity });
    return new Settings(rules, this.failAt, this.region, this.kits);
  }
}

const rank: Readonly<Record<Severity, number>> = { error: 0, warning: 1, info: 2, hint: 3 };

/** Is `a` at least as serious as `b`? */
export function atLeast(a: Severity, b: Severity): boolean {
  return rank[a] <= rank[b];
}
