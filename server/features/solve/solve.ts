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
import { type Edit, type Finding, weightOf } from '../../core/finding.ts';
import { materialise } from '../../core/fix.ts';
import type { Rule } from '../../core/rule.ts';
import { listFirst, quoted, shown } from '../../core/say.ts';
import type { Settings } from '../../core/settings.ts';
import type { Mm } from '../../core/units.ts';
import { firstNew, firstWorse } from '../compare-findings.ts';
import { asSetByHand, type Change, costOf, ideaOf, priceText, settingsText, tryChange } from './change.ts';
import {
  apertureChoices,
  type Choices,
  distanceChoices,
  focusChoices,
  lightChoices,
  shutterChoices,
} from './choices.ts';
import { type Conflict, conflictOf, type TriedChange } from './conflict.ts';
import { pinsOf } from './pins.ts';

export type Answer =
  | {
      readonly kind: 'settings';
      readonly title: string;
      readonly edits: readonly Edit[];
      /** How many of the shot's findings they mend. */
      readonly mends: number;
      /** Why they do not mend all that is serious. */
      readonly conflict?: Conflict;
    }
  | { readonly kind: 'conflict'; readonly conflict: Conflict };

export interface CheckContext {
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
  'height-beyond-distance',
  'label-too-small-to-read',
  'moving-detail-smears',
  'splash-not-frozen',
  'setting-not-in-kit',
]);

/** Those of them that the light alone answers, left aside while shutter and lens are chosen. */
const ofLight: ReadonlySet<string> = new Set(['exposure-off', 'iso-off-base', 'setting-left-automatic']);

/** What holds with something to spare may cost so much more than what holds to the hair. */
const steadyCost = 4;
/** So many settings are looked at for one that does. */
const mostSteadyLooks = 40;

/** Texts that are checked whole, fewer in a long file: each takes as long as a check of it. */
function mostChecks(text: string): number {
  return Math.max(6, Math.min(40, Math.round(200_000 / (text.length + 1))));
}

/** Once a distance leaves nothing serious, so many more are looked at for one that leaves nothing at all. */
const mostMoreDistances = 6;
/** Where so many settings for one distance of the camera start something else, the next of that distance would too. */
const mostChecksOfDistance = 4;

/** The shot whose block a place of the text lies in, the ends of its lines included. */
export function shotAt({ doc, film }: CheckResult, offset: number): Shot | undefined {
  const shots = child(doc.root, 'shots');
  const endOf = ({ key, value }: Pair) => doc.lines.end(doc.lines.line(Math.max(key.end, value.end)));
  const pair =
    shots?.kind === 'map' ? shots.pairs.find((one) => one.key.start <= offset && offset <= endOf(one)) : undefined;
  return pair && film?.shots.get(pair.key.text);
}

/** How many demands on the shot fail that its settings may answer. Cheap. */
export function failingDemands(result: CheckResult, shot: Shot, means: CheckContext): number {
  return result.film === undefined ? 0 : new Search(result, result.film, shot, means).now.length;
}

/** Pauses (yields) between pieces of work, so that whoever runs it can stop. Undefined where nothing needs solving. */
export function* solve(result: CheckResult, shot: Shot, means: CheckContext): Generator<void, Answer | undefined> {
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
    readonly means: CheckContext,
  ) {
    this.#choices = { shot, film, pinned: pinsOf(result.doc) };
    const said = checkShot(shot, film, this.#rules, means.settings);
    const accepted = result.silenced.filter((one) => one.by.kind === 'accepted').map((one) => one.finding);
    this.#accepted = new Set(said.filter((one) => accepted.some((other) => saysOf(other, one))).map((one) => one.rule));
    this.now = this.#failing(shot, film);
  }

  *run(): Generator<void, Answer | undefined> {
    const tried = yield* this.#tryAll();
    // What no settings answer is no reason to turn none.
    const untouched = this.now.filter((one) => tried.every(({ left }) => left.some((other) => same(one, other))));
    const able = this.now.filter((one) => !untouched.includes(one));
    if (able.length === 0) return undefined;
    const goal = weightOf(able);
    let inTheWay: Finding | undefined;
    let checks = mostChecks(this.result.doc.text);
    const ofDistance = new Map<Mm | undefined, number>();
    for (const one of this.#steadiestFirst(tried)) {
      const left = one.left.filter((other) => !untouched.some((kept) => same(kept, other)));
      if (weightOf(left) >= goal) break;
      // What is serious and stays must at least not be another thing: nobody can tell whether that is worse.
      if (!left.filter(isSerious).every((other) => this.now.some((before) => same(before, other)))) continue;
      const { distanceMm } = one.change;
      const before = ofDistance.get(distanceMm) ?? 0;
      if (distanceMm !== undefined && before >= mostChecksOfDistance) continue;
      ofDistance.set(distanceMm, before + 1);
      if (checks-- <= 0) break;
      yield;
      const outcome = this.#check(one.change, untouched, goal);
      if (outcome?.answer && !left.some(isSerious)) return outcome.answer;
      if (outcome?.answer) return { ...outcome.answer, conflict: this.#conflict(tried, inTheWay) };
      if (!left.some(isSerious)) inTheWay ??= outcome?.inTheWay;
    }
    return { kind: 'conflict', conflict: this.#conflict(tried, inTheWay) };
  }

  /** Those of one distance that do as well and cost little more stand before what holds only to the hair. */
  *#steadiestFirst(tried: readonly TriedChange[]): Generator<TriedChange> {
    const said = new Set<TriedChange>();
    let looks = mostSteadyLooks;
    for (const one of tried) {
      if (said.has(one)) continue;
      const isAsGood = (other: TriedChange) =>
        other.change.distanceMm === one.change.distanceMm &&
        weightOf(other.left) === weightOf(one.left) &&
        other.cost <= one.cost + steadyCost;
      const steady = this.#isSteady(one.change)
        ? one
        : tried.find((other) => !said.has(other) && isAsGood(other) && looks-- > 0 && this.#isSteady(other.change));
      for (const next of new Set([steady ?? one, one])) {
        said.add(next);
        yield next;
      }
    }
  }

  /** Does it still hold where a hand sets the camera up a little off? */
  #isSteady(change: Change): boolean {
    const there = tryChange(this.shot, change);
    const left = new Set(this.#failing(there, this.film).map(({ rule }) => rule));
    return asSetByHand(there).every((shot) =>
      this.#failing(shot, this.film).every(
        (one) => !isSerious(one) || left.has(one.rule) || one.rule === 'setting-not-in-kit',
      ),
    );
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
  *#tryAll(): Generator<void, TriedChange[]> {
    const tried = new Map<string, TriedChange>();
    const shutters = shutterChoices(this.#choices)
      .map((shutterS) => this.#lookBare(shutterS === undefined ? {} : { shutterS }))
      .sort(better)
      .slice(0, 3)
      .map((one) => one.change);
    const lenses: TriedChange[] = [];
    let best = weightOf(this.now);
    let more = Infinity;
    for (const distanceMm of distanceChoices(this.#choices)) {
      if (more-- <= 0) break;
      yield;
      const here = this.#lensesAt(distanceMm);
      lenses.push(...here);
      // The light can only leave more.
      if (distanceMm !== undefined && weightOf(here[0]?.left ?? []) >= best) continue;
      const least = here.filter(({ left }) => weightOf(left) === weightOf(here[0]!.left));
      const bases = least.map(({ change }) => ({ ...shutters[0], ...change }));
      yield* this.#lightAll(distanceMm === undefined ? combined(shutters, here) : bases, tried);
      const found = [...tried.values()].sort(better)[0];
      if (!found) continue;
      // Another distance is another picture: only where this one cannot be made right.
      if (this.#isEnough(found, distanceMm)) break;
      if (weightOf(found.left) < best && !found.left.some(isSerious)) more = Math.min(more, mostMoreDistances);
      best = Math.min(best, weightOf(found.left));
    }
    // Some that fail are tried as well: they may be all that there is, and tell what stands in the way.
    yield* this.#lightAll(combined(shutters, lenses.sort(better)), tried);
    return [...tried.values()].sort(better);
  }

  /** Does it leave nothing? Where the camera stands already, a little noise that is left moves nobody. */
  #isEnough({ left }: TriedChange, distanceMm: Mm | undefined): boolean {
    if (left.length === 0) return true;
    if (distanceMm !== undefined || left.some(isSerious)) return false;
    return left.every((one) => ofLight.has(one.rule)) && weightOf(left) < weightOf(this.now);
  }

  /** Makes the light right for each, once. */
  *#lightAll(bases: readonly Change[], tried: Map<string, TriedChange>): Generator<void, void> {
    for (const base of bases) {
      yield;
      for (const change of lightChoices(this.#choices, base)) {
        const key = JSON.stringify(
          [change, [...(change.levels ?? [])].map(([lamp, level]) => [lamp.name, level])],
          names,
        );
        if (!tried.has(key)) tried.set(key, this.#look(change));
      }
    }
  }

  /** Apertures and focuses at a distance, the light left aside, the best first. */
  #lensesAt(distanceMm: Mm | undefined): TriedChange[] {
    const at = distanceMm === undefined ? {} : { distanceMm };
    const apertures = apertureChoices(this.#choices);
    // Farther off, whole stops will do.
    const coarse = distanceMm === undefined ? apertures : apertures.filter((_, index) => index % 3 === 0);
    return coarse
      .flatMap((aperture) => {
        const set = aperture === undefined ? at : { ...at, aperture };
        return focusChoices(this.#choices, set).map((focusMm) =>
          this.#lookBare(focusMm === undefined ? set : { ...set, focusMm }),
        );
      })
      .sort(better);
  }

  #lookBare(change: Change): TriedChange {
    const look = this.#look(change);
    return { ...look, left: look.left.filter((one) => !ofLight.has(one.rule)) };
  }

  #look(change: Change): TriedChange {
    const there = tryChange(this.shot, change);
    return { change, left: this.#failing(there, this.film), cost: costOf(this.shot, change) };
  }

  /** The truth: the text with the change in it, checked as any text. */
  #check(
    change: Change,
    untouched: readonly ShotFinding[],
    goal: number,
  ): { answer?: Extract<Answer, { kind: 'settings' }>; inTheWay?: Finding } | undefined {
    const { text } = this.result.doc;
    const idea = ideaOf(this.shot, change, '');
    const fix = materialise(idea, [idea], this.film, text);
    const changed = fix && applyEdits(text, fix.edits);
    if (!fix || changed === undefined || fix.edits.length === 0) return undefined;
    const after = this.means.recheck(changed);
    const shot = after.film?.shots.get(this.shot.name);
    if (!after.film || !shot) return undefined;
    const failing = this.#failing(shot, after.film);
    const left = failing.filter((one) => !untouched.some((kept) => kept.rule === one.rule));
    if (weightOf(left) >= goal) return {};
    const cleared = this.now.some(isSerious);
    const counted = (one: Finding) => isSerious(one) || (!cleared && one.severity === 'info');
    const inTheWay =
      firstNew(this.result.findings, after.findings, counted) ??
      firstWorse(this.result.findings, after.findings, counted);
    if (inTheWay) return { inTheWay };
    const title = shown(this.#title(change, failing), longestTitle);
    const mends = this.now.length - failing.filter((one) => this.now.some(({ rule }) => rule === one.rule)).length;
    return { answer: { kind: 'settings', title, edits: fix.edits, mends } };
  }

  /** What is not mended is said with it. */
  #title(change: Change, left: readonly ShotFinding[]): string {
    const works = this.#isSteady(change) ? 'work' : 'just work';
    const become = left.some(isSerious) ? 'better' : works;
    const price = priceText(this.shot, change, this.film);
    const stays = [...new Set(left.map(({ rule }) => quoted(rule)))];
    const stay = stays.length === 0 ? '' : `; ${listFirst(stays, 3)} ${stays.length > 1 ? 'stay' : 'stays'}`;
    const settings = settingsText(this.shot, change);
    return `Make ${quoted(this.shot.name)} ${become}: ${settings}${price === '' ? '' : `: ${price}`}${stay}`;
  }

  #conflict(tried: readonly TriedChange[], inTheWay: Finding | undefined): Conflict {
    const conflict = conflictOf(this.#choices, tried);
    if (!inTheWay) return conflict;
    return { ...conflict, lead: `What would work for it starts something else: ${inTheWay.message}`, sides: [] };
  }
}

/** Shutter and lens: the best shutter with the best of the lens and with those that each clear a demand, the others with few. */
function combined(shutters: readonly Change[], lenses: readonly TriedChange[]): Change[] {
  const plain = lenses.filter(({ change }) => change.distanceMm === undefined && change.focusMm === undefined);
  const others = (lenses[0]?.left ?? []).flatMap(({ rule }) => lenses.find((one) => clears(one, rule)) ?? []);
  const chosen = [...new Set([...lenses.slice(0, 6), ...others, ...plain])];
  return shutters.flatMap((shutter, index) =>
    (index === 0 ? chosen : chosen.slice(0, 6)).map((lens) => ({ ...shutter, ...lens.change })),
  );
}

/** Filters are told apart by their names. */
function names(key: string, value: unknown): unknown {
  return key === 'filters' && Array.isArray(value) ? value.map((one: { name: string }) => one.name) : value;
}

/** A name in it may be of any length. */
const longestTitle = 300;

function better(a: TriedChange, b: TriedChange): number {
  return weightOf(a.left) - weightOf(b.left) || a.cost - b.cost;
}

function clears({ left }: TriedChange, rule: string): boolean {
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
