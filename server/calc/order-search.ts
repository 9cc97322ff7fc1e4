/** A good order of many set-ups, found by search; the same input always gives the same answer. */
import { type CostMatrix, keepsRules, orderCost, type OrderRules, sameCost } from './order-path.ts';

/** What a search may look at, so that it is over in some milliseconds however many set-ups there are. */
class Patience {
  #left = 300_000;

  spend(looks: number): void {
    this.#left -= looks;
  }

  get isOver(): boolean {
    return this.#left <= 0;
  }
}

/** The written order and nearest neighbour from one start after the other, each improved; `undefined` when none keeps the rules. */
export function searchedOrder(cost: CostMatrix, rules: OrderRules): number[] | undefined {
  const written = cost.map((_, setUp) => setUp);
  const patience = new Patience();
  let best: number[] | undefined;
  for (const start of [undefined, ...written]) {
    if (best && patience.isOver) break;
    const order = start === undefined ? written : nearestNeighbours(cost, rules, start);
    patience.spend(written.length ** 2);
    if (!order || !keepsRules(order, rules)) continue;
    const better = improve(cost, rules, order, patience);
    if (!best || orderCost(cost, better) < orderCost(cost, best) - sameCost) best = better;
  }
  return best;
}

/** Always to the nearest of those that may come; `undefined` where they wait for each other. */
function nearestNeighbours(cost: CostMatrix, { before = [] }: OrderRules, start: number): number[] | undefined {
  const waitsFor = cost.map(() => new Set<number>());
  for (const [first, then] of before) waitsFor[then]!.add(first);
  const left = new Set(cost.keys());
  const order: number[] = [];
  while (left.size > 0) {
    const last = order.at(-1);
    const choices = [...left].filter((next) => waitsFor[next]!.size === 0);
    const first = last === undefined && choices.includes(start) ? start : choices[0];
    if (first === undefined) return undefined;
    const nearest = last === undefined ? first : nearestOf(choices, cost[last]!);
    order.push(nearest);
    left.delete(nearest);
    for (const waiting of waitsFor) waiting.delete(nearest);
  }
  return order;
}

/** The first of the choices with the least cost; there is at least one. */
function nearestOf(choices: readonly number[], costs: readonly number[]): number {
  const least = Math.min(...choices.map((next) => costs[next]!));
  return choices.find((next) => costs[next]! <= least + sameCost)!;
}

/** A stretch of an order is turned round, or where there is a `mid` the parts before and behind it change places. */
interface Move {
  readonly from: number;
  readonly mid?: number;
  /** Behind its last. */
  readonly to: number;
}

/** 2-opt (turn a stretch round) and or-opt (move a stretch of up to three), until neither helps or patience is over. */
function improve(cost: CostMatrix, rules: OrderRules, start: number[], patience: Patience): number[] {
  let order = start;
  let sums = sumsOf(cost, order);
  for (let found = true; found;) {
    found = false;
    for (const move of moves(order.length)) {
      if (patience.isOver) return order;
      patience.spend(1);
      if (savedBy(move, cost, order, sums) <= sameCost) continue;
      const next = moved(order, move);
      patience.spend(order.length + (rules.before?.length ?? 0));
      if (!keepsRules(next, rules)) continue;
      order = next;
      sums = sumsOf(cost, order);
      found = true;
    }
  }
  return order;
}

function* moves(count: number): Generator<Move> {
  for (let from = 0; from < count - 1; from++) {
    for (let to = from + 2; to <= count; to++) yield { from, to };
  }
  for (const size of [1, 2, 3]) {
    for (let at = 0; at + size <= count; at++) {
      for (let from = 0; from < at; from++) yield { from, mid: at, to: at + size };
      for (let to = at + size + 1; to <= count; to++) yield { from: at, mid: at + size, to };
    }
  }
}

function moved(order: readonly number[], { from, mid, to }: Move): number[] {
  const stretch = order.slice(from, to);
  const changed =
    mid === undefined ? stretch.reverse() : [...stretch.slice(mid - from), ...stretch.slice(0, mid - from)];
  return [...order.slice(0, from), ...changed, ...order.slice(to)];
}

/** Minutes from the first set-up of an order to each, as they come and the other way round. */
interface Sums {
  readonly ahead: readonly number[];
  readonly back: readonly number[];
}

function sumsOf(cost: CostMatrix, order: readonly number[]): Sums {
  const [ahead, back] = [[0], [0]];
  for (let place = 1; place < order.length; place++) {
    const [a, b] = [order[place - 1]!, order[place]!];
    ahead.push(ahead[place - 1]! + cost[a]![b]!);
    back.push(back[place - 1]! + cost[b]![a]!);
  }
  return { ahead, back };
}

/** Told from what a move changes: the changes at both ends of the stretch, and what lies between. */
function savedBy({ from, mid, to }: Move, cost: CostMatrix, order: readonly number[], { ahead, back }: Sums): number {
  const change = (a: number | undefined, b: number | undefined) =>
    a === undefined || b === undefined ? 0 : cost[a]![b]!;
  const [before, first, last, after] = [order[from - 1], order[from], order[to - 1], order[to]];
  const ends = change(before, first) + change(last, after);
  if (mid === undefined) {
    const inside = ahead[to - 1]! - ahead[from]! - (back[to - 1]! - back[from]!);
    return ends + inside - change(before, last) - change(first, after);
  }
  const [left, right] = [order[mid - 1], order[mid]];
  return ends + change(left, right) - change(before, right) - change(last, first) - change(left, after);
}
