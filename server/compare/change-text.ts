/** A change in words, in pieces that each output writes its own way. */
import type { ComparedFinding, Effect, FieldChange, PlanChange } from './comparison.ts';

/** What one change is about: `reveal`, `reveal and spin`, `all 5 shots`, `lamp key`. */
export function aboutText({ kind, names, all }: PlanChange): string {
  if (names.length === 0) return kind === 'file' ? 'settings' : kind;
  if (kind === 'shot') return all ? `all ${names.length} shots` : list(names);
  return `${kind} ${list(names)}`;
}

function list(names: readonly string[]): string {
  return names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;
}

/** What happened: the fields and what says itself, then the numbers that have a name. */
export function changeText(change: PlanChange): string {
  const inline = [...change.fields.map(fieldText), ...change.effects.filter((one) => one.name === '').map(effectText)];
  const named = change.effects.filter((one) => one.name !== '').map(effectText);
  const details = [inline.join(', '), ...named].filter(Boolean).join('; ');
  const what = whatText(change);
  return [what, details].filter(Boolean).join(': ');
}

function whatText({ what, was }: PlanChange): string {
  if (what === 'changed') return '';
  if (what === 'moved') return `was ${was}`;
  if (what === 'renamed') return `was called ${was}`;
  return what === 'added' ? 'new' : 'taken out';
}

function fieldText({ name, before, after }: FieldChange): string {
  if (before === undefined) return `${name} ${after}`;
  return after === undefined ? `${name} ${before} → not said` : `${name} ${before} → ${after}`;
}

function effectText({ name, before, after, text }: Effect): string {
  const said = text ?? `${before ?? 'not known'} → ${after ?? 'not known'}`;
  return name === '' ? said : `${name} ${said}`;
}

export function findingText({ severity, message }: ComparedFinding): string {
  return `${severity} ${message}`;
}
