/**
 * No rule compares every shot with every other: of a messy film with twice the shots, a rule may look at twice as many
 * shots and pieces, not at four times as many. What it looks at is counted, so the machine's speed does not matter.
 */
import { describe, expect, test } from 'vitest';
import type { Film, Shot } from '../../server/core/film.ts';
import type { Rule } from '../../server/core/rule.ts';
import { runRules } from '../../server/core/runner.ts';
import { Settings } from '../../server/core/settings.ts';
import { rules } from '../../server/rules/index.ts';
import { messySpecOf, specOf } from '../bench/specs.ts';
import { checkSpec } from '../helpers/workspace.ts';

/** Each shot and its piece take 13 lines. */
const filmOf = (shots: number) => checkSpec(messySpecOf(13 * shots + 60)).film!;
const [small, large] = [filmOf(40), filmOf(80)];
const grown = large.shots.size / small.shots.size;

test('of what the benchmark calls clean nothing is said', () => {
  expect([190, 300].flatMap((lines) => checkSpec(specOf(lines)).findings)).toEqual([]);
});

describe('with twice the shots', () => {
  test('the films are what they should be', () => {
    expect(grown).toBeGreaterThan(1.8);
    expect(large.cut.length).toBeGreaterThan(1.8 * small.cut.length);
  });

  test('a rule that compares each with each would be seen', () => {
    const each: Rule = {
      ...rules[0]!,
      shot: (shot: Shot, { film }: { film: Film }) => void [...film.shots.values()].indexOf(shot),
    };
    expect(lookedAt(each, large)).toBeGreaterThan(3 * lookedAt(each, small));
  });

  test.each(rules.map((rule) => [rule.id, rule]))('%s looks at twice as much', (_, rule) => {
    // A look or two at each shot is no growth to speak of.
    const few = 4 * large.shots.size;
    expect(lookedAt(rule, large)).toBeLessThanOrEqual(1.2 * grown * lookedAt(rule, small) + few);
  });
});

/** How many shots and pieces a rule takes out of the lists of a film. */
function lookedAt(rule: Rule, film: Film): number {
  let count = 0;
  const counted = <T>(list: readonly T[]): readonly T[] =>
    new Proxy(list, {
      get(target, key) {
        if (typeof key === 'string' && /^\d+$/.test(key)) count++;
        return Reflect.get(target, key, target);
      },
    });
  const deliverables = [...film.deliverables].map(
    ([name, one]) => [name, { ...one, pieces: counted(one.pieces) }] as const,
  );
  const shots = new Proxy(film.shots, {
    get(target, key) {
      if (key === 'size') return target.size;
      const own = Reflect.get(target, key, target) as (...args: unknown[]) => unknown;
      if (key !== 'values' && key !== 'entries' && key !== Symbol.iterator) return own.bind(target);
      return function* () {
        for (const one of own.call(target) as Iterable<unknown>) yield (count++, one);
      };
    },
  });
  const watched = {
    ...film,
    shots,
    cut: counted(film.cut),
    deliverables: new Map(deliverables),
  };
  runRules(watched, [rule], Settings.usual);
  return count;
}
