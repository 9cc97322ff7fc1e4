/** Light of lamps: with distance, with size, with angle. Lengths in m unless named otherwise, light in lux. */

export interface LampSize {
  /** Lit width and height in m, of the modifier when it has one; 0 for a point. */
  readonly widthM: number;
  readonly heightM: number;
  /** Full beam angle in degrees where known: under 90 the lamp follows the inverse square. */
  readonly beamDeg?: number;
}

/**
 * Configuration factor of a lit w × h rectangle seen from a small parallel face `distanceM` before its middle
 * (Siegel & Howell, factor of a parallel rectangle, four quarters): 0 far away to 1 touching. 0 for a lamp without area.
 */
export function configurationFactor(widthM: number, heightM: number, distanceM: number): number {
  if (distanceM <= 0) return widthM > 0 && heightM > 0 ? 1 : 0;
  const x = widthM / (2 * distanceM);
  const y = heightM / (2 * distanceM);
  const rootX = Math.sqrt(1 + x * x);
  const rootY = Math.sqrt(1 + y * y);
  return (2 / Math.PI) * ((x / rootX) * Math.atan(y / rootX) + (y / rootY) * Math.atan(x / rootY));
}

/** Whether a lamp's size matters: it has an area, and its beam is not under 90°. */
export function isWide({ widthM, heightM, beamDeg }: LampSize): boolean {
  return widthM > 0 && heightM > 0 && (beamDeg === undefined || beamDeg >= 90);
}

/**
 * Light at a distance over light at 1 m: 1 ÷ d² (inverse square law), or the ratio of configuration factors of a wide
 * lamp, at every distance: at 1 m the light of a large one is less than the inverse square makes of it far away.
 * `Infinity` for a point at distance 0.
 */
export function distanceGain(lamp: LampSize, distanceM: number): number {
  if (!isWide(lamp)) return 1 / (distanceM * distanceM);
  const at1m = configurationFactor(lamp.widthM, lamp.heightM, 1);
  return configurationFactor(lamp.widthM, lamp.heightM, distanceM) / at1m;
}

/** Distance in m at which the lamp's gain is `gain` (1 at 1 m). Halving; gain falls steadily with distance. */
export function distanceForGainM(lamp: LampSize, gain: number): number | undefined {
  let near = 1e-4;
  let far = 1e4;
  if (!(gain <= distanceGain(lamp, near) && gain >= distanceGain(lamp, far))) return undefined;
  for (let step = 0; step < 200; step++) {
    const middle = Math.sqrt(near * far);
    if (distanceGain(lamp, middle) > gain) near = middle;
    else far = middle;
  }
  return far;
}

/**
 * Candela that a matt board gives on the way to what it lights, turned half way between the lamp and there: its luminance
 * is ρ·E·cos(φ/2) ÷ π, seen over the area that it shows, A·cos(φ/2) (Lambert; IES Lighting Handbook, from memory).
 * @param lux light before the board, on a face turned to the lamp
 * @param reflects ρ, 0 to 1
 * @param turnDeg φ, between the way to the lamp and the way to what it lights; nothing comes back from 180° on
 */
export function bouncedCandela(board: { lux: number; reflects: number; areaM2: number; turnDeg: number }): number {
  const cosine = cosineShare(board.turnDeg / 2);
  return (board.reflects * board.lux * board.areaM2 * cosine * cosine) / Math.PI;
}

/** Lambert's cosine law: share of light on a face turned away from the lamp by `angleDeg`; 0 from 90° on. */
export function cosineShare(angleDeg: number): number {
  const turned = Math.abs(angleDeg) % 360;
  const angle = Math.min(turned, 360 - turned);
  return angle >= 90 ? 0 : Math.cos((angle * Math.PI) / 180);
}

/**
 * Light off a beam's axis over light on it: cosⁿ with n such that half is left at half the beam angle; n = 1 (Lambert)
 * at 120°. 0 from 90° off on. The power of the cosine is common practice for beams, no source.
 */
export function beamShare(offAxisDeg: number, beamDeg: number): number {
  const half = Math.min(Math.max(beamDeg / 2, 1), 89);
  const power = Math.log(0.5) / Math.log(Math.cos((half * Math.PI) / 180));
  return cosineShare(offAxisDeg) ** power;
}

export interface LampOnFace extends LampSize {
  /** Lux at 1 m on the axis at full level. */
  readonly luxAt1m: number;
  /** Dimmer, 0 to 1, taken as linear in light. */
  readonly level: number;
  readonly distanceM: number;
  /** Between the lamp's direction and the face's normal. */
  readonly angleDeg: number;
  /** Light lost in modifiers and filters, stops. */
  readonly lostStops?: number;
}

/** Lux of one lamp on a face: lux at 1 m × level × distance gain × cosine × 2^−stops lost. */
export function luxOnFace(lamp: LampOnFace): number {
  const gain = distanceGain(lamp, lamp.distanceM);
  return lamp.luxAt1m * lamp.level * gain * cosineShare(lamp.angleDeg) * 2 ** -(lamp.lostStops ?? 0);
}

/** Lux from intensity: E = I ÷ d² (inverse square law). */
export function luxFromCandela(candela: number, distanceM: number): number {
  return candela / (distanceM * distanceM);
}

/**
 * Lux at 1 m from intensity. A point gives I ÷ 1²; intensity is measured far away, where a wide lamp's configuration
 * factor is area ÷ (π·d²), so that it gives I × π × its factor at 1 m ÷ area.
 */
export function luxAt1mOfCandela(candela: number, lamp: LampSize): number {
  if (!isWide(lamp)) return candela;
  const { widthM, heightM } = lamp;
  return (candela * Math.PI * configurationFactor(widthM, heightM, 1)) / (widthM * heightM);
}

/**
 * Mean intensity in candela of lumens spread evenly over a cone with full angle `beamDeg`:
 * lumens ÷ (2π(1 − cos(beam ÷ 2))), the solid angle of the cone. `Infinity` at 0°.
 */
export function candelaFromLumens(lumens: number, beamDeg: number): number {
  const halfRad = (beamDeg * Math.PI) / 360;
  return lumens / (2 * Math.PI * (1 - Math.cos(halfRad)));
}

/** Lux at 1 m of a lamp whose light was given at another distance, by the same gain. */
export function luxAt1m(lux: number, atM: number, lamp: LampSize): number {
  return lux / distanceGain(lamp, atM);
}

/** Stops by which the near side is brighter than the far side, a depth apart along the lamp's axis, middle at `distanceM`. */
export function fallOffStops(lamp: LampSize, distanceM: number, depthM: number): number {
  const near = distanceM - depthM / 2;
  if (near <= 0) return Infinity;
  return Math.log2(distanceGain(lamp, near) / distanceGain(lamp, distanceM + depthM / 2));
}
