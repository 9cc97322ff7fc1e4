/** Flicker of lamps and screens: what a shutter averages away, what is left, and how it rolls. */

/** Lamps on mains ripple at twice the mains frequency, in Hz: 100 or 120. */
export function lampRippleHz(mainsHz: number): number {
  return 2 * mainsHz;
}

/**
 * Share of a sinusoidal ripple that is left after averaging over the shutter: |sin(πFt) ÷ (πFt)|, the transform of a
 * rectangular pulse. 1 at t = 0, 0 at whole ripples.
 */
export function rippleLeft(frequencyHz: number, timeS: number): number {
  const x = Math.PI * frequencyHz * timeS;
  return x === 0 ? 1 : Math.abs(Math.sin(x) / x);
}

/**
 * The most that is left of a ripple whose frequency is only known to ± `clock` (0.01 = 1 %): at an end of that range, or
 * at a crest of |sin x ÷ x| inside it, where tan x = x: for n ripples at h − 1 ÷ (π²h), h being half a ripple over whole ones.
 */
export function worstRippleLeft(frequencyHz: number, timeS: number, clock = 0.01): number {
  const [low, high] = [frequencyHz * timeS * (1 - clock), frequencyHz * timeS * (1 + clock)];
  const crests: number[] = [];
  for (let half = Math.max(1.5, Math.ceil(low - 0.5) + 0.5); half <= high + 0.5 && crests.length < 3; half++) {
    const crest = half - 1 / (Math.PI ** 2 * half);
    if (crest >= low && crest <= high) crests.push(crest);
  }
  return Math.max(...[low, high, ...crests].map((ripples) => rippleLeft(ripples, 1)));
}

/**
 * Brightness swing of the picture, brightest less darkest over the mean: 2 × ripple × left × share of the light.
 * `ripple` is modulation (max − min) ÷ (max + min), 0 to 1; `share` is the lamp's part of all light, 0 to 1.
 */
export function pictureSwing(ripple: number, left: number, share: number): number {
  return 2 * ripple * left * share;
}

/** A swing in stops, brightest against darkest: log2((1 + s/2) ÷ (1 − s/2)); `Infinity` from a swing of 2. */
export function swingStops(swing: number): number {
  return swing >= 2 ? Infinity : Math.log2((1 + swing / 2) / (1 - swing / 2));
}

/** How often a second the pulse drifts through the frame: |F − round(F ÷ rate) × rate|; 0 when in step. Aliasing. */
export function beatHz(frequencyHz: number, fps: number): number {
  return fps > 0 ? Math.abs(frequencyHz - Math.round(frequencyHz / fps) * fps) : frequencyHz;
}

/** Light and dark bands over the picture's height: frequency × time to read the sensor out (0 for a global shutter). */
export function bands(frequencyHz: number, readoutS: number): number {
  return frequencyHz * readoutS;
}

/** Shutter times in s that average whole pulses, n ÷ F, none longer than the frame 1 ÷ rate; shortest first. */
export function cleanShuttersS(frequencyHz: number, fps: number): number[] {
  const most = Math.floor(frequencyHz / fps + 1e-9);
  return Array.from({ length: Math.min(most, 100_000) }, (_, index) => (index + 1) / frequencyHz);
}

function swingOfPulses(n: number, duty: number): number {
  if (duty >= 1) return 0;
  if (n <= 0 || duty <= 0) return Infinity;
  const over = n - Math.floor(n);
  return (Math.min(over, duty) - Math.max(0, over + duty - 1)) / (n * duty);
}

/**
 * Greatest pulse swing when the pulse frequency is only known to ± `clock` (0.01 = 1 %). From 50 pulses on the bound
 * min(1, (1 − u) ÷ u) ÷ n is used: no clock holds the part of a pulse that is over.
 */
export function worstPulseSwing(frequencyHz: number, timeS: number, duty: number, clock = 0.01): number {
  const n = frequencyHz * timeS;
  if (duty >= 1) return 0;
  if (n <= 0 || duty <= 0) return Infinity;
  if (n >= 50) return Math.min(1, (1 - duty) / duty) / n;
  // Between whole pulses the swing rises to a plateau at min(u, 1 − u) and then only falls: its peaks are the
  // interval's ends and the plateaus that start inside it.
  const low = n * (1 - clock);
  const high = n * (1 + clock);
  const tries = [low, high];
  for (let whole = Math.floor(low); whole <= high; whole++) {
    const plateau = whole + Math.min(duty, 1 - duty);
    if (plateau >= low && plateau <= high) tries.push(plateau);
  }
  return Math.max(...tries.map((pulses) => swingOfPulses(pulses, duty)));
}

/**
 * Whether `value` is a whole number of `unit`, 1 or more, to `within` (0.001 = 0.1 %): a screen's refresh against the
 * frame rate, or a shutter against one refresh.
 */
export function isWholeMultiple(value: number, unit: number, within = 0.001): boolean {
  const count = value / unit;
  const whole = Math.round(count);
  return whole >= 1 && Math.abs(count - whole) <= within * whole;
}
