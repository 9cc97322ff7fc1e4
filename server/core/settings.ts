/** What the settings file (and the editor) change: severities, limits, and what specs that say nothing take. */
import { type Level, levels, type Severity } from './finding.ts';
import type { Rule } from './rule.ts';
import { type Fees, feesOver } from './settings-fees.ts';

export type LevelOrNone = Level | 'none';

const levelWords: ReadonlySet<unknown> = new Set([...levels, 'none']);

export function isLevelOrNone(word: unknown): word is LevelOrNone {
  return levelWords.has(word);
}

export interface RuleSettings {
  readonly severity?: LevelOrNone;
  readonly limits: ReadonlyMap<string, string>;
}

/** What one settings file says; what it leaves out is undefined. */
export interface Said {
  readonly rules?: ReadonlyMap<string, RuleSettings>;
  readonly failAt?: Severity;
  readonly region?: string;
  readonly kits?: readonly string[];
  readonly fees?: Fees | undefined;
  /** The files that were looked at, whether they are there or not, by their path from the root. */
  readonly files?: readonly string[];
}

export class Settings {
  static readonly usual = new Settings();

  constructor(private readonly said: Said = {}) {}

  get failAt(): Severity {
    return this.said.failAt ?? 'error';
  }

  get region(): string | undefined {
    return this.said.region;
  }

  get kits(): readonly string[] {
    return this.said.kits ?? [];
  }

  get fees(): Fees | undefined {
    return this.said.fees;
  }

  get files(): readonly string[] {
    return this.said.files ?? [];
  }

  /**
   * How serious a finding of a rule is here. A rule about harm can be lowered to info and no further; a report that
   * is milder than its rule stays as mild when the settings lower the rule less than that.
   */
  severity(rule: Pick<Rule, 'id' | 'family' | 'severity'>, reported?: Level): LevelOrNone {
    const set = this.said.rules?.get(rule.id)?.severity;
    if (set === undefined) return reported ?? rule.severity;
    if (set === 'none' || set === 'hint') return rule.family === 'care' ? 'info' : set;
    return reported !== undefined && !atLeast(reported, set) && !atLeast(reported, rule.severity) ? reported : set;
  }

  limits(id: string): ReadonlyMap<string, string> | undefined {
    return this.said.rules?.get(id)?.limits;
  }

  /** These settings, of a folder further down, laid over those above it: nearest wins, field by field. */
  over(base: Settings): Settings {
    const above = base.said;
    const rules = new Map(above.rules);
    for (const [id, { severity, limits }] of this.said.rules ?? []) {
      const known = rules.get(id);
      rules.set(id, {
        severity: severity ?? known?.severity,
        limits: new Map([...(known?.limits ?? []), ...limits]),
      });
    }
    return new Settings({
      rules,
      failAt: this.said.failAt ?? above.failAt,
      region: this.said.region ?? above.region,
      kits: this.said.kits ?? above.kits,
      fees: feesOver(this.said.fees, above.fees),
      files: [...base.files, ...this.files],
    });
  }

  /** These settings with the editor's severities laid over them. */
  with(severities: ReadonlyMap<string, LevelOrNone>): Settings {
    const rules = new Map(
      [...severities].map(([id, severity]) => [id, { severity, limits: new Map<string, string>() }]),
    );
    return new Settings({ rules }).over(this);
  }
}

/** Is `a` at least as serious as `b`? */
export function atLeast(a: Level, b: Level): boolean {
  return levels.indexOf(a) <= levels.indexOf(b);
}
