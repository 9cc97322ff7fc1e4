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

/**
 * The first counted finding of a rule that says more than before: of its shots where it is about shots, else as a whole. Of what the
 * picture takes in each message is another thing: an edge of the backdrop in place of one of the surface.
 */
export function firstNew(
  before: readonly Finding[],
  after: readonly Finding[],
  counted: (finding: Finding) => boolean,
): Finding | undefined {
  const left = new Map<string, number>();
  for (const one of before) for (const key of saidOf(one)) left.set(key, (left.get(key) ?? 0) + 1);
  return after.filter(counted).find((one) =>
    saidOf(one).some((key) => {
      const count = (left.get(key) ?? 0) - 1;
      left.set(key, count);
      return count < 0;
    }),
  );
}

function saidOf(one: Finding): string[] {
  const about = aboutWhat(one);
  return one.isOfPicture ? about.map((key) => `${key} ${one.says}`) : about;
}

/**
 * Is a finding gone, or less, after a change? Its words tell little: a fault that is still there may have other numbers.
 * So what its rule says of the same things counts: it must be said of fewer, or what is left be less far off.
 */
export function isMended(finding: Finding, before: readonly Finding[], after: readonly Finding[]): boolean {
  const others = ofRule(finding, before).filter((one) => one !== finding);
  const left = ofRule(finding, after).filter((one) => !takeSame(others, one));
  const follow = left.filter((one) => areAboutOne(one, finding));
  if (follow.length === 0) return true;
  // One of several that the rule says of the same is gone, and the rest have other numbers.
  const known = others.filter((one) => areAboutOne(one, finding));
  if (follow.length <= known.length) return true;
  return follow.every((one) => isLess(one, finding));
}

function ofRule({ rule }: Finding, all: readonly Finding[]): Finding[] {
  return all.filter((one) => one.rule === rule);
}

/** Takes one out that says the same, where there is one. */
function takeSame(all: Finding[], { message, start }: Finding): boolean {
  const alike = all.filter((one) => one.message === message);
  const nearest = alike.sort((a, b) => Math.abs(a.start - start) - Math.abs(b.start - start))[0];
  if (nearest) all.splice(all.indexOf(nearest), 1);
  return nearest !== undefined;
}

function areAboutOne(a: Finding, b: Finding): boolean {
  const about = new Set(aboutWhat(a));
  return aboutWhat(b).some((key) => about.has(key));
}

/** Not more serious, and either less far off, or as far and said of fewer shots. */
function isLess(one: Finding, than: Finding): boolean {
  if (!atLeast(than.severity, one.severity)) return false;
  if (one.severity !== than.severity) return true;
  const [now, was] = [one.excess, than.excess];
  if (now !== undefined && was !== undefined && now * notTold < was) return true;
  const isNoMore = now === undefined || was === undefined || now <= was * notTold + 1e-9;
  return isNoMore && (one.shots?.length ?? 0) < (than.shots?.length ?? 0);
}
