/** What a changed text says that the old one did not. */
import { aboutWhat, type Finding, type Severity } from '../core/finding.ts';
import { atLeast } from '../core/settings.ts';

/**
 * The first counted finding that is worse than before on one of its shots, or as a whole: more serious, or farther off by
 * what its rule measures it with. What only says other numbers is not taken for worse.
 */
export function firstWorse(
  before: readonly Finding[],
  after: readonly Finding[],
  counted: (finding: Finding) => boolean,
): Finding | undefined {
  const worst = new Map<string, { severity: Severity; excess: number | undefined }>();
  for (const one of before) {
    const { severity, excess } = one;
    for (const key of aboutWhat(one)) {
      const known = worst.get(key);
      worst.set(key, {
        severity: known && atLeast(known.severity, severity) ? known.severity : severity,
        excess: excess === undefined ? known?.excess : Math.max(excess, known?.excess ?? 0),
      });
    }
  }
  return after.filter(counted).find((one) =>
    aboutWhat(one).some((key) => {
      const was = worst.get(key);
      if (!was) return false;
      const isFarther =
        one.excess !== undefined && was.excess !== undefined && one.excess > was.excess * notTold + 1e-9;
      return isFarther || !atLeast(was.severity, one.severity);
    }),
  );
}

/** So much more is no other number in a message. */
const notTold = 1.01;

/** The first counted finding of a rule that says more than before: of its shots where it is about shots, else as a whole. */
export function firstNew(
  before: readonly Finding[],
  after: readonly Finding[],
  counted: (finding: Finding) => boolean,
): Finding | undefined {
  const left = new Map<string, number>();
  for (const one of before) for (const key of aboutWhat(one)) left.set(key, (left.get(key) ?? 0) + 1);
  return after.filter(counted).find((one) =>
    aboutWhat(one).some((key) => {
      const count = (left.get(key) ?? 0) - 1;
      left.set(key, count);
      return count < 0;
    }),
  );
}
