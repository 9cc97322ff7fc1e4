/** What the rules that visit shots say of one shot, or of a made-up variant of one: cheap enough to try hundreds. */
import type { Film, Shot } from './film.ts';
import type { Finding } from './finding.ts';
import { limitsOf } from './limits.ts';
import { causesOf, fill, type Report, type Rule } from './rule.ts';
import type { Settings } from './settings.ts';

export type ShotFinding = Pick<Finding, 'rule' | 'severity' | 'message'>;

type AnyReport = Report<Record<string, string>, string>;

/** On-purpose words explain and causes speak for their effects, as in a check of the whole film; comments are not read. */
export function checkShot(shot: Shot, film: Film, rules: readonly Rule[], settings: Settings): ShotFinding[] {
  const words = new Set(shot.onPurpose.map((word) => word.value));
  const raised = rules.flatMap((rule) => {
    if (!rule.shot || settings.severity(rule) === 'none') return [];
    const reports: AnyReport[] = [];
    rule.shot(shot, {
      film,
      limits: limitsOf(rule, settings.limits(rule.id)),
      meant: (word: string) => words.has(word),
      report: (report: AnyReport) => reports.push(report),
    });
    return reports.filter((one) => !one.explainedBy?.some((word) => words.has(word))).map((one) => ({ rule, one }));
  });
  const speaking = new Set(raised.map(({ rule }) => rule.id));
  return raised
    .filter(({ rule, one }) => {
      return !causesOf({ rule, report: one }).some((id) => speaking.has(id));
    })
    .flatMap(({ rule, one }) => {
      const severity = settings.severity(rule, one.severity);
      return severity === 'none'
        ? []
        : { rule: rule.id, severity, message: fill(rule.messages[one.message], one.data) };
    });
}
