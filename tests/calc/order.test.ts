import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bestOrder } from '../../server/calc/order.ts';
import { keepsRules, orderCost, type OrderRules } from '../../server/calc/order-path.ts';
import { searchedOrder } from '../../server/calc/order-search.ts';
import { quick } from '../helpers/quick.ts';

function permutations(items: readonly number[]): number[][] {
  if (items.length < 2) return [[...items]];
  return items.flatMap((item) => permutations(items.filter((other) => other !== item)).map((rest) => [item, ...rest]));
}

/** The first of all orders, in the written order of their set-ups, that has the least total. */
function tryAll(cost: number[][], rules: OrderRules = {}): number[] | undefined {
  let best: number[] | undefined;
  for (const order of permutations(cost.map((_, index) => index))) {
    if (!keepsRules(order, rules)) continue;
    if (!best || orderCost(cost, order) < orderCost(cost, best) - 1e-9) best = order;
  }
  return best;
}

const matrix = (count: number) =>
  fc.array(fc.array(fc.integer({ min: 0, max: 20 }), { minLength: count, maxLength: count }), {
    minLength: count,
    maxLength: count,
  });

describe('the order of set-ups', () => {
  // Minutes for each change are common practice, no source: camera place 10, support 8, lens 4, backdrop 15, surface 12,
  // level 0.5, modifier 3. A and B differ by the camera's place, B and C by lens and a level, D by nearly everything.
  const worked = [
    [0, 10, 14.5, 52.5],
    [10, 0, 4.5, 52.5],
    [14.5, 4.5, 0, 48],
    [52.5, 52.5, 48, 0],
  ];

  it('finds A-B-C-D, 62.5 minutes, where A-C-D-B is 115 and A-C-B-D 71.5', () => {
    expect(bestOrder(worked)).toEqual({ order: [0, 1, 2, 3], cost: 62.5, exact: true });
    expect(orderCost(worked, [0, 2, 3, 1])).toBe(115);
    expect(orderCost(worked, [0, 2, 1, 3])).toBe(71.5);
    expect(Math.min(...permutations([0, 1, 2, 3]).map((order) => orderCost(worked, order)))).toBe(62.5);
  });

  it('agrees with trying every order, and keeps the written one among equals', () => {
    fc.assert(
      fc.property(matrix(5), (cost) => {
        expect(bestOrder(cost)!.order).toEqual(tryAll(cost));
      }),
    );
  });

  it('agrees with trying every order that keeps the rules', () => {
    const pair = fc.tuple(fc.nat(4), fc.nat(4)).filter(([one, other]) => one !== other);
    fc.assert(
      fc.property(matrix(5), fc.array(pair, { maxLength: 3 }), (cost, before) => {
        expect(bestOrder(cost, { before })?.order).toEqual(tryAll(cost, { before }));
      }),
    );
  });

  it('has no order that goes round in a circle', () => {
    expect(
      bestOrder(worked, {
        before: [
          [0, 1],
          [1, 0],
        ],
      }),
    ).toBeUndefined();
  });

  it('has little to do with none or one', () => {
    expect(bestOrder([])).toEqual({ order: [], cost: 0, exact: true });
    expect(bestOrder([[0]])).toEqual({ order: [0], cost: 0, exact: true });
  });

  it('does twelve exactly within a second', () => {
    const cost = Array.from({ length: 12 }, (_, a) =>
      Array.from({ length: 12 }, (_, b) => ((a * 7 + b * 13) % 17) + 1),
    );
    expect(quick(1000, () => bestOrder(cost))!.exact).toBe(true);
  });

  it('searches above twelve: finds a line of sixteen places again, the same way each time', () => {
    const places = [3, 11, 0, 7, 14, 5, 9, 1, 12, 15, 2, 8, 13, 4, 10, 6];
    const cost = places.map((a) => places.map((b) => Math.abs(a - b)));
    const found = bestOrder(cost)!;
    expect(found.exact).toBe(false);
    expect(found.cost).toBe(15);
    expect(bestOrder(cost)).toEqual(found);
  });

  it('keeps the rules when it searches', () => {
    const places = [3, 11, 0, 7, 14, 5, 9, 1, 12, 15, 2, 8, 13, 4, 10, 6];
    const cost = places.map((a) => places.map((b) => Math.abs(a - b)));
    const rules: OrderRules = {
      before: [
        [4, 2],
        [9, 0],
      ],
    };
    const found = bestOrder(cost, rules)!;
    expect(keepsRules(found.order, rules)).toBe(true);
    expect([...found.order].sort((a, b) => a - b)).toEqual(places.map((_, index) => index));
    expect(
      bestOrder(cost, {
        before: [
          [1, 2],
          [2, 1],
        ],
      }),
    ).toBeUndefined();
  });

  it('searches nearly as well as trying every order', () => {
    let missed = 0;
    const tried = 300;
    fc.assert(
      fc.property(matrix(7), (cost) => {
        const found = orderCost(cost, searchedOrder(cost, {})!);
        const best = bestOrder(cost)!.cost;
        expect(found).toBeGreaterThanOrEqual(best - 1e-9);
        if (found > best + 1e-9) missed++;
      }),
      { numRuns: tried, seed: 1 },
    );
    expect(missed / tried).toBeLessThan(0.05);
  });

  it.each([60, 150, 300])('has an order of %i set-ups at once, dirty work last', (count) => {
    const cost = Array.from({ length: count }, (_, a) =>
      Array.from({ length: count }, (__, b) => ((a * 31 + b * 17) % 23) + 1),
    );
    const [clean, dirty] = [[...cost.keys()].filter((one) => one % 2), [...cost.keys()].filter((one) => one % 2 === 0)];
    const before = clean.flatMap((first) => dirty.map((then) => [first, then] as const));
    const found = quick(200, () => bestOrder(cost, { before }))!;
    expect(found.order.slice(0, clean.length).toSorted((a, b) => a - b)).toEqual(clean);
    expect(quick(200, () => bestOrder(cost))!.cost).toBeLessThan(orderCost(cost, [...cost.keys()]));
  });
});
