/** An order of set-ups as a path: its cost and the rules it keeps. */

/** cost[a][b]: minutes from set-up a to set-up b, both numbered in the written order. */
export type CostMatrix = readonly (readonly number[])[];

export interface OrderRules {
  /** [earlier, later]: the first must come somewhere before the second. */
  readonly before?: readonly (readonly [number, number])[];
}

/** Totals nearer than this are equal. */
export const sameCost = 1e-9;

/** Minutes of an order: the sum of its changes. */
export function orderCost(cost: CostMatrix, order: readonly number[]): number {
  let sum = 0;
  for (let place = 1; place < order.length; place++) sum += cost[order[place - 1]!]![order[place]!]!;
  return sum;
}

/** Whether an order keeps the rules. */
export function keepsRules(order: readonly number[], rules: OrderRules): boolean {
  const place = new Map(order.map((setUp, index) => [setUp, index]));
  return (rules.before ?? []).every(([first, then]) => (place.get(first) ?? -1) < (place.get(then) ?? Infinity));
}
