/** What tips over or slides off. Masses in kg, lengths in mm. Reminders for the eye, not a safety assessment. */

export interface StandLoad {
  readonly loadKg: number;
  /** Horizontal distance of the load from the stand's column. */
  readonly reachMm: number;
  readonly standKg: number;
  /** From the column to the edge of the feet. */
  readonly footMm: number;
  readonly bagKg?: number;
}

/**
 * How many times what holds a stand level exceeds what tips it, moments about the edge of the feet:
 * (stand + bag)·r ÷ (load·(reach − r)). `Infinity` while the load is above the feet.
 */
export function tipMargin({ loadKg, reachMm, standKg, footMm, bagKg = 0 }: StandLoad): number {
  const overhang = reachMm - footMm;
  return overhang <= 0 || loadKg <= 0 ? Infinity : ((standKg + bagKg) * footMm) / (loadKg * overhang);
}

/** Bag in kg at the column for a margin (1.5 is the least for a nudge, common practice): margin·m·(L − r) ÷ r − stand, 0 when none is needed. */
export function bagForMarginKg({ loadKg, reachMm, standKg, footMm }: StandLoad, margin = 1.5): number {
  const overhang = Math.max(0, reachMm - footMm);
  return overhang === 0 ? 0 : Math.max(0, (margin * loadKg * overhang) / footMm - standKg);
}
