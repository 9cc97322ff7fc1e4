/** What the rules that visit shots say of one shot, or of a made-up variant of one: cheap enough to try hundreds. */
import { judge } from './check.ts';
import type { Film, Shot } from './film.ts';
import type { Finding } from './finding.ts';
import { fill, type Rule } from './rule.ts';
import { runShotRules } from './runner.ts';
import type { Settings } from './settings.ts';

export type ShotFinding = Pick<Finding, 'rule' | 'severity' | 'message' | 'excess'>;

/** On-purpose words explain and causes speak for their effects, as in a check of the whole film; comments are not read. */
export function checkShot(shot: Shot, film: Film, rules: readonly Rule[], settings: Settings): ShotFinding[] {
  const around = withShot(film, shot);
  const { shown } = judge(runShotRules(shot, around, rules, settings), around, settings);
  return shown.flatMap(({ rule, report }) => {
    const severity = settings.severity(rule, report.severity);
    return severity === 'none' || severity === 'sheet'
      ? []
      : { rule: rule.id, severity, message: fill(rule.messages[report.message], report.data), excess: report.excess };
  });
}

/** The film with a made-up shot in the place of the one that has its name. */
function withShot(film: Film, shot: Shot): Film {
  if (film.shots.get(shot.name) === shot) return film;
  return { ...film, shots: new Map([...film.shots, [shot.name, shot]]) };
}
