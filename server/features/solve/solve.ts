/**
 * Finds settings of a shot with which all that its rules ask for holds at once: first shutter, then distance, aperture
 * and focus, then the light that these leave, the cheapest first. What it finds is judged by a check of the text as it
 * would be. Where nothing holds, it says which two demands stand against each other.
 */
import { checkShot, type ShotFinding } from '../../core/check-shot.ts';
import type { CheckResult } from '../../core/checker.ts';
import { applyEdits } from '../../core/document/edits.ts';
import { child, type Pair } from '../../core/document/node.ts';
import type { Film, Shot } from '../../core/film.ts';
import type { Edit, Finding, Severity } from '../../core/finding.ts';
import { materialise } from '../../core/fix.ts';
import type { Rule } from '../../core/rule.ts';
import { quoted } from '../../core/say.ts';
import type { Settings } from '../../core/settings.ts';
import { firstNew } from '../news.ts';
import { type Change, costOf, ideaOf, priceText, settingsText, tryChange } from './change.ts';
import {
  apertureChoices,
  type Choices,
  distanceChoices,
  focusChoices,
  lightChoices,
  shutterChoices,
} from './choices.ts';
import { conflictText, type Tried } from './conflict.ts';
import { pinsOf } from './pins.ts';

export type Answer =
  | { readonly kind: 'settings'; readonly title: string; readonly edits: readonly Edit[] }
  | { readonly kind: 'conflict'; readonly title: string; readonly reason: string };

export interface Means {
  readonly rules: readonly Rule[];
  readonly settings: Settings;
  /** Checks the text as it would be. */
  recheck(text: string): CheckResult;
}

/** What shutter, aperture, focus, ISO, filter, lamps and distance can answer. The other rules must only not get worse. */
const demands: ReadonlySet<string> = new Set([
  'shutter-off-half-frame',
  'mains-light-flickers',
  'pulsed-light-bands',
  'screen-out-of-step',
  'exposure-off',
  'iso-off-base',
  'setting-left-automatic',
  'light-uneven-across-product',
  'backdrop-tone-off',
  'screen-tone-off',
  'coloured-light-clips',
  'depth-of-field-short',
  'diffraction-soft',
  'focus-leaves-product',
  'nearer-than-lens-focuses',
  'too-near-for-shape',
  'camera-mirrored',
  'backdrop-edge-in-shot',
  'backdrop-too-sharp',
  'screen-moire',
  'product-small-in-frame',
  'product-outside-crop',
  'label-too-small-to-read',
  'moving-detail-smears',
  'splash-not-frozen',
  'setting-not-in-kit',
]);

/** Those of them that the light alone answers, left aside while shutter and lens are chosen. */
const ofLight: ReadonlySet<string> = new Set(['exposure-off', 'iso-off-base', 'setting-left-automatic']);

const weights: Readonly<Record<Severity, number>> = { error: 1e6, warning: 1e3, info: 1, hint: 0 };

/** Texts that are checked whole, fewer in a long file: each takes as long as a check of it. */
function mostChecks(text: string): number {
  return Math.max(6, Math.min(40, Math.round(200_000 / (text.length + 1))));
}

/** The shot whose block a place of the text lies in, the ends of its lines included. */
export function shotAt({ doc, film }: CheckResult, offset: number): Shot | undefined {
  const shots = child(doc.root, 'shots');
  const endOf = ({ key, value }: Pair) => doc.lines.end(doc.lines.line(Math.max(key.end, value.end)));
  const pair =
    shots?.kind === 'map' ? shots.pairs.find((one) => one.key.start <= offset && offset <= endOf(one)) : undefined;
  return pair && film?.shots.get(pair.key.text);
}

/** Does any demand on the shot fail that its settings may answer? Cheap. */
export function needsSolving(result: CheckResult, shot: Shot, means: Means): boolean {
  return result.film !== undefined && new Search(result, result.film, shot, means).now.length > 0;
}

/** Pauses (yields) between pieces of work, so that whoever runs it can stop. Undefined where nothing needs solving. */
export function* solve(result: CheckResult, shot: Shot, means: Means): Generator<void, Answer | undefined> {
  if (!result.film || result.doc.broken) return undefined;
  const search = new Search(result, result.film, shot, means);
  return search.now.length > 0 ? yield* search.run() : undefined;
}

class Search {
  readonly now: readonly ShotFinding[];
  readonly #accepted: ReadonlySet<string>;
  readonly #choices: Choices;

  constructor(
    readonly result: CheckResult,
    readonly film: Film,
    readonly shot: Shot,
    readonly means: Means,
  ) {
    this.#choices = { shot, film, pinned: pinsOf(result.doc) };
    const said = checkShot(shot, film, this.#rules, means.settings);
    const accepted = result.silenced.filter((one) => one.by.kind === 'accepted').map((one) => one.finding);
    this.#accepted = new Set(said.filter((one) => accepted.some((other) => saysOf(other, one))).map((one) => one.rule));
    this.now = this.#failing(shot, film);
  }

  *run(): Generator<void, Answer | undefined> {
    const tried = yield* this.#tryAll();
    const untouched = this.now.filter((one) => tried.every(({ left }) => left.some((other) => same(one, other))));
    const able = this.now.filter((one) => !untouched.includes(one));
    if (able.length === 0) return undefined;
    const goal = weight(able);
    let inTheWay: Finding | undefined;
    let checks = mostChecks(this.result.doc.text);
    for (const one of tried) {
      const left = one.left.filter((other) => !untouched.some((kept) => same(kept, other)));
      if (left.some(isSerious) || weight(left) >= goal) break;
      if (checks-- <= 0) break;
      yield;
      const outcome = this.#check(one.change, untouched);
      if (outcome?.answer) return outcome.answer;
      inTheWay ??= outcome?.inTheWay;
    }
    return this.#conflict(tried, inTheWay);
  }

  /** All rules would do as well; those that no setting answers are spared. */
  get #rules(): readonly Rule[] {
    return this.means.rules.filter((rule) => demands.has(rule.id));
  }

  #failing(shot: Shot, film: Film): ShotFinding[] {
    const found = checkShot(shot, film, this.#rules, this.means.settings);
    return found.filter(
      (one) =>
        one.severity !== 'hint' &&
        !this.#accepted.has(one.rule) &&
        (one.rule !== 'setting-left-automatic' || isLeftToCamera(shot)),
    );
  }

  /** The settings that were tried, the best first. */
  *#tryAll(): Generator<void, Tried[]> {
    const bases = yield* this.#bases();
    const seen = new Set<string>();
    const tried: Tried[] = [];
    for (const base of bases) {
      yield;
      for (const change of lightChoices(this.#choices, base)) {
        const key = JSON.stringify(
          [change, [...(change.levels ?? [])].map(([lamp, level]) => [lamp.name, level])],
          names,
        );
        if (seen.has(key)) continue;
        seen.add(key);
        tried.push(this.#look(change));
      }
    }
    return tried.sort(better);
  }

  /** Shutter and lens: the best two shutters with the best few of the lens, the light left aside. */
  *#bases(): Generator<void, Change[]> {
    const shutters = shutterChoices(this.#choices)
      .map((shutterS) => this.#lookBare(shutterS === undefined ? {} : { shutterS }))
      .sort(better)
      .slice(0, 3);
    const lenses: Tried[] = [];
    for (const distanceMm of distanceChoices(this.#choices)) {
      yield;
      const at = distanceMm === undefined ? {} : { distanceMm };
      const apertures = apertureChoices(this.#choices);
      // Farther off, whole stops will do.
      for (const aperture of distanceMm === undefined ? apertures : apertures.filter((_, index) => index % 3 === 0)) {
        const set = aperture === undefined ? at : { ...at, aperture };
        for (const focusMm of focusChoices(this.#choices, set))
          lenses.push(this.#lookBare(focusMm === undefined ? set : { ...set, focusMm }));
      }
      // Another distance is another picture: only where this one cannot be made right.
      if (lenses.some(({ left }) => left.every((one) => this.#isUntouchedBy(lenses, one)))) break;
    }
    lenses.sort(better);
    // Some that fail are kept as well: they may be all that the light allows, and tell what stands in the way.
    const plain = lenses.filter(({ change }) => change.distanceMm === undefined && change.focusMm === undefined);
    const others = (lenses[0]?.left ?? []).flatMap(({ rule }) => lenses.find((one) => clears(one, rule)) ?? []);
    const chosen = [...new Set([...lenses.slice(0, 6), ...others, ...plain])];
    return shutters.flatMap((shutter, index) =>
      (index === 0 ? chosen : chosen.slice(0, 6)).map((lens) => ({ ...shutter.change, ...lens.change })),
    );
  }

  #isUntouchedBy(lenses: readonly Tried[], finding: ShotFinding): boolean {
    return lenses.every(({ left }) => left.some((one) => same(one, finding)));
  }

  #lookBare(change: Change): Tried {
    const look = this.#look(change);
    return { ...look, left: look.left.filter((one) => !ofLight.has(one.rule)) };
  }

  #look(change: Change): Tried {
    const there = tryChange(this.shot, change);
    return { change, left: this.#failing(there, this.film), cost: costOf(this.shot, change) };
  }

  /** The truth: the text with the change in it, checked as any text. */
  #check(change: Change, untouched: readonly ShotFinding[]): { answer?: Answer; inTheWay?: Finding } | undefined {
    const { text } = this.result.doc;
    const idea = ideaOf(this.shot, change, this.#title(change));
    const fix = materialise(idea, [idea], this.film, text);
    const changed = fix && applyEdits(text, fix.edits);
    if (!fix || changed === undefined || fix.edits.length === 0) return undefined;
    const after = this.means.recheck(changed);
    const shot = after.film?.shots.get(this.shot.name);
    if (!after.film || !shot) return undefined;
    const left = this.#failing(shot, after.film).filter((one) => !untouched.some((kept) => kept.rule === one.rule));
    if (left.some(isSerious)) return {};
    const cleared = this.now.some(isSerious);
    const inTheWay = firstNew(
      this.result.findings,
      after.findings,
      (one) => isSerious(one) || (!cleared && one.severity === 'info'),
    );
    return inTheWay ? { inTheWay } : { answer: { kind: 'settings', title: fix.title, edits: fix.edits } };
  }

  #title(change: Change): string {
    const price = priceText(this.shot, change);
    return `Make ${quoted(this.shot.name)} work: ${settingsText(this.shot, change)}${price === '' ? '' : `: ${price}`}`;
  }

  #conflict(tried: readonly Tried[], inTheWay: Finding | undefined): Answer {
    const title = `No settings work for ${quoted(this.shot.name)}`;
    const elsewhere = inTheWay && `What would work for it starts something else: ${inTheWay.message}`;
    return { kind: 'conflict', title, reason: elsewhere ?? conflictText(this.#choices, tried) };
  }
}

/** Filters are told apart by their names. */
function names(key: string, value: unknown): unknown {
  return key === 'filters' && Array.isArray(value) ? value.map((one: { name: string }) => one.name) : value;
}

function weight(findings: readonly ShotFinding[]): number {
  return findings.reduce((sum, one) => sum + weights[one.severity], 0);
}

function better(a: Tried, b: Tried): number {
  return weight(a.left) - weight(b.left) || a.cost - b.cost;
}

function clears({ left }: Tried, rule: string): boolean {
  return left.every((one) => one.rule !== rule);
}

function isSerious({ severity }: Pick<Finding, 'severity'>): boolean {
  return severity === 'error' || severity === 'warning';
}

function same(a: ShotFinding, b: ShotFinding): boolean {
  return a.rule === b.rule && a.message === b.message;
}

/** Is a finding of the whole check this one, perhaps made for several shots at once? */
function saysOf(whole: Finding, one: ShotFinding): boolean {
  return whole.rule === one.rule && rest(whole.message) === rest(one.message);
}

function rest(message: string): string {
  return message.slice(message.indexOf(': ') + 1);
}

/** White balance is not turned here, so it is no reason to turn anything. */
function isLeftToCamera({ camera: { shutter, aperture, iso, focus } }: Shot): boolean {
  return [shutter, aperture, iso, focus].some((one) => one === undefined || one.value === 'auto');
}
