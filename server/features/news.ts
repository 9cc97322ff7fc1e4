/** What a changed text says that the old one did not. */
import { aboutWhat, type Finding } from '../core/finding.ts';

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
