/** What a rule may look at when it visits a shot or a piece: what `Visits` keeps of such a visit must stay true. */
import { expect, test } from 'vitest';
import type { Film, Piece, Shot } from '../../server/core/film.ts';
import { limitsOf } from '../../server/core/limits.ts';
import type { Rule } from '../../server/core/rule.ts';
import { rules } from '../../server/rules/index.ts';
import { corpus } from '../hostile/corpus.ts';
import { checkSpec } from '../helpers/workspace.ts';

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
