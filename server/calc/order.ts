/** The order of set-ups with the least changing: an open path over all, started anywhere. */
import { type CostMatrix, orderCost, type OrderRules, sameCost } from './order-path.ts';
import { searchedOrder } from './order-search.ts';

export interface Order {
  readonly order: readonly number[];
  readonly cost: number;
  /** True when every order was weighed; false for the search used above 12 set-ups. */
  readonly exact: boolean;
}

const mostExact = 12;

/**
 * The order of least total that keeps the rules, or `undefined` when none can. Up to 12 set-ups exactly (dynamic
 * programme over subsets, Held and Karp 1962); above that nearest neighbour from several starts, then 2-opt and or-opt in
 * a fixed order of tries. Equal totals: the order nearest to the written one, place by place.
 */
export function bestOrder(cost: CostMatrix, rules: OrderRules = {}): Order | undefined {
  const count = cost.length;
  if (count === 0) return { order: [], cost: 0, exact: true };
  const order = count <= mostExact ? exactOrder(cost, rules) : searchedOrder(cost, rules);
  return order && { order, cost: orderCost(cost, order), exact: count <= mostExact };
}

/** May `next` come when the set-ups in `done` (a bit each) have been? */
function mayCome(rules: OrderRules): (done: number, next: number) => boolean {
  const needs = new Map<number, number>();
  for (const [first, then] of rules.before ?? []) needs.set(then, (needs.get(then) ?? 0) | (1 << first));
  return (done, next) => {
    const wanted = needs.get(next) ?? 0;
    return (done & wanted) === wanted;
  };
}

function exactOrder(cost: CostMatrix, rules: OrderRules): number[] | undefined {
  const count = cost.length;
  const all = 2 ** count - 1;
  const may = mayCome(rules);
  // rest[done * count + last]: least cost of everything still to come. Larger sets first.
  const rest = new Float64Array((all + 1) * count).fill(Infinity);
  for (let last = 0; last < count; last++) rest[all * count + last] = 0;
  const leastAfter = (done: number, last: number): number => {
    let least = Infinity;
    for (let next = 0; next < count; next++) {
      if (done & (1 << next) || !may(done, next)) continue;
      least = Math.min(least, cost[last]![next]! + rest[(done | (1 << next)) * count + next]!);
    }
    return least;
  };
  for (let done = all - 1; done > 0; done--) {
    for (let last = 0; last < count; last++) {
      if (done & (1 << last)) rest[done * count + last] = leastAfter(done, last);
    }
  }
  const order: number[] = [];
  let done = 0;
  // Walk forward, always to the earliest written set-up that still reaches the least total.
  while (order.length < count) {
    const last = order.at(-1);
    const totals = cost.map((_, next) => {
      if (done & (1 << next) || !may(done, next)) return Infinity;
      return (last === undefined ? 0 : cost[last]![next]!) + rest[(done | (1 << next)) * count + next]!;
    });
    const least = Math.min(...totals);
    if (least === Infinity) return undefined;
    const next = totals.findIndex((total) => total <= least + sameCost);
    order.push(next);
    done |= 1 << next;
  }
  return order;
}
