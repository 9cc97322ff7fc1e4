/** A good order of many set-ups, found by search; the same input always gives the same answer. */
import { type CostMatrix, keepsRules, orderCost, type OrderRules, sameCost } from './order-path.ts';

/** Nearest neighbour from every start and the written order, each improved; `undefined` when none keeps the rules. */
export function searchedOrder(cost: CostMatrix, rules: OrderRules): number[] | undefined {
  let best: number[] | undefined;
  const written = cost.map((_, setUp) => setUp);
  const starts = [written, ...written.map((start) => nearestNeighbours(cost, rules, start))];
  for (const start of starts) {
    if (!start || !keepsRules(start, rules)) continue;
    const better = improve(cost, rules, start);
    if (!best || orderCost(cost, better) < orderCost(cost, best) - sameCost) best = better;
  }
  return best;
}

function nearestNeighbours(cost: CostMatrix, rules: OrderRules, start: number): number[] | undefined {
  const left = new Set(cost.map((_, setUp) => setUp));
  const place = new Map([...(rules.pinned ?? [])].map(([setUp, at]) => [at, setUp]));
  const free = (next: number) => !(rules.before ?? []).some(([first, then]) => then === next && left.has(first));
  const order: number[] = [];
  while (left.size > 0) {
    const last = order.at(-1);
    const pinned = place.get(order.length);
    const choices = [...left].filter(
      (next) => free(next) && (pinned === undefined ? !rules.pinned?.has(next) : next === pinned),
    );
    const first = last === undefined && choices.includes(start) ? start : choices[0];
    if (first === undefined) return undefined;
    const nearest = last === undefined ? first : nearestOf(choices, cost[last]!);
    order.push(nearest);
    left.delete(nearest);
  }
  return order;
}

/** The first of the choices with the least cost; there is at least one. */
function nearestOf(choices: readonly number[], costs: readonly number[]): number {
  const least = Math.min(...choices.map((next) => costs[next]!));
  return choices.find((next) => costs[next]! <= least + sameCost)!;
}

/** 2-opt (turn a stretch round) and or-opt (move a stretch of up to three) until neither helps. */
function improve(cost: CostMatrix, rules: OrderRules, start: number[]): number[] {
  let order = start;
  let found = true;
  while (found) {
    found = false;
    for (const next of neighbours(order)) {
      if (orderCost(cost, next) < orderCost(cost, order) - sameCost && keepsRules(next, rules)) {
        order = next;
        found = true;
        break;
      }
    }
  }
  return order;
}

function* neighbours(order: readonly number[]): Generator<number[]> {
  const count = order.length;
  for (let from = 0; from < count - 1; from++) {
    for (let to = from + 2; to <= count; to++) {
      yield [...order.slice(0, from), ...order.slice(from, to).reverse(), ...order.slice(to)];
    }
  }
  for (const size of [1, 2, 3]) {
    for (let from = 0; from + size <= count; from++) yield* moved(order, from, size);
  }
}

/** The order with the stretch of `size` from `from` put everywhere else. */
function* moved(order: readonly number[], from: number, size: number): Generator<number[]> {
  const stretch = order.slice(from, from + size);
  const others = [...order.slice(0, from), ...order.slice(from + size)];
  for (let at = 0; at <= others.length; at++) {
    if (at !== from) yield [...others.slice(0, at), ...stretch, ...others.slice(at)];
  }
}
