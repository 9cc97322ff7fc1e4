/** What a rule may look at when it visits a shot or a piece: what `Visits` keeps of such a visit must stay true. */
import { describe, expect, test } from 'vitest';
import { Checker } from '../../server/core/checker.ts';
import type { Film, Piece, Shot } from '../../server/core/film.ts';
import { limitsOf } from '../../server/core/limits.ts';
import type { Rule } from '../../server/core/rule.ts';
import { rules } from '../../server/rules/index.ts';
import { corpus } from '../hostile/corpus.ts';
import { checkSpec, memoryHost, spec } from '../helpers/workspace.ts';

const films = corpus.flatMap(({ kind, text, files }) => (kind === 'shoot' ? (checkSpec(text, files).film ?? []) : []));

test.each(
  rules.filter(({ shot, piece, looksAround }) => (shot ?? piece) && !looksAround).map((rule) => [rule.id, rule]),
)('%s looks at no other shots, or says that it looks around', (_, rule) => {
  const looked = new Set<string>();
  for (const film of films) {
    if (rule.shot) for (const shot of film.shots.values()) visit(rule, 'shot', alone(film, [shot], looked), shot);
    if (!rule.piece) continue;
    for (const piece of film.cut) {
      const beside = film.cut.slice(Math.max(0, piece.index - 1), piece.index + 2);
      const shots = beside.flatMap(({ shot }) => shot ?? []);
      visit(rule, 'piece', alone(film, shots, looked, beside), piece);
    }
  }
  expect([...looked]).toEqual([]);
});

function visit(rule: Rule, kind: 'shot' | 'piece', film: Film, about: Shot | Piece): void {
  const context = { film, limits: limitsOf(rule, undefined), meant: () => false, report: () => {} };
  rule[kind]?.(about as never, context);
}

/** The film, in which a look at any other shot, or at a piece of one, is taken down. */
function alone(film: Film, mine: readonly Shot[], looked: Set<string>, beside: readonly Piece[] = []): Film {
  const guarded = <T extends object>(all: readonly T[], own: (one: T) => boolean, what: string) =>
    all.map((one) => (own(one) ? one : guard(one, what, looked)));
  const ownPiece = (piece: Piece) => beside.includes(piece) || (piece.shot !== undefined && mine.includes(piece.shot));
  const shots = guarded([...film.shots.values()], (shot) => mine.includes(shot), 'shot');
  const names = [...film.shots.keys()];
  const deliverables = [...film.deliverables].map(
    ([name, one]) => [name, { ...one, pieces: guarded(one.pieces, ownPiece, 'piece') }] as const,
  );
  return {
    ...film,
    head: {},
    shots: new Map(shots.map((shot, index) => [names[index]!, shot])),
    cut: guarded(film.cut, ownPiece, 'piece'),
    deliverables: new Map(deliverables),
  };
}

function guard<T extends object>(one: T, what: string, looked: Set<string>): T {
  return new Proxy(one, {
    get(target, key) {
      // What these say can't change without the film being made anew as a whole.
      if (key !== 'name' && key !== 'index' && key !== 'dissolveS') looked.add(`${what}.${String(key)}`);
      return Reflect.get(target, key) as unknown;
    },
  });
}

describe('a rule that fails', () => {
  const faulty = (how: Partial<Rule>): Rule => ({
    id: 'faulty',
    family: 'names',
    summary: '',
    severity: 'info',
    sources: [],
    messages: {},
    ...how,
  });
  const broken = () => {
    throw new TypeError('no such thing');
  };
  const said = (rule: Rule) => {
    const text = spec('camera: { distance: 60 cm, iso: 25600, raster: 3840x2160, rate: 25 }\n');
    const by = (all: readonly Rule[]) => new Checker(memoryHost({}), all).checkAs('shoot', text).findings;
    const without = by(rules);
    return {
      text,
      without,
      more: by([...rules, rule]).filter((one) => !without.some((other) => other.rule === one.rule)),
    };
  };

  test.each<[string, Partial<Rule>, string | undefined]>([
    ['a shot', { shot: broken }, 'box'],
    ['a shot among others', { shot: broken, looksAround: broken }, 'box'],
    ['a line of the cut', { piece: broken }, undefined],
    ['the film', { film: broken }, ''],
    ['a deliverable', { deliverable: broken }, 'film'],
    ['a lamp', { lamp: broken }, 'key'],
  ])('at %s takes no other finding along', (_, how, place) => {
    const { text, without, more } = said(faulty(how));
    expect(without.length).toBeGreaterThan(0);
    expect(new Set(more.map(({ rule, severity }) => `${rule} ${severity}`))).toEqual(new Set(['check-failed error']));
    expect(more[0]?.message).toMatch(
      /^faulty could not look at this \(no such thing\), so what it would say is missing/,
    );
    if (place !== undefined) expect(text.slice(more[0]!.start, more[0]!.end)).toBe(place);
  });

  const kinds = ['film', 'shot', 'piece', 'deliverable', 'lamp', 'title', 'looksAround'] as const;
  const { text, files } = corpus.find(({ kind }) => kind === 'shoot')!;
  const saidBy = (all: readonly Rule[]) =>
    new Checker(memoryHost(files ?? {}), all)
      .checkAs('shoot', text)
      .findings.map(({ rule, message }) => [rule, message]);

  test.each(rules.map((rule) => [rule.id, rule]))(
    '%s takes nothing but its own findings along, and says so once',
    (id, rule) => {
      const failing = {
        ...rule,
        ...Object.fromEntries(kinds.filter((kind) => rule[kind]).map((kind) => [kind, broken])),
      };
      const found = saidBy(rules.map((one) => (one === rule ? failing : one)));
      const failed = found.filter(([by]) => by === 'check-failed');
      expect(found.filter(([by]) => by !== 'check-failed')).toEqual(saidBy(rules.filter((one) => one !== rule)));
      expect(failed.length).toBeLessThanOrEqual(1);
      for (const [, message] of failed) expect(message).toContain(`${id} could not look at this (no such thing)`);
    },
  );
});
