import { describe, expect, it } from 'vitest';
import { bagForMarginKg, tipMargin } from '../../server/calc/tip.ts';

describe('tipping and sliding (moments; ω²r = µg)', () => {
  const arm = { loadKg: 2.3, reachMm: 900, standKg: 3, footMm: 350 };

  it('has 0.83 of what holds 2.3 kg at 90 cm level on 3 kg with 35 cm feet', () => {
    expect(tipMargin(arm)).toBeCloseTo(0.83, 2);
    expect(tipMargin({ ...arm, bagKg: 2.5 })).toBeCloseTo(1.5, 1);
  });

  it('names the bag that gives the margin', () => {
    const bagKg = bagForMarginKg(arm);
    expect(bagKg).toBeCloseTo(2.42, 2);
    expect(tipMargin({ ...arm, bagKg })).toBeCloseTo(1.5, 9);
    expect(bagForMarginKg({ ...arm, standKg: 20 })).toBe(0);
  });

  it('cannot tip what stands above its feet', () => {
    expect(tipMargin({ ...arm, reachMm: 200 })).toBe(Infinity);
    expect(bagForMarginKg({ ...arm, reachMm: 200 })).toBe(0);
  });
});
