/** A filter left off, and what then keeps the exposure. */
import { exposureError } from '../../core/derived/light.ts';
import type { Film, Filter, Shot } from '../../core/film.ts';
import { type FixIdea, set } from '../../core/rule.ts';
import { brighterText, quoted } from '../../core/say.ts';
import { isoThatPays, near, neutralFilter } from './exposure-fixes.ts';

interface Without {
  readonly ideas: readonly FixIdea[];
  /** Its loss is wanted: nothing but a neutral filter in its place would do. */
  readonly isNeeded: boolean;
}

/** Left off alone where that is right or no farther off than now, else with the ISO, else with a neutral filter in its place. */
export function withoutFilter(shot: Shot, film: Film, filter: Filter): Without {
  const { camera } = shot;
  const name = quoted(filter.name);
  const rest = camera.filterNames.map((one) => one.value).filter((one) => one !== filter.name);
  const off = [camera, 'filters', listed(rest)] as const;
  const plain = set(`Leave ${name} off (${brighterText(filter.loses)})`, off);
  const before = exposureError(shot, 0);
  // How bright it is is not known, or set by the camera itself.
  if (before === undefined) return { ideas: [plain], isNeeded: false };
  const after = before + filter.loses;
  if (Math.abs(after) <= Math.max(near, Math.abs(before))) return { ideas: [plain], isNeeded: false };
  const byIso = isoThatPays(shot, film, after);
  if (byIso) {
    const { iso, gain } = byIso;
    const title = `Leave ${name} off and set ISO to ${iso} (${brighterText(filter.loses + gain)})`;
    return { ideas: [set(title, off, [camera, 'iso', String(iso)])], isNeeded: false };
  }
  const neutral = neutralFilter(shot, film, after, near);
  if (!neutral) return { ideas: [], isNeeded: true };
  const title = `Put ${quoted(neutral.name)} in the place of ${name} (${brighterText(filter.loses - neutral.loses)})`;
  return { ideas: [set(title, [camera, 'filters', listed([...rest, neutral.name])])], isNeeded: true };
}

function listed(names: readonly string[]): string {
  return names.length === 0 ? 'none' : names.length === 1 ? names[0]! : `[${names.join(', ')}]`;
}
